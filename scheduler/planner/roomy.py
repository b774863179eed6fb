"""The answer while the day capacity is not looked at: stage 1 for each cohort, then component by component."""

from collections.abc import Callable, Iterable, Iterator, Mapping

from msgspec import Struct, field

from scheduler.planner.answer import Cost, Gap, Solved
from scheduler.planner.exposure import SEARCH_STATES, Exposure, least_exposure
from scheduler.planner.instance import instance_of
from scheduler.planner.layout import Layout, layout_of
from scheduler.planner.memory import Content, Memory, content_of, content_of_group, content_of_ties, taken_up
from scheduler.planner.narrower import Least
from scheduler.planner.problem import Cohort, Problem
from scheduler.planner.rows import components
from scheduler.planner.score import cost_of, exposure
from scheduler.planner.settling import Begun, Settled, again, begun, begun_near, settled

Barred = frozenset[tuple[int, int]]
"""(cohort, day): days on which a cohort may not be dosed."""

Key = tuple[int, tuple[int, ...]]
"""A cohort with the days barred to it."""

Group = tuple[Key, ...]
"""Cohorts tied by gathers."""


class Roomy(Struct):
    """Answers with some days barred to some cohorts; what a bar does not touch is solved once.

    held: by number, the courses of cohorts that are decided beforehand.
    """

    problem: Problem
    out_of_time: Callable[[], bool]
    progress: Callable[[Cost, Gap], None] | None = None
    ties: bool = True
    memory: Memory = field(default_factory=Memory)
    states: int = SEARCH_STATES
    held: Mapping[int, tuple[int, ...]] = field(default_factory=dict)
    contents: dict[Key, Content] = field(default_factory=dict)
    cohorts: dict[Key, tuple[Layout, Exposure] | None] = field(default_factory=dict)
    opened: dict[Group, Begun] = field(default_factory=dict)
    groups: dict[Group, Settled] = field(default_factory=dict)
    tied: list[list[int]] = field(default_factory=list)

    def answer(self, barred: Barred, most_exposure: int | None = None) -> Solved | None:
        """The least choice without the days barred; None where a duty cannot be met, or it exposes more than wanted."""
        keys = [self._key(number, barred) for number in range(len(self.problem.cohorts)) if number not in self.held]
        parts = []
        for key in keys:
            part = self._cohort(key)
            if part is None:
                return None
            parts.append(part)
        held = sum(exposure(self.problem.cohorts[number], picked) for number, picked in self.held.items())
        least = held + sum(layout.instance.lost + own.bound for layout, own in parts)
        if most_exposure is not None and least > most_exposure:
            return None
        by_number = {key[0]: key for key in keys}
        groups = [tuple(by_number[n] for n in numbers) for numbers in self._tied([layout for layout, _ in parts])]
        done = {group: self._begun(group).so_far for group in groups}
        for group in groups:
            if self.progress is not None and not barred:
                self.progress(*self._told(done, least))
            done[group] = self._settled(group)
        chosen = self._chosen(done)
        cost = cost_of(self.problem, chosen)
        if cost.exposure > held + sum(layout.instance.lost + own.least for layout, own in parts):
            raise ArithmeticError("a settled plan exposes more than its cohort's least: a mistake of the planner")
        gap = _gap(cost, least, done)
        return Solved(chosen, cost, gap if gap.exposure or gap.money else None)

    def _told(self, done: dict[Group, Settled], least: int) -> tuple[Cost, Gap]:
        """The cost so far and the gap that is left."""
        cost = cost_of(self.problem, self._chosen(done))
        return cost, _gap(cost, least, done)

    def _chosen(self, done: dict[Group, Settled]) -> tuple[tuple[int, ...], ...]:
        """The courses of each cohort, those held among them."""
        found = dict(self.held)
        for group, own in done.items():
            for key, plan in zip(group, own.plans, strict=True):
                found[key[0]] = self._part(key)[0].instance.picked(plan)
        return tuple(found[number] for number in range(len(found)))

    def _part(self, key: Key) -> tuple[Layout, Exposure]:
        """A cohort whose duties can be met."""
        part = self.cohorts[key]
        if part is None:
            raise KeyError(key)
        return part

    def least(self) -> Iterator[Least]:
        """What is proved least, after a first answer."""
        for group, own in self.groups.items():
            if own.gap or any(key[1] or not self._part(key)[1].proved for key in group):
                continue
            yield Least(
                cohorts={number: self.problem.cohorts[number] for number, _ in group},
                gathers=self.problem.gathers,
                chosen={key[0]: self._part(key)[0].instance.picked(plan)
                        for key, plan in zip(group, own.plans, strict=True)},
                tied=own.tied,
            )  # fmt: skip

    def layouts(self) -> list[Layout]:
        """The layouts of all cohorts with nothing barred, after a first answer."""
        return [part[0] for key, part in sorted(self.cohorts.items()) if part is not None and not key[1]]

    def _key(self, number: int, barred: Barred) -> Key:
        return (number, tuple(sorted(day for cohort, day in barred if cohort == number)))

    def _cohort(self, key: Key) -> tuple[Layout, Exposure] | None:
        if key not in self.cohorts:
            self.cohorts[key] = self._stage_one(key)
        return self.cohorts[key]

    def _stage_one(self, key: Key) -> tuple[Layout, Exposure] | None:
        number, days = key
        cohort = self.problem.cohorts[number]
        content = self.contents[key] = content_of(cohort, days)
        if content in self.memory.cohorts:
            known = self.memory.cohorts[content]
            return None if known is None else (taken_up(known[0], number, cohort), known[1])
        found = self._reckoned(number, cohort, days)
        if not self.out_of_time():
            self.memory.cohorts[content] = found
        return found

    def _reckoned(self, number: int, cohort: Cohort, days: tuple[int, ...]) -> tuple[Layout, Exposure] | None:
        struck = _mask(
            i for i, course in enumerate(cohort.courses) if days and any(dose.day in days for dose in course.doses)
        )
        instance = instance_of(number, cohort, struck)
        if instance is None:
            return None
        layout = layout_of(instance)
        costs = [course.cost for course in instance.courses]
        own = least_exposure(layout, costs, [1] * len(layout.items), self.out_of_time, self.states)
        return None if own is None else (layout, own)

    def _tied(self, layouts: list[Layout]) -> list[list[int]]:
        """Numbers of the cohorts of each component, smallest first; as they stand with nothing barred."""
        if not self.tied:
            groups = components(self.problem, [layout.instance for layout in layouts])
            groups.sort(key=lambda own: (sum(len(one.courses) for one in own), own[0].number))
            self.tied = [[member.number for member in members] for members in groups]
        return self.tied

    def _begun(self, group: Group) -> Begun:
        if group not in self.opened:
            parts = [self._part(key) for key in group]
            layouts, exposures = [layout for layout, _ in parts], [own for _, own in parts]
            self.opened[group] = self._opened(group, layouts, exposures)
        return self.opened[group]

    def _opened(self, group: Group, layouts: list[Layout], exposures: list[Exposure]) -> Begun:
        content = self._content(group)
        if content in self.memory.groups:
            return again(self.memory.groups[content], self.problem, layouts)
        near = None if self.ties else self.memory.near(layouts)
        if near is not None:
            found = begun_near(near, self.problem, layouts, exposures, self.out_of_time)
            if found is not None:
                return found
        found = begun(self.problem, layouts, exposures, self.out_of_time)
        if not self.out_of_time():
            self.memory.groups[content] = found
        return found

    def _settled(self, group: Group) -> Settled:
        if group not in self.groups:
            self.groups[group] = self._decided(group) if self.ties else self._proved(group, ties=False)
        return self.groups[group]

    def _decided(self, group: Group) -> Settled:
        """With ties decided, which is taken up only where these are the same too."""
        ties = content_of_ties([self.problem.cohorts[number] for number, _ in group])
        content = (self._content(group), ties)
        known = self.memory.decided.get(content)
        if known is None:
            known = self._proved(group, ties=True)
            if not self.out_of_time():
                self.memory.decided[content] = known
        return known

    def _proved(self, group: Group, ties: bool) -> Settled:
        return settled(self._begun(group), self.out_of_time, ties)

    def _content(self, group: Group) -> Content:
        layouts = [self._part(key)[0] for key in group]
        return content_of_group(self.problem, [self.contents[key] for key in group], layouts)


def _gap(cost: Cost, least: int, done: dict[Group, Settled]) -> Gap:
    exposure = max(0, cost.exposure - least)
    return Gap(exposure, None if exposure else sum(own.gap for own in done.values()))


def _mask(numbers: Iterable[int]) -> int:
    return sum(1 << number for number in numbers)
