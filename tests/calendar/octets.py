"""A calendar's octets taken apart by our own hand: lines, names, parameters and values, with every fault of their form.

Nothing of the writer and of no library is used. Rules and their sections of the standard stand in data/rules.csv.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import NamedTuple

MOST_OCTETS = 75
CONTROL = re.compile(r"[\x00-\x08\x0a-\x1f\x7f]")
NAME = r"[A-Za-z0-9-]+"
PARAMETER_VALUE = r'(?:"[^"\x00-\x08\x0a-\x1f\x7f]*"|[^";:,\x00-\x08\x0a-\x1f\x7f]*)'
PARAMETER = rf";{NAME}={PARAMETER_VALUE}(?:,{PARAMETER_VALUE})*"
LINE = re.compile(rf"(?P<name>{NAME})(?P<parameters>(?:{PARAMETER})*):(?P<value>.*)", re.DOTALL)


class Fault(NamedTuple):
    """A rule of the standard that is broken, and where."""

    rule: str
    what: str


@dataclass(frozen=True)
class Property:
    """One content line. Names in capitals; the value as it stands, still escaped."""

    name: str
    parameters: dict[str, str]
    value: str


@dataclass
class Component:
    """What stands between BEGIN and END, in its order."""

    kind: str
    parts: list["Property | Component"] = field(default_factory=list)

    def properties(self, name: str | None = None) -> list[Property]:
        """Its own properties, of one name or all."""
        return [one for one in self.parts if isinstance(one, Property) and name in (None, one.name)]

    def components(self, kind: str | None = None) -> list["Component"]:
        """The components directly in it, of one kind or all."""
        return [one for one in self.parts if isinstance(one, Component) and kind in (None, one.kind)]


def octet_faults(calendar: bytes) -> Iterator[Fault]:
    """Faults of line breaks, lengths, characters and folds."""
    if not calendar.endswith(b"\r\n"):
        yield Fault("break", "the last line does not end in CRLF")
    if b"\r" in (bare := calendar.replace(b"\r\n", b"")) or b"\n" in bare:
        yield Fault("break", "a CR or LF stands alone")
    whole = _decoded(re.sub(rb"\r\n[ \t]", b"", calendar)) is not None
    if not whole:
        yield Fault("utf-8", "the file is no UTF-8")
    elif calendar.startswith(b"\xef\xbb\xbf"):
        yield Fault("utf-8", "a byte order mark stands before BEGIN")
    for number, line in enumerate(calendar.removesuffix(b"\r\n").split(b"\r\n"), 1):
        if len(line) > MOST_OCTETS:
            yield Fault("long-line", f"line {number} has {len(line)} octets")
        if whole and _decoded(line) is None:
            yield Fault("split-character", f"line {number} begins or ends within a character")
        if line in (b"", b" ", b"\t") or (number == 1 and line[:1] in b" \t"):
            yield Fault("grammar", f"line {number} is empty, or continues nothing")


def _decoded(octets: bytes) -> str | None:
    try:
        return octets.decode("utf-8")
    except UnicodeDecodeError:
        return None


def unfolded(calendar: bytes) -> list[str]:
    """The content lines (3.1): each CRLF with one space or tab after it is taken away."""
    text = re.sub(rb"\r\n[ \t]", b"", calendar).decode("utf-8", "replace")
    return [line for line in text.removesuffix("\r\n").split("\r\n") if line]


def parsed(line: str) -> Property | Fault:
    """A content line as name, parameters and value."""
    if CONTROL.search(line):
        return Fault("control", f"a control character in {line[:40]!r}")
    found = LINE.fullmatch(line)
    if found is None:
        return Fault("grammar", f"no content line: {line[:60]!r}")
    pairs = [one.partition("=") for one in re.findall(rf";({NAME}={PARAMETER_VALUE}(?:,{PARAMETER_VALUE})*)",
                                                      found["parameters"])]  # fmt: skip
    names = [name.upper() for name, _, _ in pairs]
    if len(set(names)) < len(names):
        return Fault("parameter-twice", line[:60])
    return Property(
        found["name"].upper(), dict(zip(names, (value for _, _, value in pairs), strict=True)), found["value"]
    )


def tree(calendar: bytes) -> tuple[Component | None, list[Fault]]:
    """The calendar as a tree, as far as its lines allow, and the faults of lines and nesting."""
    faults: list[Fault] = []
    root = Component("")
    stack = [root]
    for line in unfolded(calendar):
        found = parsed(line)
        if isinstance(found, Fault):
            faults.append(found)
        elif found.name == "BEGIN":
            stack.append(Component(found.value.upper()))
        elif found.name == "END":
            if len(stack) == 1 or stack[-1].kind != found.value.upper():
                return None, [*faults, Fault("nesting", f"END:{found.value} ends nothing that is open")]
            ended = stack.pop()
            stack[-1].parts.append(ended)
        else:
            stack[-1].parts.append(found)
    if len(stack) > 1:
        return None, [*faults, Fault("nesting", f"{stack[-1].kind} does not end")]
    if [one.kind for one in root.components()] != ["VCALENDAR"] or root.properties():
        return None, [*faults, Fault("one-calendar", "the file is not one VCALENDAR from its first line to its last")]
    return root.components()[0], faults
