"""A bare reader of iCalendar content lines (RFC 5545, 3.1), apart from every library: bytes in, components out."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field

LINE = re.compile(
    r'(?P<name>[A-Z0-9-]+)(?P<params>(?:;[A-Z0-9-]+=(?:"[^"]*"|[^";:,]*)(?:,(?:"[^"]*"|[^";:,]*))*)*):(?P<value>.*)'
)


@dataclass(frozen=True)
class Property:
    """One content line: its name, its parameters as written (";VALUE=DATE"), and its value, still escaped."""

    name: str
    params: str
    value: str


@dataclass
class Component:
    """What stands between BEGIN and END."""

    kind: str
    properties: list[Property] = field(default_factory=list)
    inside: list["Component"] = field(default_factory=list)

    def all(self, name: str) -> list[Property]:
        """The properties of that name, in order."""
        return [found for found in self.properties if found.name == name]

    def one(self, name: str) -> Property:
        """The property that stands exactly once."""
        (found,) = self.all(name)
        return found


def content_lines(calendar: bytes) -> list[str]:
    """The lines unfolded (3.1): a break followed by one space or tab is taken away."""
    return re.sub(rb"\r\n[ \t]", b"", calendar).decode("utf-8").removesuffix("\r\n").split("\r\n")


def read(calendar: bytes) -> Component:
    """The calendar as a tree of components."""
    lines = iter(content_lines(calendar))
    assert next(lines) == "BEGIN:VCALENDAR"
    tree = _component("VCALENDAR", lines)
    assert list(lines) == []
    return tree


def _component(kind: str, lines: Iterator[str]) -> Component:
    component = Component(kind)
    for line in lines:
        found = LINE.fullmatch(line)
        assert found, line
        if found["name"] == "BEGIN":
            component.inside.append(_component(found["value"], lines))
        elif found["name"] == "END":
            assert found["value"] == kind
            return component
        else:
            component.properties.append(Property(found["name"], found["params"], found["value"]))
    raise AssertionError(f"{kind} does not end")


def events(calendar: bytes) -> list[Component]:
    """The events, in the order of the file."""
    return [part for part in read(calendar).inside if part.kind == "VEVENT"]
