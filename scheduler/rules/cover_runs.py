"""What cover-gap and cover-fading share: unbroken runs of days in one state."""

from collections.abc import Callable, Iterable

from scheduler.rules.contract import Breach
from scheduler.season import Doses, Season, State, all_runs, spans_in_state
from scheduler.words import say_day, say_days


def run_check(slug: str, state: State, words: str) -> Callable[[Season, Doses], Iterable[Breach]]:
    """The check of one such rule; `words` say in its sentence how the sheep stand."""

    def check(season: Season, doses: Doses) -> Iterable[Breach]:
        for run in spans_in_state(season, all_runs(season, doses), state):
            span, cohort = run.span, run.cohort
            days = f"{say_day(span.first)} to {say_day(span.last)}, {say_days(len(span))}"
            text = f"{run.target}: {cohort.head} head {words}, {days}: {len(span) * cohort.head:,} sheep-days"
            yield Breach(rule=slug, text=text, cohort=cohort.id, group=cohort.group.name, day=span.first,
                         where=cohort.group.where, run=run)  # fmt: skip

    return check
