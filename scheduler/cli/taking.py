"""What a calendar answers, taken into the farm's tables: told, asked, written whole, and judged as by season check."""

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec import Struct
from msgspec.structs import replace

from scheduler.cli.disk import read_bytes
from scheduler.cli.label_files import stop
from scheduler.cli.last_plan import LastPlan
from scheduler.cli.shared import refuse, write
from scheduler.cli.terminal import ask, complain, say, tell, tell_json, width

if TYPE_CHECKING:
    from scheduler.exchange import Answers, Heard, Row, WishRows
    from scheduler.farm import Farm
    from scheduler.outputs import Line
    from scheduler.plan import Conflict


class Taking(Struct, frozen=True):
    """One pull into the farm in a folder. sure: nothing is asked. dry: nothing is written."""

    farm: Path
    last: LastPlan
    day: date
    sure: bool
    dry: bool
    as_json: bool

    def take(self, source: str, heard: "Heard") -> "tuple[Conflict, ...]":
        """Does all of it; what the rules say of the wishes."""
        from scheduler.exchange import answers_of, wish_rows

        last, settings = self.last, self.last.farm.settings
        answers = answers_of(last.tasks, heard, self.day, (settings.start, settings.end))
        wishes = wish_rows(answers.moved, last.tasks, last.farm.wishes, last.state.wished, heard.present)
        offered = self._record_rows(answers)
        self._tell_answers(answers, wishes, bool(offered))
        record = [row for row in offered if self._may_record(row)]
        if self._is_workbook or self.dry:
            self._show(wishes.rows, record if self.sure else offered)
            self._tell_json(source, answers, wishes, offered, record)
            return ()
        read = self._written(wishes, record)
        conflicts = self._judged(read, wishes)
        self._tell_conflicts(conflicts)
        self._tell_json(source, answers, wishes, offered, record, conflicts, bool(wishes.rows or record))
        return conflicts

    @property
    def _is_workbook(self) -> bool:
        from scheduler.farm import WORKBOOK

        return WORKBOOK in self.last.texts

    def _record_rows(self, answers: "Answers") -> "list[Row]":
        from scheduler.exchange import record_rows
        from scheduler.facts import facts

        within = facts().figures.done_within_days.whole
        return record_rows(answers.done, self.last.tasks, self.last.farm.record, within)

    def _may_record(self, row: "Row") -> bool:
        """Whether the keeper says yes to a row of the record."""
        from scheduler.exchange import row_text

        if self.sure or self.as_json or self.dry or self._is_workbook:
            return self.sure
        say(f"Marked done: {row_text(row)}.")
        try:
            return ask("Was it given so, and shall it go into the record (yes or no)?").strip().casefold() in (
                "yes",
                "y",
            )
        except EOFError:
            say("No answer: it was not recorded.")
            return False

    def _written(self, wishes: "WishRows", record: "Sequence[Row]") -> "Farm":
        """Writes the rows, unless the farm could not be read with them; the farm as it then is."""
        from scheduler.farm import read_farm, with_dose_rows
        from scheduler.plan import planned_firsts
        from scheduler.tables import RowChange
        from scheduler.words import Faults

        changes = [[RowChange(row.cells, row.number) for row in rows] for rows in (wishes.rows, record)]
        files = with_dose_rows(self.last.texts, self.last.farm.settings.dates, *changes)
        read = read_farm({**self.last.texts, **files}, self.day, planned_firsts(self.last.plan))
        if isinstance(read, Faults):
            complain("Nothing was written: with these rows the farm could not be read.")
            refuse(read, self.as_json)
        if any(read_bytes(self.farm / name) != self.last.texts.get(name) for name in files):
            stop(f"A table of {self.farm} has changed meanwhile; nothing was written. Pull again.")
        if files:
            write(self.farm, files)
            self._say_rows("Wrote to", wishes.rows, record)
        self.last.keep(replace(self.last.state, wished={**self.last.state.wished, **wishes.wished}))
        return read

    def _judged(self, read: "Farm", wishes: "WishRows") -> "tuple[Conflict, ...]":
        """What the rules say of the wishes pulled now or before."""
        from scheduler.exchange import is_for
        from scheduler.plan import audit_farm

        tasks = self.last.tasks
        rows = {wish.where.row for uid, day in wishes.wished.items() for wish in read.wishes
                if wish.day == day and is_for(wish, tasks[uid])}  # fmt: skip
        found = audit_farm(read, self.day, self.last.plan) if rows else ()
        return tuple(one for one in found if one.where is not None and one.where.file == "wishes.csv"
                     and one.where.row in rows)  # fmt: skip

    def _show(self, wishes: "Sequence[Row]", record: "Sequence[Row]") -> None:
        from scheduler.farm import WORKBOOK

        self._say_rows(f"Add to {WORKBOOK}, sheet" if self._is_workbook else "Would write to", wishes, record)

    def _say_rows(self, verb: str, wishes: "Sequence[Row]", record: "Sequence[Row]") -> None:
        from scheduler.exchange import rows_lines

        ending = "" if self._is_workbook else ".csv"
        self._lines([*rows_lines(f"wishes{ending}", wishes, verb), *rows_lines(f"record{ending}", record, verb)])

    def _tell_answers(self, answers: "Answers", wishes: "WishRows", more: bool) -> None:
        from scheduler.exchange import pull_lines

        lines = list(pull_lines(answers, wishes.already, wishes.said))
        if not lines and not wishes.rows and not more:
            lines = ["Nothing was moved, marked done or deleted in the calendar."]
        self._lines(lines)

    def _tell_conflicts(self, conflicts: "Sequence[Conflict]") -> None:
        from scheduler.outputs import conflicts_text

        if conflicts and not self.as_json:
            tell(conflicts_text(conflicts, width=width()))

    def _lines(self, lines: "Sequence[Line]") -> None:
        from scheduler.outputs import lines_text

        if not self.as_json:
            tell(lines_text(lines, width()))

    def _tell_json(
        self, source: str, answers: "Answers", wishes: "WishRows", offered: "Sequence[Row]", record: "Sequence[Row]",
        conflicts: "Sequence[Conflict]" = (), written: bool = False,
    ) -> None:  # fmt: skip
        from scheduler.exchange import pull_value
        from scheduler.outputs import conflict_value, json_text

        if self.as_json:
            value = pull_value(source, answers, wishes, offered, record, written)
            tell_json(json_text({**value, "conflicts": [conflict_value(one) for one in conflicts]}))
