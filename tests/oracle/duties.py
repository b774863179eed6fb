"""What the plan must hold before it may choose: repeats owed by the record, and the wishes that can be taken."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from tests.oracle.flock import Cohort
from tests.oracle.folder import Given
from tests.oracle.judge import Breach, judge
from tests.oracle.rules import owed_days, sale_slug
from tests.oracle.world import Course, Dose, World

Choices = list[Course]  # exactly one of them is in the plan


@dataclass
class Duties:
    """Alternatives, one of each to be planned; wishes refused, by (row, cohort); duties late or never."""

    choices: list[Choices] = field(default_factory=list)
    refused: dict[tuple[int, str], list[Breach]] = field(default_factory=dict)
    late: list[Dose] = field(default_factory=list)

    def origin_of(self, dose: Dose) -> str:
        """Is a planned dose owed, wished or the plan's own?"""
        for choices in self.choices:
            for course in choices:
                if any(one.key == dose.key and one.repeat_of == dose.repeat_of for one in course.doses):
                    return course.origin
        return "own"


def _picks(world: World, choices: list[Choices], taken: tuple[Course, ...] = ()) -> Iterator[tuple[Course, ...]]:
    """Every way to choose one of each without breaking a stop."""
    if not choices:
        yield taken
        return
    for course in choices[0]:
        doses = [dose for one in (*taken, course) for dose in one.doses]
        if not judge(world, doses):
            yield from _picks(world, choices[1:], (*taken, course))


def possible(world: World, choices: list[Choices]) -> bool:
    """Is there a way to place them all?"""
    if not all(choices):
        return False
    if world.most_head:
        return next(_picks(world, choices), None) is not None
    cohorts = {one[0].cohort for one in choices}
    parts = [[one for one in choices if one[0].cohort == cohort] for cohort in cohorts]
    return all(next(_picks(world, part), None) is not None for part in parts)


def _owed(world: World, duties: Duties) -> None:
    firsts = [dose for doses in world.record.values() for dose in doses if dose.repeat_of is None]
    for first in sorted(firsts, key=lambda d: (d.day, d.row, d.cohort)):
        days = owed_days(world, world.cohorts[first.cohort], first.label, first.use, first.day)
        if (
            days is None
            or (first.cohort, first.label, first.use, first.day) in world.answered
            or days[-1] < world.start
        ):
            continue
        whole = Course(first.cohort, first.label, first.use, first.day, None, "owed", first.row)
        fits = [replace(whole, repeat=day) for day in days if day in world.window()]
        fits = [one for one in fits if possible(world, [*duties.choices, [one]])]
        if not fits:
            duties.late.append(first)
            after = [day for day in world.window() if day > days[-1]]
            fits = [
                replace(whole, repeat=day)
                for day in after
                if possible(world, [*duties.choices, [replace(whole, repeat=day)]])
            ][:1]
        if fits:
            duties.choices.append(fits)


def _wished(world: World, cohort: Cohort, wish: Given) -> Choices:
    """The ways to hold a wished first dose."""
    days = owed_days(world, cohort, wish.label, wish.use, wish.day)
    whole = Course(cohort.id, wish.label, wish.use, wish.day, None, "wish", wish.row)
    if days is None:
        return [whole]
    return [replace(whole, repeat=day) for day in days if day in world.window()]


def _pin(choices: list[Choices], cohort: str, wish: Given) -> list[Choices] | None:
    """The choices with a wished repeat fixed on its day, None where it is no repeat of any of them."""
    for number, one in enumerate(choices):
        head = one[0]
        if (head.cohort, head.label, head.use, head.first) == (cohort, wish.label, wish.use, wish.repeat_of):
            fixed = [course for course in one if course.repeat == wish.day]
            return [*choices[:number], fixed, *choices[number + 1 :]] if fixed else None
    return None


def _why(world: World, duties: Duties, cohort: Cohort, wish: Given) -> list[Breach]:
    """What the wished dose breaks beside what is sure already; the want of its repeat only where nothing else."""
    taken = [dose for one in duties.choices if len(one) == 1 for dose in one[0].doses]
    dose = Dose(wish.day, cohort.id, wish.label, wish.use, wish.repeat_of, "wish", row=wish.row)
    found = [one for one in judge(world, [*taken, dose]) if one.dose.row == wish.row]
    if wish.repeat_of is not None:
        alone = sale_slug(world, Course(cohort.id, wish.label, wish.use, wish.day, None, "wish"), wish.day)
        return found if alone is None else [*found, Breach(alone, dose)]
    return [one for one in found if one.slug not in ("lamb-repeat", "repeat-before-sale")] or found


def _wishes(world: World, duties: Duties) -> None:
    for wish in sorted(world.farm.wishes, key=lambda one: (one.day, one.row)):
        for cohort in sorted(world.counts_for(wish), key=lambda one: one.id):
            if wish.repeat_of is None:
                after: list[Choices] | None = [*duties.choices, _wished(world, cohort, wish)]
            else:
                after = _pin(duties.choices, cohort.id, wish)
            if after is not None and possible(world, after):
                duties.choices = after
            else:
                duties.refused[wish.row, cohort.id] = _why(world, duties, cohort, wish)


def duties_of(world: World) -> Duties:
    """Owed repeats first, then wishes in order of date, row and cohort."""
    duties = Duties()
    _owed(world, duties)
    _wishes(world, duties)
    return duties
