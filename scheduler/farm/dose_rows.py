"""Rows of doses written into wishes.csv and record.csv as the keeper's own tables are written."""

from collections.abc import Mapping, Sequence

from scheduler.farm.doses import RECORD, WISHES
from scheduler.farm.groups import GROUPS
from scheduler.tables import DateOrder, RowChange, changed_table
from scheduler.words import Fault


def with_dose_rows(
    texts: Mapping[str, bytes | Fault],
    dates: DateOrder,
    wishes: Sequence[RowChange] = (),
    record: Sequence[RowChange] = (),
) -> dict[str, bytes]:
    """The changed files by name, and no others. The folder has been read without a fault."""
    found = {}
    for columns, changes in ((WISHES, wishes), (RECORD, record)):
        content, like = texts.get(columns.file), texts[GROUPS.file]
        if changes and not isinstance(content, Fault) and not isinstance(like, Fault):
            found[columns.file] = changed_table(columns, content, like, dates, changes)
    return found
