"""Rows added to the keeper's tables: all that stood there stays as it was written."""

from datetime import date
from decimal import Decimal

import pytest

from scheduler.tables import Columns, DateOrder, Gathered, RowChange, changed_table, table_rows

WISHES = Columns(file="wishes.csv", required=("date", "group", "label", "use"), optional=("cohort", "ml"))
ROW: dict[str, str | date | Decimal] = {"date": date(2027, 6, 4), "group": "Ewes", "label": "pour", "use": "guard"}
PLAIN = b"date,group,label,use\n2027-05-01,Ewes,pour,guard\n"


def changed(content: bytes | None, *changes: RowChange, dates: DateOrder = "iso", like: bytes = b"group\n") -> bytes:
    return changed_table(WISHES, content, like, dates, changes)


def test_a_row_is_added_at_the_end_and_nothing_else_changes() -> None:
    assert changed(PLAIN, RowChange(ROW)) == PLAIN + b"2027-06-04,Ewes,pour,guard\n"


def test_a_last_line_without_its_end_is_ended() -> None:
    assert changed(PLAIN.rstrip(), RowChange(ROW)) == PLAIN + b"2027-06-04,Ewes,pour,guard\n"


def test_separator_mark_line_ends_and_decimal_comma_stay() -> None:
    before = "\ufeffdate;group;label;use;ml\r\n04.05.2027;Ewes;pour;guard;1,5\r\n".encode()
    found = changed(before, RowChange({**ROW, "ml": Decimal("2.50")}), dates="day-month-year")
    assert found == before + b"04.06.2027;Ewes;pour;guard;2,50\r\n"


def test_own_columns_and_their_order_stay() -> None:
    before = b'my note,use,label,group,date\n"a, b",guard,pour,Ewes,2027-05-01\n'
    assert changed(before, RowChange(ROW)) == before + b",guard,pour,Ewes,2027-06-04\n"


def test_a_column_that_is_lacking_is_added_to_the_header_alone() -> None:
    found = changed(PLAIN, RowChange({**ROW, "cohort": "Ewes/stay"}))
    assert found == b"date,group,label,use,cohort\n2027-05-01,Ewes,pour,guard\n2027-06-04,Ewes,pour,guard,Ewes/stay\n"


def test_a_cell_is_changed_in_its_row_alone() -> None:
    before = b'date, group,label,use,my note\n\n2027-05-01,"Ewes",pour,guard,"two\nlines"\n2027-05-02 ,Ewes,pour,x,\n'
    found = changed(before, RowChange({"date": date(2027, 6, 4)}, row=3))
    assert found == before.replace(b'2027-05-01,"Ewes"', b"2027-06-04,Ewes")


def test_a_short_row_is_filled_up_to_the_cell_that_is_changed() -> None:
    before = b"date,group,label,use,cohort\n2027-05-01,Ewes,pour,guard\n"
    assert changed(before, RowChange({"cohort": "Ewes/stay"}, row=2)) == before[:-1] + b",Ewes/stay\n"


@pytest.mark.parametrize(
    ("like", "start"),
    [(b"group,kind\n", b"date,group,label,use\n"), (b"group;kind\r\n", b"date;group;label;use\r\n"),
     (b"\xef\xbb\xbfgroup\tkind\n", b"\xef\xbb\xbfdate\tgroup\tlabel\tuse\n")],
)  # fmt: skip
def test_a_new_file_is_written_as_another_of_the_folder_is(like: bytes, start: bytes) -> None:
    assert changed(None, RowChange(ROW), like=like).startswith(start)


@pytest.mark.parametrize(("dates", "day"), [("iso", b"2027-06-04"), ("day-month-year", b"04/06/2027"),
                                            ("month-day-year", b"06/04/2027")])  # fmt: skip
def test_days_are_written_as_the_farm_writes_them(dates: DateOrder, day: bytes) -> None:
    assert changed(None, RowChange(ROW), dates=dates).splitlines()[1].startswith(day)


def test_what_is_written_can_be_read_again() -> None:
    odd = 'Ewes, "old"'
    gathered = Gathered()
    rows = list(table_rows(WISHES, changed(PLAIN, RowChange({**ROW, "group": odd})), "iso", gathered))
    assert not gathered
    assert rows[1].need("group", lambda cell: str(cell.value)) == odd
