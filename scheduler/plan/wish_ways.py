"""Ways out by wishes.csv: a wish on another day, by another use or taken out; a wish in the place of a planned dose."""

from collections.abc import Iterator, Sequence
from datetime import date
from itertools import islice

from msgspec import Struct
from msgspec.structs import replace

from scheduler.farm import Wish
from scheduler.labels import Label, Use
from scheduler.plan.cleared import Cleared
from scheduler.plan.model import Choice, ChoiceKind
from scheduler.plan.options import Options
from scheduler.plan.replans import STOPS, Replanned, Replans
from scheduler.rules import RULES, Breach, rule_breaches
from scheduler.season import Dose, Doses, Season
from scheduler.verify import dose_money
from scheduler.words import Where, plus, say_day, say_days

FARTHEST = 28
"""Days to either side of a dose on which another day is looked for: our own measure, no source."""
TRIES = 2
"""Farms planned to find each way."""


class WishWays(Struct, frozen=True):
    """The ways out by wishes of one plan."""

    replans: Replans
    cleared: Cleared

    def of_wish(self, breach: Breach) -> Iterator[Choice]:
        """The nearest day for the wish that clears the breach, and the cheapest other use on its day, with prices."""
        wish = None if breach.dose is None else self._wish_at(breach.dose.where)
        if breach.dose is None or wish is None or breach.dose.first_day is not None:
            return
        if not _has_repeat(self.replans.season, wish):
            yield from self._another_day(breach, breach.dose, wish)
            yield from self._another_use(breach, breach.dose, wish)

    def without(self, breach: Breach, where: Where) -> Iterator[Choice]:
        """The wish of a row taken out, where that clears the breach."""
        wish = self._wish_at(where)
        if wish is None or wish.repeat_of is not None or _has_repeat(self.replans.season, wish):
            return
        text = f"take the wish of {say_day(wish.day)} out of wishes.csv and leave the day to the plan"
        rows = [row for row in self.replans.season.farm.wishes if row is not wish]
        yield from self._priced(breach, self.replans.with_wishes(rows), "move-dose", text)

    def of_planned(self, breach: Breach, kinds: Sequence[ChoiceKind]) -> Iterator[Choice]:
        """The same for a first dose that the plan chose: another day or use is wished in its place."""
        dose = breach.dose
        if dose is None or dose.origin != "plan" or dose.first_day is not None:
            return
        wish = self._wish_for(dose)
        if "move-dose" in kinds:
            yield from self._another_day(breach, dose, wish)
        if "other-use" in kinds:
            yield from self._another_use(breach, dose, wish)

    def of_label(self, breach: Breach) -> Iterator[Choice]:
        """Another use in the place of every first dose that the plan gives of a label on its first such day."""
        doses = [
            dose
            for dose in self.replans.settled.doses
            if dose.origin == "plan" and dose.first_day is None and dose.label.where == breach.where
        ]
        together = [dose for dose in doses if dose.day == doses[0].day and dose.use == doses[0].use]
        for label, use in islice(self._other_uses(breach, together), TRIES):
            wishes = [replace(self._wish_for(dose), label=label.id, use=use.id) for dose in together]
            rows = (*self.replans.season.farm.wishes, *_numbered(wishes))
            place = _IN_PLACE if len(together) == 1 else _ALL_IN_PLACE
            text = f"use {label.name}, {use.id}, on {say_day(doses[0].day)} instead{place}"
            found = list(self._priced(breach, self.replans.with_wishes(rows), "other-use", text))
            if found:
                yield from found
                return

    def of_mob(self, breach: Breach) -> Iterator[Choice]:
        """Another day for all that the mobs named get on the day of the breach, as their doses of that day are one job.

        None where a repeat is among them, or some are wished and others planned.
        """
        season, day = self.replans.season, breach.day
        if day is None or breach.group is None:
            return
        mobs = {season.presence.mob_of(name, day) for name in breach.group.split("; ")}
        together = [
            dose
            for dose in self.replans.settled.doses
            if dose.day == day and season.presence.mob_of(dose.cohort.group.name, day) in mobs
        ]
        if not together or any(dose.first_day is not None for dose in together):
            return
        wish = self._wish_at(together[0].where)
        if all(dose.origin == "plan" for dose in together):
            yield from self._another_day_of_all(breach, together)
        elif wish is not None and all(dose.where == wish.where for dose in together) and not _has_repeat(season, wish):
            yield from self._another_day(breach, together[0], wish)

    def _another_day_of_all(self, breach: Breach, together: Sequence[Dose]) -> Iterator[Choice]:
        old, names = together[0].day, "; ".join(dict.fromkeys(dose.cohort.group.name for dose in together))
        for day in islice(self._days_of_all(breach, together), TRIES):
            wishes = [replace(self._wish_for(dose), day=day) for dose in together]
            rows = (*self.replans.season.farm.wishes, *_numbered(wishes))
            text = f"give what {names} get on {say_day(old)} on {say_day(day)}, {_how_far(old, day)}{_ALL_IN_PLACE}"
            found = list(self._priced(breach, self.replans.with_wishes(rows), "move-dose", text))
            if found:
                yield from found
                return

    def _days_of_all(self, breach: Breach, together: Sequence[Dose]) -> Iterator[date]:
        """The nearest days first, on which each may stand, the breach would be gone, and none would be too early."""
        season, doses = self.replans.season, self.replans.settled.doses
        rules = [rule for rule in RULES if rule.slug in (breach.rule, "too-early")]
        said = sum(1 for rule in rules for _ in rule_breaches(season, doses, rule))
        rest = [dose for dose in doses if dose not in together]
        for day in _near(together[0].day):
            moved = [replace(dose, day=day) for dose in together]
            left = sum(1 for rule in rules for _ in rule_breaches(season, Doses([*rest, *moved]), rule))
            if left < said and all(self._may_stand(breach, dose) for dose in moved):
                yield day

    def _wish_at(self, where: Where | None) -> Wish | None:
        return next((row for row in self.replans.season.farm.wishes if row.where == where), None)

    def _wish_for(self, dose: Dose) -> Wish:
        """The row that would wish a planned dose, after those that are there."""
        last = max(
            (row.where for row in self.replans.season.farm.wishes),
            key=lambda where: where.row or 0,
            default=Where("wishes.csv", 1),
        )
        return Wish(day=dose.day, group=dose.cohort.group.name, label=dose.label.id, use=dose.use.id,
                    cohort=dose.cohort.id, where=replace(last, row=(last.row or 1) + 1))  # fmt: skip

    def _another_day(self, breach: Breach, dose: Dose, wish: Wish) -> Iterator[Choice]:
        lawful = (day for day in _near(dose.day) if self._may_stand(breach, replace(dose, day=day)))
        for day in islice(lawful, TRIES):
            text = f"give it on {say_day(day)}, {_how_far(dose.day, day)}{_place(dose)}"
            found = list(self._with(breach, dose, wish, replace(wish, day=day), "move-dose", text))
            if found:
                yield from found
                return

    def _another_use(self, breach: Breach, dose: Dose, wish: Wish) -> Iterator[Choice]:
        found: list[Choice] = []
        for label, use in islice(self._other_uses(breach, [dose]), TRIES if dose.origin == "wish" else 1):
            text = f"use {label.name}, {use.id}, on {say_day(dose.day)} instead{_place(dose)}"
            changed = replace(wish, label=label.id, use=use.id)
            found += self._with(breach, dose, wish, changed, "other-use", text)
        yield from sorted(found, key=lambda one: (one.exposed_sheep_days, one.money_minor, one.handlings, one.text))[:1]

    def _other_uses(self, breach: Breach, doses: Sequence[Dose]) -> Iterator[tuple[Label, Use]]:
        """Other uses for a target of the doses that all of them might be, the cheapest first."""
        season = self.replans.season
        found = []
        for place, (label, use) in enumerate(season.uses()):
            others = [replace(dose, label=label, use=use) for dose in doses]
            same = any((label.id, use.id) == (dose.label.id, dose.use.id) for dose in doses)
            targets = any(set(use.targets) & set(dose.use.targets) & set(season.targets) for dose in doses)
            if not same and targets and all(self._may_stand(breach, other) for other in others):
                found.append((sum(dose_money(season, other) for other in others), place, label, use))
        return ((label, use) for _, _, label, use in sorted(found, key=lambda one: one[:2]))

    def _may_stand(self, breach: Breach, dose: Dose) -> bool:
        """Whether a first dose is lawful beside what was done, and by itself not what the breach says: no planning."""
        season = self.replans.season
        done = [other for other in self.replans.settled.doses.of(dose.cohort) if not other.is_ours]
        courses = list(Options(season, dose.cohort, done).courses_on(dose.label, dose.use, dose.day))
        rules = [rule for rule in RULES if rule.slug == breach.rule and rule.severity != "stop" and not rule.instead]
        return any(
            not any(True for rule in rules for _ in rule_breaches(season, Doses(course.doses), rule))
            for course in courses
        )

    def _with(
        self, breach: Breach, dose: Dose, wish: Wish, changed: Wish, what: ChoiceKind, text: str
    ) -> Iterator[Choice]:
        """The way with its price, where the changed wish is then a dose of the plan."""
        known = self.replans.season.farm.wishes
        is_new = all(row is not wish for row in known)
        rows = [changed if row is wish else row for row in known]
        again = self.replans.with_wishes([*rows, changed] if is_new else rows)
        if again is None:
            return
        taken = any(other.where == wish.where and other.cohort.id == dose.cohort.id for other in again.settled.doses)
        if taken:
            yield from self._priced(breach, again, what, text)

    def _priced(self, breach: Breach, again: Replanned | None, what: ChoiceKind, text: str) -> Iterator[Choice]:
        choice = None if again is None else self.replans.choice(again, what, text)
        refused = breach.dose is not None and breach.dose.origin == "wish" and breach.rule in STOPS
        if again is not None and choice is not None and (refused or self.cleared(again, breach)):
            yield choice


_IN_PLACE, _ALL_IN_PLACE = ", as a row of wishes.csv", ", as rows of wishes.csv, one for each cohort dosed then"


def _near(day: date) -> Iterator[date]:
    """The days about a day, the nearest first."""
    return (plus(day, way * days) for days in range(1, FARTHEST + 1) for way in (-1, 1))


def _how_far(old: date, new: date) -> str:
    moved = (new - old).days
    return f"{say_days(abs(moved))} {'later' if moved > 0 else 'sooner'}"


def _place(dose: Dose) -> str:
    return _IN_PLACE if dose.origin == "plan" else ""


def _numbered(wishes: Sequence[Wish]) -> Iterator[Wish]:
    """New rows, one under the other."""
    for place, wish in enumerate(wishes):
        yield replace(wish, where=replace(wish.where, row=(wish.where.row or 0) + place))


def _has_repeat(season: Season, wish: Wish) -> bool:
    """Whether another row wishes the repeat of it: to move one alone would part them."""
    return any(
        (row.group, row.label, row.use, row.repeat_of) == (wish.group, wish.label, wish.use, wish.day)
        for row in season.farm.wishes
    )
