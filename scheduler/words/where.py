"""The place in the keeper's files that a fault, a conflict or a clash points at."""

from msgspec import Struct


class Where(Struct, frozen=True):
    """A place: file, and row (as a spreadsheet shows it, header = 1) with column, or the key of a TOML file.

    In a workbook `sheet` names the sheet, and `letter` the column as the spreadsheet shows it.
    `more_rows` are further rows that belong to the same fault.
    """

    file: str
    row: int | None = None
    column: str | None = None
    key: str | None = None
    sheet: str | None = None
    more_rows: tuple[int, ...] = ()
    letter: str | None = None

    def sort_key(self) -> tuple[str, str, int, str, str]:
        """Order of faults: by file, sheet, row, column, key."""
        return (self.file, self.sheet or "", self.row or 0, self.column or "", self.key or "")

    def __str__(self) -> str:
        parts = [self.file]
        if self.sheet is not None:
            parts.append(f"sheet {self.sheet}")
        if self.more_rows:
            earlier = ", ".join(map(str, (self.row, *self.more_rows[:-1])))
            parts.append(f"rows {earlier} and {self.more_rows[-1]}")
        elif self.row is not None:
            parts.append(f"row {self.row}" if self.letter is None else f"cell {self.letter}{self.row}")
        if self.column is not None:
            parts.append(self.column)
        if self.key is not None:
            parts.append(self.key)
        return ", ".join(parts)

    def as_json(self) -> dict[str, str | int]:
        """The place as the JSON outputs show it: only what is known."""
        pairs = {"file": self.file, "sheet": self.sheet, "row": self.row, "column": self.column, "key": self.key}
        return {name: value for name, value in pairs.items() if value is not None}
