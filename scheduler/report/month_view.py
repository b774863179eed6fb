"""The season as a wall calendar: each month with its days, and on each day in few words what is to be done."""

from collections.abc import Iterable, Iterator
from datetime import date, timedelta

from msgspec import Struct

from scheduler.plan import Task
from scheduler.report.jobs import KIND_ORDER
from scheduler.report.sentences import label_name, list_text, span_text, words_of
from scheduler.report.view import SeasonReport

MOST_NAMES = 3


class MonthDay(Struct, frozen=True, kw_only=True):
    """A day of the season with its entries, the weightiest first."""

    day: date
    entries: tuple[str, ...]
    is_closed: bool


class MonthPage(Struct, frozen=True, kw_only=True):
    """The days of one month that lie in the season."""

    first: date
    days: tuple[MonthDay, ...]

    @property
    def weeks(self) -> int:
        """How many weeks, from Monday on, its days lie in."""
        return (self.first.weekday() + len(self.days) + 6) // 7


def month_pages(report: SeasonReport) -> tuple[MonthPage, ...]:
    """All months of the season. Tasks that are called off are left out; events stand on their first day."""
    entries: dict[date, list[str]] = {}
    for day, text in (*_tasks(report), *_events(report)):
        entries.setdefault(day, []).append(text)
    closed = {day for span in report.closed for day in span.days()}
    days = (report.plan.start + timedelta(days=n) for n in range((report.plan.end - report.plan.start).days + 1))
    months: dict[tuple[int, int], list[MonthDay]] = {}
    for day in days:
        one = MonthDay(day=day, entries=tuple(entries.get(day, ())), is_closed=day in closed)
        months.setdefault((day.year, day.month), []).append(one)
    return tuple(MonthPage(first=own[0].day, days=tuple(own)) for own in months.values())


def _tasks(report: SeasonReport) -> Iterator[tuple[date, str]]:
    """What is done on a day, doses first; equal words once, with the groups that they are for."""
    found: dict[tuple[date, int, str], list[str]] = {}
    for task in report.plan.tasks:
        if task.status != "cancelled":
            what, whom = _words(report, task)
            place = -1 if task.kind == "dose" else KIND_ORDER.index(task.kind)
            found.setdefault((task.day, place, what), []).extend(whom)
    for (day, _, what), whom in sorted(found.items(), key=lambda item: item[0]):
        yield day, f"{what} {_whom(whom)}".strip()


def _words(report: SeasonReport, task: Task) -> tuple[str, list[str]]:
    """What is to be done, in few words, and for which groups."""
    groups = (task.group or "").split("; ") if task.group else []
    state = "" if task.status == "planned" else f" ({task.status})"
    if task.kind == "dose":
        return f"{'Repeat dose' if task.repeat_of else 'Dose'}{state}", groups
    if task.kind == "recheck":
        return "Look over", groups
    if task.kind == "clear":
        return "Clear:", groups
    if task.kind == "order":
        return "Order", [label_name(report, task.label)]
    if task.kind == "sale":
        return f"Sell{state}", groups
    if task.kind == "season-opens":
        return "Watch for", [words_of(target) for target in task.targets or ()]
    return "Prepare", []


def _events(report: SeasonReport) -> Iterable[tuple[date, str]]:
    for event in report.events:
        until = "" if event.first == event.last else f" ({span_text(event.first, event.last)})"
        what = words_of(event.what).capitalize()
        yield max(event.first, report.plan.start), f"{what}{until}: {_whom(event.groups)}"


def _whom(names: Iterable[str]) -> str:
    """The names, each once; where they would not fit a day, how many groups they are."""
    once = list(dict.fromkeys(names))
    return list_text(once) if len(once) <= MOST_NAMES else f"{len(once)} groups"
