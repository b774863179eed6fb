"""Which files a farm folder may hold, and which it must."""

from collections.abc import Collection, Iterator, Mapping

from scheduler.farm.directions import DIRECTIONS
from scheduler.farm.doses import RECORD, WISHES
from scheduler.farm.events import EVENTS
from scheduler.farm.findings import FINDINGS
from scheduler.farm.groups import GROUPS
from scheduler.farm.mobs import MOBS
from scheduler.farm.risk_rows import RISK
from scheduler.farm.sales import SALES
from scheduler.farm.settings import FARM_FILE
from scheduler.farm.stock import STOCK
from scheduler.farm.weather import NORMALS, WEATHER
from scheduler.farm.weights import WEIGHTS
from scheduler.tables import Columns, did_you_mean, limit, nearest
from scheduler.words import Fault, Where

TABLES: tuple[Columns, ...] = (
    GROUPS, MOBS, EVENTS, SALES, RISK, WEATHER, NORMALS, FINDINGS, WEIGHTS, RECORD, DIRECTIONS, STOCK, WISHES,
)  # fmt: skip
LABEL_FOLDER = "labels/"
WHOLE_FOLDER = "."
"""The key under which the texts hold the fault that there is no farm folder, or none that can be read."""

WORKBOOK = "farm.xlsx"
"""The whole farm in one file, instead of all others."""
_KEPT_RECORD = "record.sqlite"
_KNOWN = (FARM_FILE, *(table.file for table in TABLES))


def is_label_file(name: str) -> bool:
    """Whether a name, relative to the farm folder, is that of a label file: labels/NAME.toml."""
    stem = name.removeprefix(LABEL_FOLDER).removesuffix(".toml")
    return name == f"{LABEL_FOLDER}{stem}.toml" and bool(stem.strip()) and not any(one in stem for one in "/;#")


def most_bytes(name: str) -> int:
    """How many bytes of a file of that name are read: 0 for one that is not known."""
    if name == FARM_FILE or is_label_file(name):
        return limit("toml_bytes")
    return limit("file_bytes") if name in (*_KNOWN, WORKBOOK) else 0


def file_faults(texts: Mapping[str, bytes | Fault]) -> Iterator[Fault]:
    """Faults of the folder as a whole: files that are not known, too many or missing."""
    if WORKBOOK in texts:
        yield from _workbook_faults(texts)
        return
    offered: set[str | None] = set()
    for name in sorted(texts):
        if name not in _KNOWN and not is_label_file(name):
            offered.update({nearest(name, _absent(texts))} - {None})
            yield _unknown(name, texts)
    for name in (FARM_FILE, GROUPS.file):
        if name not in texts and not offered & {name, WORKBOOK}:
            yield _missing(name)
    yield from _too_many_labels(texts)


def _workbook_faults(texts: Mapping[str, bytes | Fault]) -> Iterator[Fault]:
    """What stands beside a workbook and should not: the workbook is the whole farm."""
    if FARM_FILE in texts:
        where, found = Where(WORKBOOK), f"found {WORKBOOK} and {FARM_FILE}"
        yield Fault(where, found, "expected one of the two", "keep the one that is up to date")
        return
    for name in sorted(texts):
        if name in _KNOWN or is_label_file(name):
            expected = f"the farm is read from {WORKBOOK} alone"
            yield Fault(Where(name), f"found it beside {WORKBOOK}", expected, "move it into the workbook or away")
        elif name != WORKBOOK:
            yield _unknown(name, texts)


def _unknown(name: str, texts: Mapping[str, bytes | Fault]) -> Fault:
    if name == _KEPT_RECORD:
        found, expected = f"found {_KEPT_RECORD}", "a record in this form is not read yet"
        return Fault(Where(name), found, expected, f"write {RECORD.file}")
    if name.startswith(LABEL_FOLDER):
        expected = "expected label files named labels/NAME.toml, without / ; and # in NAME"
        return Fault(Where(name), "found another file among the labels", expected, "rename it or move it away")
    mend = did_you_mean(name, _absent(texts), "move it out of the folder, or let its name end in .txt")
    return Fault(Where(name), "found a file of this name", "no table is called that", mend)


def _absent(texts: Collection[str]) -> Iterator[str]:
    """Names that a file may be meant to have: those that nothing stands under."""
    known = _KNOWN if FARM_FILE in texts or WORKBOOK in texts else (*_KNOWN, WORKBOOK)
    return (name for name in known if name not in texts)


def _missing(name: str) -> Fault:
    if name == FARM_FILE:
        expected, mend = "expected the farm's settings", "write it, or start with `season new`"
    else:
        expected = "expected the farm's groups of sheep"
        mend = f"write it with the columns {', '.join(GROUPS.required)}"
    return Fault(Where(name), "found no such file", expected, mend)


def _too_many_labels(texts: Mapping[str, bytes | Fault]) -> Iterator[Fault]:
    labels = [content for name, content in texts.items() if is_label_file(name)]
    size = sum(len(content) for content in labels if isinstance(content, bytes))
    for found, unit, most in (
        (len(labels), "label files", limit("label_files")),
        (size, "bytes in all label files", limit("label_bytes")),
    ):
        if found > most:
            yield Fault(
                Where(LABEL_FOLDER),
                found=f"found {found} {unit}",
                expected=f"expected at most {most}",
                mend="move labels that are not used out of the folder",
            )
