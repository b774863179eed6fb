"""The files packed in a workbook (ECMA-376, part 2: a zip archive), unpacked within limits.

What the archive's directory promises is checked before anything is unpacked, and no more than that is unpacked.
"""

import io
import zipfile
import zlib
from collections.abc import Iterator

from scheduler.tables.limits import limit
from scheduler.words import Fault, Where

_PACKED_BY = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)  # all that ECMA-376 allows (part 2, on ZIP), from memory
_OLD_OR_LOCKED = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
"""How a compound file begins: a workbook of the older kind, or one under a password."""


def unpacked(file: str, content: bytes) -> dict[str, bytes] | Fault:
    """The XML parts of a workbook by name, or the fault that it is none, is broken, or unpacks to too much."""
    if content.startswith(_OLD_OR_LOCKED):
        found = "found a workbook of an older kind, or one under a password"
        return Fault(Where(file), found, "expected a workbook that is open to read", "save it anew as .xlsx")
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            members = [one for one in archive.infolist() if one.filename.lower().endswith((".xml", ".rels"))]
            if any(one.compress_type not in _PACKED_BY for one in members):
                return broken(file)
            fault = next(_too_much(file, archive.infolist(), members), None)
            return fault or {_name(one): archive.read(one) for one in members}
    except (zipfile.BadZipFile, zlib.error, RuntimeError, OSError, ValueError, EOFError):
        return broken(file)


def broken(file: str) -> Fault:
    """The fault of a workbook that cannot be read."""
    return Fault(
        Where(file),
        found="found no readable workbook",
        expected="expected one that a spreadsheet program saved as .xlsx",
        mend="open it in your spreadsheet program and save it anew as .xlsx",
    )


def _name(member: zipfile.ZipInfo) -> str:
    return member.filename.removeprefix("/")


def _too_much(file: str, everything: list[zipfile.ZipInfo], read: list[zipfile.ZipInfo]) -> Iterator[Fault]:
    """What is too much, by the archive's directory."""
    for found, unit, most in (
        (len(everything), "files packed in it", limit("workbook_parts")),
        (sum(one.file_size for one in read), "bytes once unpacked", limit("workbook_bytes")),
    ):
        if found > most:
            mend = "look whether it is the right file, and delete formats and rows that are not needed"
            yield Fault(Where(file), f"found {found} {unit}", f"expected at most {most}", mend)
