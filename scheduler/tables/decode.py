"""Bytes of a file -> its text."""

import re

from scheduler.tables.limits import limit
from scheduler.words import Fault, Where

_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f]")


def decoded(file: str, content: bytes, most_bytes: int | None = None) -> str | Fault:
    """The text of a UTF-8 file without its byte order mark, or the fault that it is none or is too large."""
    most = most_bytes or limit("file_bytes")
    if len(content) > most:
        return too_large(file, most)
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        return _no_text(file, "text in UTF-16")
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        return _no_text(file, f"bytes in line {line} that are not UTF-8")
    control = _CONTROL.search(text)
    if control is None:
        return text
    line = text.count("\n", 0, control.start()) + 1
    return _no_text(file, f"a control character (number {ord(control.group())}) in line {line}")


def _no_text(file: str, found: str) -> Fault:
    return Fault(
        Where(file),
        found=f"found {found}",
        expected="expected plain text in UTF-8",
        mend="save it again with the encoding UTF-8",
    )


def too_large(file: str, most_bytes: int) -> Fault:
    """The fault of a file with more bytes than are read."""
    return Fault(
        Where(file),
        found="too large to read",
        expected=f"expected at most {most_bytes} bytes",
        mend="look whether it is the right file, and split or shorten it",
    )
