"""Why a task stands where it does, in words."""

from collections.abc import Iterator, Sequence
from datetime import date
from fractions import Fraction
from itertools import groupby, pairwise

from scheduler.plan import Bound, Change, Later, OtherUse, Task, Why
from scheduler.report.sentences import count_text, money_text, price_words, weekday_text
from scheduler.report.view import SeasonReport

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


def little_bought(report: SeasonReport) -> tuple[tuple[Task, Change], ...]:
    """Planned doses with what changes without them, those that buy the least first: sheep-days, then money saved."""
    bought = {why.uid: why.buys for why in report.plan.whys}
    found = [(task, change) for task in report.plan.tasks if (change := bought.get(task.uid)) is not None]
    return tuple(sorted(found, key=lambda one: (one[1].exposed_sheep_days, one[1].money_minor, one[0].day, one[0].uid)))


def not_reckoned(report: SeasonReport) -> int:
    """How many planned doses are not among them."""
    planned = sum(task.kind == "dose" and task.status == "planned" for task in report.plan.tasks)
    return planned - len(little_bought(report))
