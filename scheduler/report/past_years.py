"""A plan in past years, and what this year's weather moves, in words."""

from collections.abc import Iterator, Sequence

from scheduler.plan import Move, YearPlan
from scheduler.report.sentences import day_month, list_text, words_of
from scheduler.words import say_days

MADE_ON = {"plan": "this plan", "early": "early year", "middle": "middle year", "late": "late year"}
MOVED = "What this year's weather so far moves in the plan:"
NOT_RECKONED = "What this year's weather moves in the plan could not be reckoned in the time given."


def year_plan_words(plan: YearPlan) -> str:
    """The plan's name, as `early year, 2014`."""
    return MADE_ON[plan.made_on] + ("" if plan.year is None else f", {plan.year}")


def opens_words(plan: YearPlan) -> str:
    """When each target is first at risk by the weather that the plan was made on."""
    said = [f"{words_of(target)} {'not at all' if day is None else day_month(day)}" for target, day in plan.opens]
    return list_text(said)


def years_words(plans: Sequence[YearPlan]) -> Iterator[str]:
    """What the table means: whole sentences."""
    years = plans[0].years
    none = sum(not year.exposed_sheep_days for year in years)
    yield f"This plan leaves none exposed in {none} of {len(years)} years. Days that only fade count as exposed."
    yield (
        "Beside it stand plans made as if the weather of one year were known: of five years, one opens as early as the "
        "early year, one after the late."
    )
    if not all(plan.is_proved for plan in plans):
        yield "Not all of these are proved the least: more time may find better ones."


def moves_words(moves: Sequence[Move] | None) -> Iterator[str]:
    """What this year's weather moves: a sentence each; one where it cannot be said, none where nothing is moved."""
    if moves is None:
        yield NOT_RECKONED
    for move in moves or ():
        whom = f"season opens, {words_of(move.target)}" if move.target else f"{move.cohort}, {move.label} ({move.use})"
        if move.usual is None:
            assert move.now is not None
            yield f"{whom}: {day_month(move.now)}; not at all in a usual year."
        elif move.now is None:
            yield f"{whom}: not at all; {day_month(move.usual)} in a usual year."
        else:
            days = (move.usual - move.now).days
            count = f"{say_days(abs(days))} {'earlier' if days > 0 else 'later'}"
            yield f"{whom}: {day_month(move.now)}, {count} than in a usual year."
