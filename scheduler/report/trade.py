"""What more money buys and less leaves open: the frontier as rows, words and the numbers of its picture."""

from collections.abc import Iterator, Sequence
from datetime import date

from scheduler.plan import FrontierPlans, Plan
from scheduler.report.sentences import count_text, list_text, span_text, words_of
from scheduler.report.trade_view import Dot, Trade, TradeRow
from scheduler.words import spans_of

WIDE, HIGH, LEFT, FOOT, TOP, RIGHT = 640, 300, 84, 44, 14, 16
"""Pixels of the picture and of the room left for its axes."""
OPENED_SHOWN = 3


def trade_of(found: FrontierPlans, shown: Plan) -> Trade:
    """The frontier as it is told; `shown` is the plan of the page."""
    rows = tuple(_rows(found.plans, shown))
    most_exposed = max((row.exposed_sheep_days for row in rows), default=0)
    most_money = max((row.money_minor for row in rows), default=0)
    dots = tuple(
        Dot(
            LEFT + _part(row.money_minor, most_money, WIDE - LEFT - RIGHT),
            HIGH - FOOT - _part(row.exposed_sheep_days, most_exposed, HIGH - FOOT - TOP),
            row.here,
        )
        for row in rows
    )
    return Trade(rows, _words(found), dots, _steps(dots), most_exposed, most_money)


def _rows(plans: Sequence[Plan], shown: Plan) -> Iterator[TradeRow]:
    before: Plan | None = None
    for plan in plans:
        score = plan.score
        yield TradeRow(
            score.exposed_sheep_days,
            score.money_minor,
            score.handlings,
            score.gathers,
            None if before is None else before.score.money_minor - score.money_minor,
            "" if before is None else _opened(before, plan),
            score == shown.score,
        )
        before = plan


def _opened(before: Plan, plan: Plan) -> str:
    """The days open in a plan that are not open in the one before it, the most sheep-days first."""
    was, now = _exposed(before), _exposed(plan)
    head = {cohort.id: cohort.head for cohort in plan.cohorts}
    new = {who: sorted(days - was.get(who, set())) for who, days in now.items()}
    order = sorted((who for who in new if new[who]), key=lambda who: (-len(new[who]) * head[who[0]], who))
    told = [_told(who, new[who]) for who in order[:OPENED_SHOWN]]
    if len(order) > OPENED_SHOWN:
        told.append(f"and {count_text(len(order) - OPENED_SHOWN, 'other', 'others')}")
    return "; ".join(told)


def _told(who: tuple[str, str], days: list[date]) -> str:
    spans = spans_of(set(days))
    return f"{who[0]}, {words_of(who[1])}: {list_text([span_text(span.first, span.last) for span in spans])}"


def _exposed(plan: Plan) -> dict[tuple[str, str], set[date]]:
    """Days open by cohort and target, from the day the plan was made."""
    found: dict[tuple[str, str], set[date]] = {}
    for run in plan.days:
        if run.state in ("exposed", "fading"):
            days = found.setdefault((run.cohort, run.target), set())
            days.update(date.fromordinal(n) for n in range(run.first.toordinal(), run.last.toordinal() + 1))
    return {who: {day for day in days if day >= plan.made_for} for who, days in found.items()}


def _words(found: FrontierPlans) -> str:
    """What is proved, and where the proved part ends."""
    if not found.plans:
        return "Time ran out before any pair was proved: give more with --seconds."
    each = "Proved of each: no lawful plan has fewer exposed sheep-days without costing more."
    if found.complete:
        return f"{each} These are all such plans."
    if not found.unsearched:
        return f"{each} There are more than these: both ends are shown, then the corners, then the widest gaps."
    first, last = found.unsearched[0][0], found.unsearched[-1][1]
    return (
        f"{each} Time ran out before all were found: between {first:,} and {last:,} exposed sheep-days there may be "
        "more; give more time with --seconds."
    )


def _part(value: int, most: int, room: int) -> int:
    return 0 if most == 0 else round(value * room / most)


def _steps(dots: Sequence[Dot]) -> str:
    """From each plan to the next cheaper: for less money, the exposure of the next."""
    if not dots:
        return ""
    return f"M{dots[0].x} {dots[0].y}" + "".join(f"V{dot.y}H{dot.x}" for dot in dots[1:])
