"""Why days at risk stay open although a use exists for them: the fewest facts with which no lawful plan covers them.

A set of facts is enough where no plan that keeps them alone meets the demand. Every plan that does meet it breaks other
facts, and each set that is enough holds one of these: so the least set that hits all plans met so far is asked again,
until none meets the demand (implicit hitting sets: Moreno-Centeno and Karp, 2013, from memory).
"""

from collections.abc import Iterator, Sequence
from datetime import date
from itertools import combinations

from msgspec import Struct

from scheduler.plan.model import ClashFact
from scheduler.plan.options import reach, repeat_days
from scheduler.rules import RULES, Breach, rule_breaches
from scheduler.season import Cohort, Dose, Doses, Run, Season
from scheduler.words import Where, days_of

Fact = tuple[str, Where]
Facts = dict[Fact, str]
"""Facts with the words for each."""

STOPS = tuple(rule for rule in RULES if rule.severity == "stop" and rule.whole is None)
STOP_SLUGS = frozenset(rule.slug for rule in STOPS)
TOO_EARLY = next(rule for rule in RULES if rule.slug == "too-early")
OF_THE_GROUP = frozenset(("youngest-age", "away"))
"""Rules that rest on a row of groups.csv where they name no other."""

MOST_PLANS = 3_000
"""Plans looked at for one clash, and most facts of one: bounds on work, the same on every machine."""
MOST_FACTS = 4


class _Way(Struct, frozen=True):
    """A course that covers some of the days, as a mask, and the facts that it breaks beside what is given."""

    doses: tuple[Dose, ...]
    covers: int
    facts: Facts


class Clashes:
    """The clashes of one plan's gaps, each beside what was recorded and the wishes that were taken."""

    def __init__(self, season: Season, planned: Doses) -> None:
        self.season = season
        self.given = Doses([dose for dose in planned if dose.origin != "plan"])
        self._broken: dict[tuple[tuple[tuple[date, str, str, str, date], ...], frozenset[str]], Facts] = {}
        self._known: dict[str, frozenset[tuple[str, int]]] = {}
        self._left = MOST_PLANS

    def of(self, run: Run) -> tuple[ClashFact, ...]:
        """The least set of fewest facts; none where a lawful plan covers the days, though it leaves others open.

        None too where it is not found within a bound of work.
        """
        ways = list(self._ways(run))
        demand = 0
        for way in ways:
            demand |= way.covers
        met: list[frozenset[Fact]] = []
        texts: Facts = {}
        self._left = MOST_PLANS
        while demand:
            chosen = _fewest(met)
            if chosen is None:
                return ()
            plan = self._plan(ways, demand, frozenset(chosen), ())
            if self._left < 0:
                return ()
            if plan is None:
                return tuple(ClashFact(rule, texts[(rule, where)], where) for rule, where in chosen)
            broken = self._facts([dose for way in plan for dose in way.doses])
            if not broken:
                return ()
            texts |= {fact: text for fact, text in broken.items() if fact not in texts}
            met.append(frozenset(broken))
        return ()

    def _ways(self, run: Run) -> Iterator[_Way]:
        """Every course that would cover a day of the run were no stop rule in force; those that break least first."""
        days = {day: 1 << place for place, day in enumerate(run.span.days())}
        found = []
        for doses in self._courses(run.cohort, run):
            covers = sum(bit for day, bit in days.items() if any(self._works_on(dose, run, day) for dose in doses))
            if covers:
                found.append(_Way(doses, covers, self._facts(doses)))
        yield from sorted(found, key=lambda way: (len(way.facts), -way.covers.bit_count(), way.doses[0].key))

    def _courses(self, cohort: Cohort, run: Run) -> Iterator[tuple[Dose, ...]]:
        season = self.season
        for label, use in season.uses():
            if run.target not in use.targets or use.purpose != "prevent":
                continue
            for day in days_of(max(season.first_day, run.span.first - reach(use)), run.span.last):
                first = Dose(day=day, cohort=cohort, label=label, use=use)
                if TOO_EARLY.dose is not None and TOO_EARLY.dose(season, first, ()) is not None:
                    continue
                duty = season.repeat_duty(cohort, use, day)
                repeats = [] if duty is None else [on for on in repeat_days(day, duty).days() if on in season.window]
                for on in repeats:
                    yield first, Dose(day=on, cohort=cohort, label=label, use=use, first_day=day)
                if not repeats:
                    yield (first,)

    def _works_on(self, dose: Dose, run: Run, day: date) -> bool:
        return day in self.season.cover(run.cohort, dose.use, dose.day).cover

    def _plan(
        self, ways: Sequence[_Way], open_days: int, kept: frozenset[Fact], taken: tuple[_Way, ...]
    ) -> tuple[_Way, ...] | None:
        """Ways that cover the open days and break none of the facts kept; None where there are none."""
        if not open_days:
            return taken
        first = open_days & -open_days
        for way in ways:
            if not way.covers & first or kept & way.facts.keys():
                continue
            self._left -= 1
            if self._left < 0:
                return None
            together = (*taken, way)
            if taken and self._breaks(kept, [dose for one in together for dose in one.doses]):
                continue
            plan = self._plan(ways, open_days & ~way.covers, kept, together)
            if plan is not None:
                return plan
        return None

    def _breaks(self, kept: frozenset[Fact], doses: Sequence[Dose]) -> bool:
        """Whether doses of one cohort break one of the facts."""
        return bool(kept & self._facts(doses, frozenset(slug for slug, _ in kept)).keys())

    def _facts(self, doses: Sequence[Dose], slugs: frozenset[str] = STOP_SLUGS) -> Facts:
        """The facts that doses of one cohort break by some rules beside what is given; what that breaks is none."""
        key = (tuple(sorted((*dose.key, dose.first_day or dose.day) for dose in doses)), slugs)
        if key not in self._broken:
            known, beside = self._known_of(doses[0].cohort), Doses((*self.given.of(doses[0].cohort), *doses))
            self._broken[key] = {
                (rule.slug, _where(breach)): breach.text
                for rule in STOPS
                if rule.slug in slugs
                for breach in rule_breaches(self.season, beside, rule)
                if (rule.slug, id(breach.dose)) not in known
            }
        return self._broken[key]

    def _known_of(self, cohort: Cohort) -> frozenset[tuple[str, int]]:
        """What is broken by what is given to a cohort alone."""
        if cohort.id not in self._known:
            given = Doses(self.given.of(cohort))
            stops = (breach for rule in STOPS for breach in rule_breaches(self.season, given, rule))
            self._known[cohort.id] = frozenset((breach.rule, id(breach.dose)) for breach in stops)
        return self._known[cohort.id]


def _where(breach: Breach) -> Where:
    """The row or file that a fact rests on: of a dose given, its own row."""
    dose = breach.dose
    if dose is None:
        raise ValueError(f"{breach.rule} judges no dose")
    if dose.where is not None:
        return dose.where
    return breach.where or (dose.cohort.group.where if breach.rule in OF_THE_GROUP else dose.label.where)


def _fewest(met: Sequence[frozenset[Fact]]) -> tuple[Fact, ...] | None:
    """The least set of facts that hits every set; of several the least sorted. None where it is too large."""
    facts = sorted({fact for one in met for fact in one}, key=lambda fact: (fact[0], fact[1].sort_key()))
    for size in range(MOST_FACTS + 1):
        for chosen in combinations(facts, size):
            if all(one & set(chosen) for one in met):
                return chosen
    return None
