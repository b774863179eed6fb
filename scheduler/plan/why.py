"""Why each task stands where it does: for all planned doses of a plan within a bound of work, or for one task."""

from collections.abc import Iterable, Mapping

from msgspec import Struct, field

from scheduler import planner
from scheduler.plan.bounds import bounds_of, other_uses
from scheduler.plan.held import held_by
from scheduler.plan.instead import Instead
from scheduler.plan.model import Task
from scheduler.plan.placed import Place, PlacedPlan
from scheduler.plan.room import Room
from scheduler.plan.settle import Clock
from scheduler.plan.whys import Change, Ground, Why
from scheduler.season import Dose

MOST_ASKS, MOST_EACH = 30_000, 6_000
"""Questions to the clock that planning again may ask for one page, and for one answer of it: bounds on work, the same
on every machine."""
UNBOUND = 1 << 62


class Budget(Struct, dict=True):
    """A clock that stops at bounds on work, and where the clock behind it does."""

    out_of_time: Clock
    left: int = MOST_ASKS
    each: int = MOST_EACH
    left_now: int = 0

    def __call__(self) -> bool:
        self.left -= 1
        self.left_now -= 1
        return self.left < 0 or self.left_now < 0 or self.out_of_time()

    def begin(self) -> bool:
        """Begins another answer; False where nothing is left to spend on it."""
        self.left_now = self.each
        return self.left > 0


class Explainer(Struct, dict=True):
    """Explains the tasks of one plan. is_least: no lawful plan is better, so that one planned again can be compared."""

    placed: PlacedPlan
    memory: planner.Memory
    is_least: bool = True
    bought: dict[tuple[int, int], Change | None] = field(default_factory=dict)

    def page(self, tasks: Iterable[Task], out_of_time: Clock, worth: bool) -> tuple[Why, ...]:
        """Of every planned task but the looks at whole mobs.

        worth: whether to plan again, within the work allowed, for what each dose buys, then for its next best day.
        """
        budget = Budget(out_of_time, MOST_ASKS if worth else 0)
        instead, doses = Instead(self.placed, self.memory, ties=False), self._planned()
        shown = [task for task in tasks if task.status == "planned" and (task.kind != "recheck" or task.cohort)]
        for task in shown:
            if task.kind == "dose":
                self._buy(self.placed.place(doses[_key(task)]), instead, budget)
        return tuple(
            self._dose(task, doses[_key(task)], instead, budget) if task.kind == "dose" else self._other(task)
            for task in shown
        )

    def one(self, task: Task, out_of_time: Clock) -> Why:
        """Of one task, whatever its kind; what plans of equal cost differ in is decided too."""
        if task.kind != "dose" or task.status != "planned":
            return self._other(task)
        budget = Budget(out_of_time, UNBOUND, UNBOUND)
        return self._dose(task, self._planned()[_key(task)], Instead(self.placed, self.memory), budget)

    def _other(self, task: Task) -> Why:
        because = tuple(Ground(one.rule, one.text, one.where) for one in task.because)
        if task.status != "planned":
            return Why(uid=task.uid, because=because)
        held = held_by(self.placed, task)
        return Why(uid=task.uid, because=(*because, *held.because), earliest=held.earliest, latest=held.latest)

    def _planned(self) -> Mapping[tuple[object, ...], Dose]:
        doses = (dose for dose in self.placed.settled.doses if dose.is_ours)
        return {(*dose.key, dose.first_day is not None): dose for dose in doses}

    def _dose(self, task: Task, dose: Dose, instead: Instead, budget: Budget) -> Why:
        place = self.placed.place(dose)
        room = Room(self.placed, place)
        earliest, latest = bounds_of(self.placed, room)
        next_best = room.free_move()
        self._buy(place, instead, budget)
        if next_best is None and self._may_plan(budget):
            next_best = instead.next_best(place, budget)
        return Why(
            uid=task.uid,
            because=tuple(Ground(one.rule, one.text, one.where) for one in task.because),
            earliest=earliest,
            latest=latest,
            slip=None if dose.origin == "wish" else room.slip(),
            others=other_uses(self.placed, room),
            next_best=next_best,
            buys=self.bought.get((place.number, place.course)),
        )

    def _buy(self, place: Place, instead: Instead, budget: Budget) -> None:
        """Reckons what the course of a dose buys, once."""
        course = (place.number, place.course)
        if course not in self.bought and self._may_plan(budget):
            self.bought[course] = instead.buys(place, budget)

    def _may_plan(self, budget: Budget) -> bool:
        """Whether more may be planned again: differences of plans that are not proved say nothing."""
        return self.is_least and self.placed.settled.gap is None and budget.begin()


def _key(task: Task) -> tuple[object, ...]:
    return (task.day, task.cohort, task.label, task.use, task.repeat_of is not None)
