"""One plain integer programme over all lawful courses, solved stage by stage with HiGHS."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from datetime import date
from typing import Any

import highspy
import numpy as np

from tests.oracle.conflicts import at_most_one
from tests.oracle.courses import base_at_risk, own_courses, risk_findings
from tests.oracle.duties import Duties, duties_of
from tests.oracle.flock import Cohort
from tests.oracle.folder import Finding
from tests.oracle.judge import Score, judge, money_of, over_maximum, recorded_courses, score
from tests.oracle.needs import enders, needs_of
from tests.oracle.physic import gather_money
from tests.oracle.world import Course, Dose, World

Terms = dict[int, int]
STAGES = ("exposed", "money", "paid_gathers", "handlings")


@dataclass(frozen=True)
class Answer:
    """An optimum (proved where every stage was), its doses and the duties it holds."""

    proved: bool
    score: Score
    doses: tuple[Dose, ...]
    duties: Duties
    courses: int


class Programme:
    """Columns, rows and four objectives, written out before the solver sees them."""

    def __init__(self, world: World, duties: Duties) -> None:
        self.world = world
        self.upper: list[float] = []
        self.whole: list[bool] = []
        self.rows: list[tuple[float, float, Terms]] = []
        self.aims: list[Terms] = [{} for _ in STAGES]
        self.fixed = 0  # sheep-days exposed whatever is done
        self.courses: dict[int, Course] = {}
        self.handled: dict[tuple[str, date], int] = {}
        self.brought: dict[tuple[str, date], int] = {}
        self.standing: dict[tuple[str, Finding, date, bool], int] = {}
        for cohort in world.cohorts.values():
            self._cohort(cohort, [one for one in duties.choices if one[0].cohort == cohort.id])
        self._heads()

    def column(self, whole: bool = False) -> int:
        self.upper.append(1.0)
        self.whole.append(whole)
        return len(self.upper) - 1

    def row(self, terms: Terms, least: float, most: float) -> None:
        self.rows.append((least, most, terms))

    def _cohort(self, cohort: Cohort, choices: list[list[Course]]) -> None:
        courses = own_courses(self.world, cohort) + [course for one in choices for course in one]
        columns = [self.column(whole=True) for _ in courses]
        self.courses |= dict(zip(columns, courses, strict=True))
        place = {course: column for column, course in zip(columns, courses, strict=True)}
        for one in choices:
            self.row({place[course]: 1 for course in one}, 1, 1)
        for group in at_most_one(self.world, courses):
            self.row({columns[number]: 1 for number in group}, -np.inf, 1)
        for need, days in needs_of(self.world, cohort, courses).items():
            self._need([[columns[number] for number in one] for one in need], days * cohort.head)
        for column, course in zip(columns, courses, strict=True):
            self.aims[1][column] = sum(money_of(self.world, dose) for dose in course.doses)
            self._standing_needed(cohort, column, course, courses, columns)
        self._maximum(cohort, courses, columns)
        self._work(cohort, courses, columns)

    def _need(self, sets: list[list[int]], weight: int) -> None:
        if not all(sets):
            self.fixed += weight
            return
        exposed = self.column()
        self.aims[0][exposed] = weight
        for one in sets:
            self.row({exposed: 1} | dict.fromkeys(one, 1), 1, np.inf)

    def _stands(
        self, cohort: Cohort, finding: Finding, day: date, before: bool, courses: list[Course], columns: list[int]
    ) -> int | None:
        """A column that may be 1 only while the finding stands; None where no course could end it by then."""
        ended = enders(self.world, courses, finding, day, before)
        if not ended:
            return None
        key = (cohort.id, finding, day, before)
        if key not in self.standing:
            self.standing[key] = self.column()
            for number in ended:
                self.row({self.standing[key]: 1, columns[number]: 1}, -np.inf, 1)
        return self.standing[key]

    def _standing_needed(
        self, cohort: Cohort, column: int, course: Course, courses: list[Course], columns: list[int]
    ) -> None:
        """Treat: a finding stands on the day. Own prevent without other risk: a finding stands in its cover."""
        use = self.world.use(course.label, course.use)
        if course.origin == "owed":
            return
        if use.treat:
            earlier = [one for one in self.world.record[cohort.id] if one.day < course.first]
            wanted = [
                (one, course.first)
                for one in self.world.findings_of(cohort)
                if one.what in use.targets and self.world.stands(one, course.first, earlier)
            ]
        elif course.origin == "own" and not base_at_risk(self.world, cohort, course):
            wanted = risk_findings(self.world, cohort, course)
        else:
            return
        marks = [self._stands(cohort, one, day, use.treat, courses, columns) for one, day in wanted]
        if wanted and None not in marks:
            self.row({column: 1} | {mark: -1 for mark in marks if mark is not None}, -np.inf, 0)

    def _maximum(self, cohort: Cohort, courses: list[Course], columns: list[int]) -> None:
        """season-maximum: record and wishes first; a limit binds where a course of its label is among them."""
        world = self.world
        wished = {(c.label, c.use, c.first): c for c in courses if c.origin == "wish"}
        base = [*recorded_courses(world, cohort.id), *wished.values()]
        base = [one for one in base if world.start <= one.first <= world.end]
        actives = {world.label(one.label).active for one in courses if one.origin == "own"}
        for active in actives:
            mine = {
                m: c
                for m, c in zip(columns, courses, strict=True)
                if c.origin == "own" and world.label(c.label).active == active
            }
            taken = [one for one in base if world.label(one.label).active == active]
            if over_maximum(world, taken):
                self.row(dict.fromkeys(mine, 1), 0, 0)
                continue
            labels = {course.label for course in mine.values()} | {one.label for one in taken}
            for name in labels:
                limit = world.label(name).maximum
                if limit is not None:
                    bound = {one.label for one in taken} >= {name} or {c.label for c in mine.values()} == {name}
                    self._limit(mine, name, limit - len(taken), bound)

    def _limit(self, mine: dict[int, Course], name: str, room: int, bound: bool) -> None:
        if bound:
            self.row(dict.fromkeys(mine, 1), -np.inf, room)
            return
        big = len({course.first for course in mine.values()})
        used = self.column(whole=True)
        for column, course in mine.items():
            if course.label == name:
                self.row({column: 1, used: -1}, -np.inf, 0)
        self.row(dict.fromkeys(mine, 1) | {used: big}, -np.inf, room + big)

    def _work(self, cohort: Cohort, courses: list[Course], columns: list[int]) -> None:
        """Handlings and paid gathers: at most one dose of an active a day, so a row for each active and day."""
        doses: dict[tuple[date, str], list[int]] = defaultdict(list)
        for column, course in zip(columns, courses, strict=True):
            for dose in course.doses:
                doses[
                    dose.day, self.world.label(course.label).active + ("" if course.origin == "own" else str(column))
                ].append(column)
        for (day, _), members in doses.items():
            self.row(dict.fromkeys(members, 1) | {self._hand(cohort, day): -1}, -np.inf, 0)

    def _hand(self, cohort: Cohort, day: date) -> int:
        if (cohort.id, day) not in self.handled:
            hand = self.handled[cohort.id, day] = self.column()
            self.aims[3][hand] = 1
            mob = self.world.mob_of(cohort.group.name, day)
            if not self.world.free(mob, day):
                self.row({hand: 1, self._gather(mob, day): -1}, -np.inf, 0)
        return self.handled[cohort.id, day]

    def _gather(self, mob: str, day: date) -> int:
        if (mob, day) not in self.brought:
            gather = self.brought[mob, day] = self.column()
            self.aims[1][gather] = gather_money(self.world, mob)
            self.aims[2][gather] = 1
        return self.brought[mob, day]

    def _heads(self) -> None:
        if not self.world.most_head:
            return
        heads = {name: one.head for name, one in self.world.cohorts.items()}
        for day in self.world.window():
            hands = {column: heads[name] for (name, on), column in self.handled.items() if on == day}
            done = self.world.dosed_before(day)
            if done:
                self._heads_beside(day, done)
                continue
            large = [column for column, head in hands.items() if head > self.world.most_head]
            self.row(
                {column: head for column, head in hands.items() if column not in large}, -np.inf, self.world.most_head
            )
            for one in large:
                for other in hands:
                    if other != one and (other not in large or other > one):
                        self.row({one: 1, other: 1}, -np.inf, 1)

    def _heads_beside(self, day: date, done: set[str]) -> None:
        """The head limit of a day on which the record says that some were dosed already."""
        heads = {name: one.head for name, one in self.world.cohorts.items()}
        room = self.world.most_head - sum(heads[name] for name in done)
        hands = {name: column for (name, on), column in self.handled.items() if on == day}
        if room < 0 and len(done) > 1:
            self.row(dict.fromkeys(hands.values(), 1), 0, 0)
            return
        more = {column: heads[name] for name, column in hands.items() if name not in done}
        self.row(more if room >= 0 else dict.fromkeys(more, 1), -np.inf, max(0, room))


def _load(programme: Programme, seconds: float) -> Any:
    make: Any = highspy.Highs
    solver = make()
    for name, value in (
        ("output_flag", False),
        ("mip_rel_gap", 0.0),
        ("mip_abs_gap", 0.5),
        ("threads", 1),
        ("time_limit", seconds),
    ):
        solver.setOptionValue(name, value)
    for upper, whole in zip(programme.upper, programme.whole, strict=True):
        solver.addVar(0.0, upper)
        if whole:
            solver.changeColIntegrality(solver.getNumCol() - 1, highspy.HighsVarType.kInteger)
    for least, most, terms in programme.rows:
        _add(solver, terms, least, most)
    return solver


def _add(solver: Any, terms: Terms, least: float, most: float) -> None:
    columns, values = np.array(list(terms), dtype=np.int32), np.array(list(terms.values()), dtype=np.float64)
    solver.addRow(least, most, len(terms), columns, values)


def solve(world: World, seconds: float = 60.0) -> Answer | None:
    """The least plan by exposure, money, paid gathers and handlings; None where the solver finds none in its time."""
    duties = duties_of(world)
    programme = Programme(world, duties)
    solver = _load(programme, seconds)
    proved, values = True, [0.0] * len(programme.upper)
    for aim in programme.aims:
        if not aim:
            continue
        costs = np.array([float(aim.get(column, 0)) for column in range(len(programme.upper))])
        solver.changeColsCost(len(costs), np.arange(len(costs), dtype=np.int32), costs)
        solver.run()
        found = solver.getSolution()
        if not found.value_valid:
            return None
        values = list(found.col_value)
        proved = proved and solver.getModelStatus() == highspy.HighsModelStatus.kOptimal
        _add(solver, aim, -np.inf, round(sum(cost * values[column] for column, cost in aim.items())))
    chosen = [course for column, course in programme.courses.items() if values[column] > 0.5]
    doses = sorted((dose for course in chosen for dose in course.doses), key=lambda dose: dose.key)
    assert not judge(world, doses), "the programme chose a plan that the judge forbids"
    return Answer(proved, score(world, doses), tuple(doses), duties, len(programme.courses))
