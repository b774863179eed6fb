"""Why a task stands where it does, in words."""

import re
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from fractions import Fraction
from itertools import groupby, pairwise

from msgspec import Struct

from scheduler.plan import Bound, Change, Later, OtherUse, Task, Why
from scheduler.report.sentences import MONTHS, count_text, money_text, price_words, weekday_text
from scheduler.report.view import SeasonReport
from scheduler.words import say_day

TOLD_ON_SHEETS = ("dose-band",)
"""Rules that the job sheet of a planned dose tells of: its weight, and the cautions why it is the heaviest's."""

SHOWN = 2
"""Most steps of cost that room to move is told in."""


def slip_words(report: SeasonReport, why: Why, day: date) -> str:
    """How far the dose of that day may slip, as `to Thu 3 Jun 2027 free; from Fri 4 Jun 2027 60 sheep-days a day`."""
    slip = why.slip
    if slip is None:
        return ""
    free = [f"to {weekday_text(slip.free_to)} free"] if slip.free_to != day else []
    steps = [_step(report, own) for own in _steps(slip.then)][:SHOWN]
    if not free and not steps:
        return "none: no later day is lawful"
    return "; ".join([*free, *steps] if steps else [*free, "no later"])


def _steps(then: Sequence[Later]) -> Iterator[list[Later]]:
    """Later days by what they cost: money alone, then sheep-days besides."""
    for _, own in groupby(then, key=lambda later: (later.exposed_sheep_days > 0, later.money_minor)):
        yield list(own)


def _step(report: SeasonReport, own: Sequence[Later]) -> str:
    first = own[0]
    cost = [_days_words(own)] if first.exposed_sheep_days else []
    if first.money_minor:
        amount = money_text(abs(first.money_minor), report.plan.score.currency, report.exponent)
        cost.append(f"{amount} {'more' if first.money_minor > 0 else 'less'}")
    return f"from {weekday_text(first.day)} {' and '.join(cost) or 'free again'}"


def _days_words(own: Sequence[Later]) -> str:
    """Sheep-days of the first day, and by how much each day adds where it is always the same."""
    first = own[0].exposed_sheep_days
    told = count_text(first, "sheep-day", "sheep-days")
    rates = {Fraction(b.exposed_sheep_days - a.exposed_sheep_days, (b.day - a.day).days) for a, b in pairwise(own)}
    if len(rates) != 1:
        return f"{told}, then it varies" if rates else told
    rate = rates.pop()
    if rate == first:
        return f"{told} a day"
    return told if rate <= 0 or rate.denominator != 1 else f"{told}, then {rate.numerator:,} a day"


def bound_words(bound: Bound | None) -> str:
    """A bound as `Thu 3 Jun 2027. On 4 Jun 2027 it would leave ...`."""
    return "" if bound is None else f"{weekday_text(bound.day)}. {bound.text}"


def change_words(report: SeasonReport, change: Change, handlings: bool = False) -> str:
    """What another plan changes: sheep-days and money, and handlings where asked for."""
    told = price_words(change, report.plan.score.currency, report.exponent)
    return ", ".join(told if handlings else told[:2])


def next_best_words(report: SeasonReport, why: Why, handlings: bool = False) -> str:
    """The next best day and what it costs."""
    best = why.next_best
    if best is None:
        return ""
    change = change_words(report, best.change, handlings)
    if best.day is None:
        return f"No other day is worth a dose: without it {change}"
    return f"{weekday_text(best.day)}: {change}"


def other_words(report: SeasonReport, other: OtherUse) -> str:
    """Why another use is not given: the rule that forbids it, or what it changes."""
    name = f"{other.name} ({other.use}{'' if other.confirmed else ', label not confirmed'})"
    if other.rule is not None:
        return f"{name}: {other.text}"
    change = Change(other.exposed_sheep_days, other.money_minor, 0)
    if other.exposed_sheep_days == 0 and other.money_minor == 0:
        return f"{name}: as good; of plans that cost the same one is chosen by rule."
    return f"{name}: {change_words(report, change)}."


Lines = tuple[tuple[str, tuple[str, ...]], ...]
"""What is told, each with its name, or none."""


class Reasons(Struct, frozen=True):
    """Why the tasks of one block stand there. shared: what is true of all; own: what more is of each, by its uid."""

    shared: Lines
    own: dict[str, Lines]


def reasons_of(report: SeasonReport, tasks: Sequence[Task]) -> Reasons:
    """What is told under the tasks of a block: what is the same for all of several stands once."""
    year = _year_of(report)
    lines = {task.uid: [(name, year.sub(r"\1", text)) for name, text in _lines(report, task)] for task in tasks}
    first = next(iter(lines.values()), [])
    shared = [line for line in first if len(lines) > 1 and all(line in own for own in lines.values())]
    rest = {uid: _by_name(line for line in own if line not in shared) for uid, own in lines.items()}
    return Reasons(_by_name(shared), rest)


def _year_of(report: SeasonReport) -> re.Pattern[str]:
    """The year behind a day, where the whole season lies in one: the page's head names it."""
    start, end = report.plan.start, report.plan.end
    year = str(start.year) if start.year == end.year else "(?!)"
    return re.compile(rf"(\b\d{{1,2}} (?:{'|'.join(name[:3] for name in MONTHS)})) {year}\b")


def _by_name(lines: Iterable[tuple[str, str]]) -> Lines:
    """Lines of one name together; those without a name each for itself."""
    found: list[tuple[str, tuple[str, ...]]] = []
    for name, own in groupby(lines, key=lambda line: line[0]):
        texts = tuple(text for _, text in own)
        found += [(name, texts)] if name else [("", (text,)) for text in texts]
    return tuple(found)


def _lines(report: SeasonReport, task: Task) -> Iterator[tuple[str, str]]:
    why = report.why(task.uid)
    if why is None:
        return
    on_a_sheet = task.kind == "dose" and task.status == "planned"
    yield from (("", ground.text) for ground in why.because if not (on_a_sheet and ground.rule in TOLD_ON_SHEETS))
    that_day = f": On {say_day(task.day)}: "
    named = (
        ("Earliest", bound_words(why.earliest)),
        ("Latest", bound_words(why.latest)),
        ("Room to move, all else as planned:", slip_words(report, why, task.day)),
        ("Next best day:", next_best_words(report, why)),
        *(("Why not", other_words(report, other).replace(that_day, ": ")) for other in why.others or ()),
    )
    yield from ((name, text) for name, text in named if text)


def little_bought(report: SeasonReport) -> tuple[tuple[Task, Change], ...]:
    """Planned doses with what changes without them, those that buy the least first: sheep-days, then money saved."""
    bought = {why.uid: why.buys for why in report.plan.whys}
    found = [(task, change) for task in report.plan.tasks if (change := bought.get(task.uid)) is not None]
    return tuple(sorted(found, key=lambda one: (one[1].exposed_sheep_days, one[1].money_minor, one[0].day, one[0].uid)))


def not_reckoned(report: SeasonReport) -> int:
    """How many planned doses are not among them."""
    planned = sum(task.kind == "dose" and task.status == "planned" for task in report.plan.tasks)
    return planned - len(little_bought(report))
