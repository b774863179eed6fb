"""What pull writes: rows of wishes.csv for doses that were moved, rows of record.csv for doses marked done."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from datetime import date
from decimal import Decimal

from msgspec import Struct, field

from scheduler.exchange.answers import MarkedDone, Moved, name_of
from scheduler.exchange.planned import is_for
from scheduler.farm import RecordRow, Wish
from scheduler.plan import Task
from scheduler.words import say_day, say_number

Cells = dict[str, "str | date | Decimal"]


class Row(Struct, frozen=True):
    """A row of a table for a task: its cells by column. number: the row in which they are changed; None: a new one."""

    task: Task
    cells: Cells
    number: int | None = None


class WishRows(Struct):
    """Rows to write, what stands there already, what is said besides, and the day wished by uid of the task."""

    rows: list[Row] = field(default_factory=list)
    already: list[tuple[Task, int]] = field(default_factory=list)
    said: list[str] = field(default_factory=list)
    wished: dict[str, date] = field(default_factory=dict)


def wish_rows(
    moved: Sequence[Moved],
    tasks: Mapping[str, Task],
    wishes: Sequence[Wish],
    wished: Mapping[str, date],
    present: Collection[str] = (),
) -> WishRows:
    """The rows for all doses moved; first doses before their repeats, which are pinned to their day.

    wished: by uid the day that was written for a task before. present: uids of the tasks that the calendar holds.
    """
    writing = _Writing(tasks, wishes, wished, {one.task.uid: one.day for one in moved}, WishRows())
    writing.look_back(present)
    for one in sorted(moved, key=lambda one: (one.task.repeat_of is not None, one.day, one.task.uid)):
        writing.take(one)
    return writing.found


class _Writing(Struct):
    tasks: Mapping[str, Task]
    wishes: Sequence[Wish]
    wished: Mapping[str, date]
    days: Mapping[str, date]
    found: WishRows

    def look_back(self, present: Collection[str]) -> None:
        """Says which wishes pulled before are asked for no longer."""
        for uid in sorted(self.wished.keys() & set(present) - self.days.keys()):
            task, day = self.tasks.get(uid), self.wished[uid]
            rows = [wish for wish in self.wishes if task is not None and is_for(wish, task) and wish.day == day]
            if task is not None and task.status == "planned" and task.day != day and rows:
                self.found.said.append(f"{name_of(task)}: stands as planned again; {rows[0].where} still asks for "
                                       f"{say_day(day)}: delete the row where that is settled.")  # fmt: skip

    def take(self, one: Moved) -> None:
        """Takes in one dose: the row that asks for it already, one that is changed, or a new one."""
        task, same = one.task, [wish for wish in self.wishes if is_for(wish, one.task)]
        there = next((wish for wish in same if wish.day == one.day), None)
        if there is not None:
            self.found.already.append((task, there.where.row or 0))
            self.found.wished[task.uid] = one.day
            return
        before = next((wish for wish in same if wish.day in (self.wished.get(task.uid), task.day)), None)
        if before is not None and not self._all_move(before, one.day):
            self.found.said.append(
                f"{name_of(task)}: {before.where} asks for all of {before.group}; part it by cohorts there first."
            )
            return
        self.found.wished[task.uid] = one.day
        if before is None:
            self._pin_first(task)
            self.found.rows.append(Row(task, self._cells(task, one.day)))
        elif not any(row.number == before.where.row for row in self.found.rows):
            self.found.rows.append(Row(task, self._changed(task, one.day), before.where.row))
            self._take_repeats_along(task, before, one.day)

    def _all_move(self, wish: Wish, day: date) -> bool:
        """Whether a row may be changed: it is for this cohort alone, or all that it is for moved to the same day."""
        if wish.cohort is not None:
            return True
        others = [task for task in self.tasks.values() if is_for(wish, task) and task.day == wish.day]
        return all(self.days.get(task.uid) == day for task in others if task.status == "planned")

    def _cells(self, task: Task, day: date) -> Cells:
        cells: Cells = {"date": day, "group": task.group or "", "label": task.label or "", "use": task.use or "",
                        "cohort": task.cohort or ""}  # fmt: skip
        first = self._first_day(task)
        return cells if first is None else {**cells, "repeat_of": first}

    def _changed(self, task: Task, day: date) -> Cells:
        first = self._first_day(task)
        return {"date": day} if first is None else {"date": day, "repeat_of": first}

    def _first_day(self, task: Task) -> date | None:
        """The day of the first dose of a repeat, where it was moved to."""
        first = self.tasks.get(task.repeat_of or "")
        return None if first is None else self.days.get(first.uid, first.day)

    def _pin_first(self, task: Task) -> None:
        """A repeat names the day of its first dose, which must then not move away under it."""
        first = self.tasks.get(task.repeat_of or "")
        if first is None or first.status != "planned" or first.uid in self.days:
            return
        if not any(is_for(wish, first) and wish.day == first.day for wish in self.wishes):
            self.found.rows.append(Row(first, self._cells(first, first.day)))
            self.found.said.append(f"{name_of(first)}: wished as planned, because its repeat was moved.")

    def _take_repeats_along(self, first: Task, before: Wish, day: date) -> None:
        """Rows of repeats that name the day on which the first dose stood name the new one."""
        for wish in self.wishes:
            if wish.repeat_of == before.day and (wish.cohort, wish.group, wish.label, wish.use) == (
                before.cohort, before.group, before.label, before.use,
            ):  # fmt: skip
                self.found.rows.append(Row(first, {"repeat_of": day}, wish.where.row))


def record_rows(
    done: Iterable[MarkedDone], tasks: Mapping[str, Task], record: Sequence[RecordRow], within: int
) -> list[Row]:
    """The rows for doses marked done that the record does not hold: none of the same dose within so many days."""
    found = []
    for one in done:
        task = one.task
        if not any(_records(row, task) and _is_near(row, one, within) for row in record):
            first = tasks.get(task.repeat_of or "")
            cells: Cells = {"date": one.day, "group": task.group or "", "label": task.label or "",
                            "use": task.use or "", "head": str(task.head), "cohort": task.cohort or ""}  # fmt: skip
            if task.dose_ml is not None:
                cells["ml_per_head"] = task.dose_ml
            if first is not None:
                cells["repeat_of"] = first.day
            found.append(Row(task, cells))
    return found


def _records(row: RecordRow, task: Task) -> bool:
    same = (row.group, row.label, row.use) == (task.group, task.label, task.use)
    return same and row.cohort in (None, task.cohort) and (row.repeat_of is None) == (task.repeat_of is None)


def _is_near(row: RecordRow, one: MarkedDone, within: int) -> bool:
    return min(abs((row.day - one.day).days), abs((row.day - one.task.day).days)) <= within


def row_text(row: Row) -> str:
    """A row as it is read out."""
    return ", ".join(f"{name} {_said(value)}" for name, value in row.cells.items() if value != "")


def _said(value: "str | date | Decimal") -> str:
    if isinstance(value, date):
        return say_day(value)
    return say_number(value) if isinstance(value, Decimal) else value
