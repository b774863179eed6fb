"""A label file with every key, and one with the fewest."""

from datetime import date
from decimal import Decimal

from scheduler.labels import Band, Label, NotWith, Pack, RepeatDuty, label_id, read_label
from scheduler.tables import Gathered
from scheduler.words import KINDS

FULL = """\
name = "Demo hill pour-on (invented)"
active = " Cypermethrin "
chemical_group = "synthetic pyrethroid"
form = "pour-on"
checked = 2027-02-14
edition = "2025-11"
countries = ["GB", "GB-NIR"]
prescription = true

[withdrawal]
meat = 8
milk = "not-permitted"
export = 21
wool = 60

[limits]
repeat_interval = 42
most_per_season = 3
handling_days = 14
opened_days = 365
not_before_lambing_days = 30
not_with = [{ chemical_group = "organophosphate", days = 14 }]

[[pack]]
ml = 2500
price = 92.00

[[use]]
id = "guard"
targets = ["blowfly-strike", "ticks"]
purpose = "prevent"
protects_days = [42, 56]
works_after_days = 1
youngest_days = 7
kinds = ["ewe", "lamb"]
minutes_per_head = 0.6
fleece_weeks = [0, 52]
dry_hours = { before = 0, after = 6 }
ends_at = ["shearing", "dipping"]
method = '''
Along the back,
down to the skin.'''

[[use.dose]]
above_kg = 10
ml_per_kg = 0.5
step_ml = 5
most_ml = 40

[[use.dose]]
upto_kg = 10
ml = 5

[[use.repeat]]
upto_kg = 10
after_days = 21
ml = 10
"""

SHORT = """\
name = "Demo drench (invented)"
active = "closantel"
chemical_group = "salicylanilide"
form = "drench"
pack = [{ ml = 1000, price = 0 }]
[[use]]
id = "drench"
targets = ["ticks"]
purpose = "treat"
dose = [{ ml = 5 }]
"""


def label(text: str) -> Label:
    """The label of a text that has no fault."""
    gathered = Gathered()
    read = read_label("labels/hill.toml", text.encode(), gathered)
    assert read is not None, [str(fault) for fault in gathered.faults().items]
    return read


def test_a_label_is_named_by_its_files_stem() -> None:
    assert label(FULL).id == "hill"
    assert label_id("labels/a.b.toml") == "a.b"


def test_every_key_of_a_label_is_read() -> None:
    read = label(FULL)
    assert (read.checked, read.countries, read.prescription) == (date(2027, 2, 14), ("GB", "GB-NIR"), True)
    assert (read.meat, read.milk, read.export, read.wool) == (8, "not-permitted", 21, 60)
    assert (read.repeat_interval, read.most_per_season, read.handling_days) == (42, 3, 14)
    assert (read.opened_days, read.not_before_lambing_days) == (365, 30)
    assert read.not_with == (NotWith(chemical_group="organophosphate", days=14),)
    assert read.packs == (Pack(ml=Decimal(2500), price=Decimal("92.00")),)
    assert read.active_key == "cypermethrin"


def test_every_key_of_a_use_is_read() -> None:
    use = label(FULL).uses[0]
    assert (use.targets, use.purpose, use.kinds) == (("blowfly-strike", "ticks"), "prevent", ("ewe", "lamb"))
    assert (use.protects_days, use.works_after_days, use.youngest_days) == ((42, 56), 1, 7)
    assert (use.fleece_weeks, use.dry_hours_before, use.dry_hours_after) == ((0, 52), Decimal(0), Decimal(6))
    assert (use.ends_at, use.minutes_per_head) == (("shearing", "dipping"), Decimal("0.6"))
    assert use.method == "Along the back,\ndown to the skin."
    assert use.repeats == (RepeatDuty(after_days=21, ml=Decimal(10), upto_kg=Decimal(10)),)


def test_bands_keep_the_order_of_the_file() -> None:
    first, second = label(FULL).uses[0].bands
    assert first == Band(above_kg=Decimal(10), ml_per_kg=Decimal("0.5"), step_ml=Decimal(5), most_ml=Decimal(40))
    assert second == Band(upto_kg=Decimal(10), ml=Decimal(5))


def test_what_a_label_leaves_out_is_unknown_or_without_limit() -> None:
    read = label(SHORT)
    assert (read.checked, read.countries, read.meat, read.milk, read.export, read.wool) == (None,) * 6
    assert (read.repeat_interval, read.most_per_season, read.opened_days, read.not_with) == (0, None, None, ())
    use = read.uses[0]
    assert (use.protects_days, use.works_after_days, use.youngest_days) == ((0, 0), 0, 0)
    assert (use.kinds, use.fleece_weeks, use.minutes_per_head) == (KINDS, None, None)


def test_bands_may_leave_a_gap() -> None:
    gap = FULL.replace("above_kg = 10", "above_kg = 12")
    assert [band.above_kg for band in label(gap).uses[0].bands] == [Decimal(12), None]
