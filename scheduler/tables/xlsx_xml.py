"""XML parts of a workbook, element by element. No document types: nothing is defined, fetched or swelled there."""

from collections.abc import Callable
from xml.parsers import expat

Attributes = dict[str, str]


class BrokenXml(Exception):
    """A part that is no XML, or not what a workbook may hold. It does not leave the package."""


def walk(
    part: bytes,
    start: Callable[[str, Attributes], None],
    end: Callable[[str], None] | None = None,
    text: Callable[[str], None] | None = None,
) -> None:
    """Calls `start` and `end` with the local name of each element, and `text` with what stands between.

    Raises BrokenXml where the part cannot be read.
    """
    parser = expat.ParserCreate("UTF-8")  # as every spreadsheet program writes, whatever the part says of itself
    parser.buffer_text = True
    parser.StartDoctypeDeclHandler = _refuse
    parser.StartElementHandler = lambda name, attributes: start(_local(name), attributes)
    if end is not None:
        parser.EndElementHandler = lambda name: end(_local(name))
    if text is not None:
        parser.CharacterDataHandler = text
    try:
        parser.Parse(part, True)
    except (expat.ExpatError, ValueError) as error:
        raise BrokenXml from error


def _local(name: str) -> str:
    return name.rpartition(":")[2] if ":" in name else name


def _refuse(*_: object) -> None:
    raise BrokenXml
