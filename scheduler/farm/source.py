"""Where a farm is read from: a folder of text files, or one workbook; the same questions to both."""

from collections.abc import Iterator, Mapping
from typing import Protocol

from scheduler.farm.files import LABEL_FOLDER, is_label_file
from scheduler.farm.settings import FARM_FILE, settings_fields
from scheduler.labels import Label, label_id, read_label
from scheduler.tables import Columns, DateOrder, Fields, Gathered, Known, table_rows
from scheduler.words import Fault, Where


class Source(Protocol):
    """The tables, settings and labels of a farm, read on demand; faults go to `gathered`."""

    gathered: Gathered

    def place(self, columns: Columns) -> Where:
        """The place of a table."""

    def has(self, columns: Columns) -> bool:
        """Whether the table is there."""

    def rows(self, columns: Columns, dates: DateOrder | None) -> Iterator[Fields]:
        """The rows of a table that hold anything; none where it is absent."""

    def settings(self) -> Fields | None:
        """The settings over their defaults; None where they are absent or cannot be read at all."""

    def known_labels(self) -> Known:
        """The names of the labels, readable or not."""

    def labels(self, dates: DateOrder | None) -> Iterator[Label]:
        """The labels without a fault, by name."""


class TextFolder:
    """A folder of text files: farm.toml, tables as CSV, a label a file."""

    def __init__(self, texts: Mapping[str, bytes | Fault], gathered: Gathered) -> None:
        self.gathered = gathered
        self._texts = texts

    def place(self, columns: Columns) -> Where:
        """The table's file."""
        return Where(columns.file)

    def has(self, columns: Columns) -> bool:
        """Whether the table's file is there."""
        return columns.file in self._texts

    def rows(self, columns: Columns, dates: DateOrder | None) -> Iterator[Fields]:
        """The rows of the table's file."""
        content = self._content(columns.file)
        return iter(()) if content is None else table_rows(columns, content, dates, self.gathered)

    def settings(self) -> Fields | None:
        """farm.toml."""
        content = self._content(FARM_FILE)
        return None if content is None else settings_fields(content, self.gathered)

    def known_labels(self) -> Known:
        """The label files by their stems."""
        places = {label_id(file): Where(file) for file in self._label_files()}
        return Known("label", places, f"the folder {LABEL_FOLDER}")

    def labels(self, dates: DateOrder | None) -> Iterator[Label]:
        """The labels of the label files; TOML writes dates in one way only."""
        for file in self._label_files():
            content = self._content(file)
            label = read_label(file, content, self.gathered) if content is not None else None
            if label is not None:
                yield label

    def _label_files(self) -> list[str]:
        return sorted(file for file in self._texts if is_label_file(file))

    def _content(self, file: str) -> bytes | None:
        """The bytes of a file; None where it is absent, or could not be read (that fault is gathered)."""
        content = self._texts.get(file)
        if isinstance(content, Fault):
            self.gathered.stop(content)
            return None
        return content
