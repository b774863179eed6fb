"""The invented medicine labels of a random farm."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.oracle.farms import Draft

ACTIVES = (
    ("cypermethrin", "synthetic pyrethroid"),
    ("deltamethrin", "synthetic pyrethroid"),
    ("dicyclanil", "insect growth regulator"),
    ("diazinon", "organophosphate"),
)
BANDS = (
    ["ml = 5"],
    ["above_kg = 0\nupto_kg = 10\nml = 3", "above_kg = 10\nml_per_kg = 0.5\nstep_ml = 5\nmost_ml = 30"],
    ["upto_kg = 25\nml = 4", "above_kg = 25\nupto_kg = 50\nml = 7.5", "above_kg = 50\nml = 10"],
    ["above_kg = 9\nml_per_kg = 0.15"],
)


def labels(draft: Draft) -> None:
    """Write one to four labels into labels/."""
    count = draft.dice.randint(1, 2) if draft.size == 1 else draft.dice.randint(2, 3)
    same = draft.dice.choice(ACTIVES)
    for number in range(count):
        active = same if "clash" in draft.matters and draft.chance(0.6) else draft.dice.choice(ACTIVES)
        draft.files[f"labels/demo-{'abc'[number]}.toml"] = _label(draft, number, active)
    if "findings" in draft.matters or draft.chance(0.1):
        draft.files["labels/demo-cure.toml"] = _cure(draft)


def _waits(draft: Draft) -> list[str]:
    dice = draft.dice
    lines = ["[withdrawal]", f"meat = {dice.choice([0, 3, 8, 14, 35])}", f"milk = {dice.choice([0, 2, 5])}"]
    lines.append(f"export = {dice.choice([10, 21])}")
    if "food" in draft.matters and draft.chance(0.4):
        lines[dice.randint(1, 3)] = dice.choice(
            ["", 'meat = "not-permitted"', 'milk = "not-permitted"', 'export = "not-permitted"']
        )
        keys = [line.split(" ")[0] for line in lines]
        lines = [line for number, line in enumerate(lines) if line and keys.index(keys[number]) == number]
    if "fleece" in draft.matters and draft.chance(0.6):
        lines.append(f"wool = {dice.choice([0, 7, 20])}")
    return lines


def _limits(draft: Draft, chemical: str) -> list[str]:
    dice = draft.dice
    short = [10, 14] if draft.size == 1 else [14, 21, 28, 42]
    lines = ["[limits]", "handling_days = 5"]
    if draft.size == 1 or draft.chance(0.7):
        lines.append(f"repeat_interval = {dice.choice(short)}")
    if draft.chance(0.6 if "clash" in draft.matters else 0.2):
        lines.append(f"most_per_season = {dice.choice([1, 2, 3])}")
    if "mobs" in draft.matters and draft.chance(0.5):
        lines.append(f"not_before_lambing_days = {dice.choice([3, 10])}")
    if "clash" in draft.matters and draft.chance(0.5):
        other = dice.choice(sorted({group for _, group in ACTIVES}))
        lines.append(f'not_with = [{{ chemical_group = "{other}", days = {dice.choice([1, 5, 14])} }}]')
    return lines


def _use(draft: Draft, name: str, targets: list[str], bands: list[str]) -> list[str]:
    dice = draft.dice
    least = dice.choice([4, 7] if draft.size == 1 else [10, 21, 28])
    lines = ["[[use]]", f'id = "{name}"', f"targets = {targets!r}".replace("'", '"'), 'purpose = "prevent"']
    lines.append(f"protects_days = [{least}, {least + dice.choice([0, 3, 9])}]")
    lines.append(f"works_after_days = {dice.choice([0, 0, 1, 2])}")
    if draft.chance(0.3):
        lines.append(f"youngest_days = {dice.choice([2, 7, 20])}")
    if draft.chance(0.15):
        lines.append('kinds = ["ewe", "lamb", "hogg"]')
    if draft.chance(0.5):
        lines.append(f"minutes_per_head = {dice.choice(['0.4', '0.6', '1'])}")
    if "fleece" in draft.matters and draft.chance(0.6):
        lines.append(f"fleece_weeks = {dice.choice([[0, 2], [1, 6], [2, 52]])}")
    if "fleece" in draft.matters and draft.chance(0.6):
        lines.append(f"ends_at = {dice.choice([['shearing'], ['shearing', 'dipping']])!r}".replace("'", '"'))
    for band in bands:
        lines += ["[[use.dose]]", *band.split("\n")]
    if "repeats" in draft.matters and draft.chance(0.6):
        upto = dice.choice(["upto_kg = 10\n", "upto_kg = 10\n", "upto_kg = 20\n", ""])
        lines += [
            "[[use.repeat]]",
            f"{upto}after_days = {dice.choice([5, 7] if draft.size == 1 else [7, 14])}",
            "ml = 6",
        ]
    return lines


def _label(draft: Draft, number: int, active: tuple[str, str]) -> str:
    dice = draft.dice
    lines = [
        f'name = "Demo {number} (invented)"',
        f'active = "{active[0]}"',
        f'chemical_group = "{active[1]}"',
        'form = "pour-on"',
    ]
    lines.append(f"checked = {draft.start.replace(day=1, month=2)}")
    if "food" in draft.matters and draft.chance(0.4):
        lines.append(
            f"countries = {dice.choice([['GB'], ['GB', 'GB-NIR'], ['IE', 'NZ'], ['GB-SCT', 'GB']])!r}".replace("'", '"')
        )
    lines += _waits(draft) + _limits(draft, active[1])
    lines += ["[[pack]]", f"ml = {dice.choice([500, 2500])}", f"price = {dice.choice(['31.75', '92.00', '64.5'])}"]
    if draft.chance(0.4):
        lines += ["[[pack]]", "ml = 5000", "price = 140.00"]
    for name in ["guard", "short"][: 1 if draft.size == 1 or draft.chance(0.6) else 2]:
        targets = sorted(dice.sample(draft.targets, dice.randint(1, len(draft.targets))))
        lines += _use(draft, name, targets, dice.choice(BANDS))
    return "\n".join([*lines, ""])


def _cure(draft: Draft) -> str:
    """A label of treat uses: one for strike and ticks by area or head, one for lice and scab with some protection."""
    dice = draft.dice
    lines = [
        'name = "Demo cure (invented)"',
        'active = "diazinon"',
        'chemical_group = "organophosphate"',
        'form = "spray-on"',
    ]
    lines += [f"checked = {draft.start.replace(day=1, month=2)}", *_waits(draft), *_limits(draft, "organophosphate")]
    lines += ["[[pack]]", "ml = 1000", "price = 55"]
    lines += ["[[use]]", 'id = "struck"', 'targets = ["blowfly-strike", "ticks", "head-fly"]', 'purpose = "treat"']
    lines += [
        f"works_after_days = {dice.choice([0, 1, 2])}",
        "[[use.dose]]",
        dice.choice(["ml_per_100cm2 = 4", "ml = 8"]),
    ]
    lines += [
        "[[use]]",
        'id = "clear"',
        'targets = ["lice", "scab"]',
        'purpose = "treat"',
        f"works_after_days = {dice.choice([0, 2])}",
    ]
    if draft.chance(0.5):
        lines.append("protects_days = [6, 9]")
    lines += ["[[use.dose]]", "ml_per_kg = 0.1", "step_ml = 0.5"]
    if draft.chance(0.4):
        lines += ["[[use.repeat]]", "after_days = 7", "ml = 4"]
    return "\n".join([*lines, ""])
