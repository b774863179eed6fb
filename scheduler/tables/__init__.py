"""Text files and workbooks of the keeper -> located cells -> values or faults."""

from scheduler.tables.cell import Cell, DateOrder, Odd, Reader, Style, shown
from scheduler.tables.codes import country
from scheduler.tables.csv_change import RowChange, changed_table
from scheduler.tables.csv_table import table_rows
from scheduler.tables.days import DATE_ORDERS, date_format, day
from scheduler.tables.decode import decoded, too_large
from scheduler.tables.fields import Fields
from scheduler.tables.gathered import Gathered
from scheduler.tables.header import Columns
from scheduler.tables.limits import limit
from scheduler.tables.nearest import did_you_mean, nearest
from scheduler.tables.ranges import Range, range_of
from scheduler.tables.seen import Known, Once, known_names, reference
from scheduler.tables.sheet_fields import Document, SheetFields, list_parts, pairs
from scheduler.tables.toml_document import over, toml_fields
from scheduler.tables.values import line, listed, name, number, switch, text, whole, word, yes_no
from scheduler.tables.workbook import SHOWN_DIGITS, Workbook, open_workbook
from scheduler.tables.xlsx_scan import column_letters

__all__ = [
    "DATE_ORDERS",
    "SHOWN_DIGITS",
    "Cell",
    "Columns",
    "DateOrder",
    "Document",
    "Fields",
    "Gathered",
    "Known",
    "Odd",
    "Once",
    "Range",
    "Reader",
    "RowChange",
    "SheetFields",
    "Style",
    "Workbook",
    "changed_table",
    "column_letters",
    "country",
    "date_format",
    "day",
    "decoded",
    "did_you_mean",
    "known_names",
    "limit",
    "line",
    "list_parts",
    "listed",
    "name",
    "nearest",
    "number",
    "open_workbook",
    "over",
    "pairs",
    "range_of",
    "reference",
    "shown",
    "switch",
    "table_rows",
    "text",
    "toml_fields",
    "too_large",
    "whole",
    "word",
    "yes_no",
]
