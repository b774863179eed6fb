"""What holds a task that is no dose: its earliest and latest day, and reasons that the task itself does not tell."""

from collections.abc import Iterator

from msgspec import Struct

from scheduler.plan.clearing import clear_of
from scheduler.plan.model import Task
from scheduler.plan.placed import PlacedPlan
from scheduler.plan.reasons import binding_rule
from scheduler.plan.whys import Bound, Ground
from scheduler.season import Cohort, Season, is_for_meat
from scheduler.words import plus, say_day, say_days


class Held(Struct, frozen=True, kw_only=True):
    """The bounds of a task, None where none is meant, and further reasons."""

    earliest: Bound | None = None
    latest: Bound | None = None
    because: tuple[Ground, ...] = ()


def held_by(placed: PlacedPlan, task: Task) -> Held:
    """What holds a planned task that is no dose. Looks and the opening of a season have no bounds: risk sets them."""
    season = placed.question.season
    if task.kind == "sale":
        return _sale(placed, season, task)
    if task.kind == "clear":
        rule = task.because[0].rule if task.because else "meat-withdrawal"
        return Held(earliest=Bound(task.day, rule, "The whole withdrawal period lies before it."))
    if task.kind == "prepare":
        return _prepare(placed, task)
    return _order(season, task) if task.kind == "order" else Held()


def _prepare(placed: PlacedPlan, task: Task) -> Held:
    work = min(dose.day for dose in placed.settled.doses if dose.is_ours and dose.day >= task.day)
    text = f"The doses are on {say_day(work)}."
    latest = Bound(task.day, None, "The last open day before them.")
    return Held(latest=latest, because=(Ground(None, text),))


def _order(season: Season, task: Task) -> Held:
    lead = say_days(season.settings.order_lead_days)
    latest = Bound(task.day, "order-time", "Later it comes after the first dose that stock does not reach.")
    because = Ground("stock-short", f"Stock does not reach the planned doses, and an order takes {lead}.")
    return Held(latest=latest, because=(because,))


def _sale(placed: PlacedPlan, season: Season, task: Task) -> Held:
    sale = next(row for row in season.farm.sales if (row.group, row.day, row.head) == (task.group, task.day, task.head)
                and task.cohort in (None, f"{row.group}/{row.name}"))  # fmt: skip
    because = (Ground(None, f"Its day stands in {sale.where}.", sale.where),)
    if sale.fixed:
        latest = Bound(sale.day, None, f"Its day is fixed ({sale.where}).")
    else:
        days = say_days(sale.move_days)
        latest = Bound(plus(sale.day, sale.move_days), None, f"It may move by {days} ({sale.where}).")
    cohort = next((cohort for cohort in season.cohorts if cohort.id == task.cohort), None)
    clear = max(_clear_days(placed, season, cohort), key=lambda bound: bound.day, default=None) if cohort else None
    return Held(earliest=clear, latest=latest, because=because)


def _clear_days(placed: PlacedPlan, season: Season, cohort: Cohort) -> Iterator[Bound]:
    """The days from which the courses of a cohort that is sold for meat let it go."""
    if not is_for_meat(cohort):
        return
    for course in placed.settled.doses.courses:
        clear = clear_of(season, course)
        day = clear.export or clear.meat
        if course.last.cohort.id == cohort.id and day is not None:
            margin = season.settings.sale_margin_days
            text = f"Clear of {course.last.label.id} of {say_day(course.last.day)} on {say_day(day)}"
            text += f", and {say_days(margin)} of margin." if margin else "."
            yield Bound(plus(day, margin), binding_rule(season, course, clear), text)
