"""A farm planned again and again as things happen to it, as `season plan` does it."""

import random
from collections.abc import Iterator
from dataclasses import dataclass, replace

from scheduler.farm import Farm, read_farm
from scheduler.outputs import calendar_files, plan_json
from scheduler.plan import Changes, EarlierPlan, changes, make_plan, planned_firsts, read_earlier
from scheduler.report import SeasonReport, cautions_of, report_of
from tests.calendar.upsets import UPSETS, Life
from tests.oracle.farms import random_farm


@dataclass(frozen=True)
class Step:
    """One planning: what happened before it, its report and whole calendar, and what it changes."""

    upset: str
    life: Life
    report: SeasonReport
    calendar: bytes
    changes: Changes
    earlier: EarlierPlan | None

    def as_earlier(self) -> EarlierPlan:
        """The plan as the next planning finds it."""
        found = read_earlier(plan_json(self.report).encode())
        assert isinstance(found, EarlierPlan), found
        return found


def planning(life: Life, earlier: EarlierPlan | None, upset: str = "") -> Step | None:
    """The farm planned on its day; None where what happened to it made no lawful farm."""
    today = life.farm.today
    firsts = frozenset() if earlier is None else planned_firsts(earlier)
    farm = read_farm({name: text.encode() for name, text in life.farm.files.items()}, today, firsts)
    if not isinstance(farm, Farm):
        return None
    plan = make_plan(farm, today, earlier, lambda: False)
    report = report_of(plan, farm, cautions_of(plan, farm))
    calendar = calendar_files(report)["calendar.ics"]
    return Step(upset, life, report, calendar, changes(earlier, plan.tasks, plan.made_for), earlier)


def plannings(family: str, seed: int, steps: int) -> Iterator[Step]:
    """A random farm planned, and then once after each of so many random upsets that leave it lawful."""
    dice = random.Random(f"{family} {seed}")
    step = planning(Life(random_farm(seed, 1, family), (), dice), None)
    assert step is not None
    yield step
    for _ in range(steps):
        upset = dice.choice(UPSETS)
        doses = tuple(task for task in step.report.plan.tasks if task.kind == "dose")
        after = planning(upset(replace(step.life, doses=doses)), step.as_earlier(), upset.__name__)
        if after is not None:
            step = after
            yield step
