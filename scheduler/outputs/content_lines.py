"""Content lines of iCalendar (RFC 5545, 3.1): what stands in one line, and the folded octets of all."""

from collections.abc import Iterable

LINE_OCTETS = 75
"""Most octets of a line, its break not counted (3.1)."""

ESCAPES = str.maketrans({"\\": "\\\\", ";": "\\;", ",": "\\,", "\n": "\\n"})
"""What would end a TEXT value or part it (3.3.11)."""

CONTROLS = dict.fromkeys([*range(0x09), *range(0x0B, 0x20), 0x7F])
"""Control characters, which may stand nowhere (3.1), but for tab and line break."""

BREAKS = dict.fromkeys([0x85, 0x2028, 0x2029], " ")
"""Line breaks of Unicode: lawful in a text, but some readers part lines at them."""


def text_line(name: str, text: str) -> str:
    """A property whose value is TEXT, on one unfolded line."""
    return f"{name}:{plain(text).translate(ESCAPES)}"


def plain(text: str) -> str:
    """The text without control characters, but with its line breaks and tabs."""
    return text.translate(CONTROLS).translate(BREAKS)


def octets(lines: Iterable[str]) -> bytes:
    """The lines in UTF-8, each folded and ended by CRLF."""
    return b"".join(_folded(line) for line in lines)


def _folded(line: str) -> bytes:
    """The octets of one line, parted between characters so that no part is over the limit."""
    rest, parts = line.encode(), []
    most = LINE_OCTETS
    while len(rest) > most:
        at = most
        while rest[at] & 0xC0 == 0x80:  # within a character of UTF-8
            at -= 1
        parts.append(rest[:at])
        rest, most = rest[at:], LINE_OCTETS - 1
    return b"\r\n ".join([*parts, rest]) + b"\r\n"
