"""What each task says: what to do, for whom, how much."""

from collections.abc import Iterable, Sequence
from datetime import date
from decimal import Decimal

from scheduler.farm import Sale
from scheduler.labels import Label
from scheduler.plan.model import Clear, Shopping, Task
from scheduler.season import Cohort, Dose, Season
from scheduler.words import Target, say_day, say_number, two_decimals

DRAFT = "Draft: label not confirmed; compare its file with the leaflet in hand before use."


def is_confirmed(label: Label, made_for: date) -> bool:
    """Whether the keeper has compared the label file with the leaflet by the day of the plan."""
    return label.checked is not None and label.checked <= made_for


def who(season: Season, cohort: Cohort, head: int | None = None) -> str:
    """Whom a task is for: Late lambs, 45 head (for Store sale)."""
    part = _part(season, cohort)
    return f"{cohort.group.name}, {cohort.head if head is None else head} head" + (f" ({part})" if part else "")


def _part(season: Season, cohort: Cohort) -> str:
    found = "found apart" if cohort.finding is not None else ""
    if cohort.sale is not None:
        return f"{found}, for {cohort.sale.name}".removeprefix(", ")
    return found or ("those that stay" if len(season.cohorts_of_group(cohort.group.name)) > 1 else "")


def targets_text(targets: Sequence[Target]) -> str:
    """Targets in words: blowfly strike and ticks."""
    names = [target.replace("-", " ") for target in targets]
    return " and ".join(filter(None, (", ".join(names[:-1]), *names[-1:])))


def dose_text(season: Season, dose: Dose, task: Task) -> str:
    """What to give, to whom and how much; or what was given."""
    label, ml, task_ml = dose.label, task.dose_ml, task.task_ml
    given = dose.origin == "record"
    what = f"{label.name} ({dose.use.id})"
    whom = who(season, dose.cohort, task.head)
    if ml is None or task_ml is None:
        amount = "the amount is not known from the label" if given else "as much as the vet wrote"
    else:
        amount = f"{say_number(ml)} ml a head, {say_number(task_ml)} ml in all"
    if given:
        part = "" if dose.whole else "; a part of them only, so it is not relied on"
        return f"Given on {say_day(dose.day)}: {whom}: {what}, {amount}{part}."
    course = "repeat dose, " if dose.first_day is not None else ""
    return _with_draft(season, [label], f"{whom}: {course}{what}, {amount}.{_heaviest(task)}")


def _heaviest(task: Task) -> str:
    if task.heaviest_kg is None:
        return ""
    return f" Heaviest about {say_number(two_decimals(task.heaviest_kg))} kg: weigh before dosing."


def lapsed_text(task: Task, declined: bool) -> str:
    """What a dose says that was planned and not given, or not recorded."""
    dose = f"Planned for {say_day(task.day)}: {task.group}, {task.head} head, {task.label} ({task.use})"
    if declined:
        return f"{dose}. Not done, as recorded."
    return (
        f"{dose}. Not recorded: write it in record.csv, given yes or no. Until then it counts as given for intervals "
        "and withdrawal, and gives no cover."
    )


def treated_text(season: Season, cohort: Cohort, targets: Sequence[Target]) -> str:
    """The look after a treatment."""
    sign = f" for {targets_text(targets)}" if targets else ""
    return f"Look over {who(season, cohort)}{sign} after the treatment. Still there or spreading: call the vet."


def look_text(groups: Iterable[str], head: int, targets: Sequence[Target]) -> str:
    """The regular look at a mob."""
    whom = f"{'; '.join(groups)}, {head} head,"
    return f"Look over {whom} for {targets_text(targets)}. Write what is found in findings.csv."


def clear_text(season: Season, dose: Dose, clear: Clear) -> str:
    """From when the sheep may go."""
    later = [f"for export from {say_day(clear.export)}" if clear.export is not None else "",
             f"milk from {say_day(clear.milk)}" if clear.milk is not None else ""]  # fmt: skip
    rest = "".join(f", {words}" for words in later if words)
    text = f"{who(season, dose.cohort)}: meat withdrawal of {dose.label.name} is over from this day on{rest}."
    return _with_draft(season, [dose.label], text)


def prepare_text(season: Season, day: date, doses: Sequence[Dose]) -> str:
    """What to make ready for a day's work."""
    labels = list({dose.label.id: dose.label for dose in doses}.values())
    whom = "; ".join(dict.fromkeys(who(season, dose.cohort) for dose in doses))
    names = "; ".join(label.name for label in labels)
    text = (
        f"For {say_day(day)}: {whom}. Make ready {names}: read the leaflet, set and try the applicator with the "
        "largest dose, lay out gloves and clothing as the label asks, weigh crate, marker and record book."
    )
    return _with_draft(season, labels, text)


def order_text(season: Season, line: Shopping) -> str:
    """What to order, and by when."""
    label = season.farm.labels[line.label]
    packs = ", ".join(f"{pack.count} x {say_number(pack.ml)} ml" for pack in line.packs)
    needed = f"{say_number(line.ml)} ml are planned, {say_number(line.in_stock_ml)} ml in stock count"
    late = "" if line.order_by is None else f" by {say_day(line.order_by)}"
    script = " It needs a prescription: ask the vet." if label.prescription else ""
    return _with_draft(season, [label], f"Order {label.name}: {packs}{late}; {needed}.{script}")


def sale_text(sale: Sale) -> str:
    """Which sheep leave, and what for."""
    return f"{sale.name}: {sale.head} head of {sale.group} leave ({sale.purpose}). Take the medicine record along."


def opens_text(target: Target, level: Decimal, groups: Sequence[str]) -> str:
    """What to watch for from now on."""
    where = "; ".join(groups)
    at_risk = f"First day at risk of {targets_text((target,))}, level {say_number(level)}"
    return f"{at_risk}: {where}. Look daily from now on."


def _with_draft(season: Season, labels: Sequence[Label], text: str) -> str:
    confirmed = all(is_confirmed(label, season.made_for) for label in labels)
    return text if confirmed else f"{text} {DRAFT}"
