"""Values of a calendar, type by type (RFC 5545, 3.3): what each may look like, and what days and spans they mean."""

import re
from collections.abc import Callable
from datetime import date, datetime, timedelta

SCHEME = re.compile(r"[A-Za-z][A-Za-z0-9+.-]*:\S+")
DURATION = re.compile(
    r"(?P<sign>[+-]?)P(?:(?P<weeks>\d+)W|(?:(?P<days>\d+)D)?"
    r"(?P<time>T(?=\d)(?:(?P<hours>\d+)H)?(?:(?P<minutes>\d+)M)?(?:(?P<seconds>\d+)S)?)?)"
)
OFFSET = re.compile(r"(?!-0000(?:00)?$)[+-](?:[01]\d|2[0-3])[0-5]\d(?:[0-5]\d)?")


def day_of(value: str) -> date | None:
    """A DATE (3.3.4), or None."""
    try:
        return datetime.strptime(value, "%Y%m%d").date() if re.fullmatch(r"\d{8}", value) else None  # noqa: DTZ007
    except ValueError:
        return None


def moment_of(value: str) -> datetime | None:
    """A DATE-TIME (3.3.5) without its zone, or None."""
    try:
        return datetime.strptime(value[:15], "%Y%m%dT%H%M%S") if re.fullmatch(r"\d{8}T\d{6}Z?", value) else None  # noqa: DTZ007
    except ValueError:
        return None


def span_of(value: str) -> timedelta | None:
    """A DURATION (3.3.6), or None. Hours and seconds may not stand together without minutes."""
    found = DURATION.fullmatch(value)
    if found is None:
        return None
    parts = {key: int(found[key]) for key in ("weeks", "days", "hours", "minutes", "seconds") if found[key] is not None}
    if not parts or ("hours" in parts and "seconds" in parts and "minutes" not in parts):
        return None
    return timedelta(**parts) * (-1 if found["sign"] == "-" else 1)


def is_text(value: str) -> bool:
    """TEXT (3.3.11): backslash, semicolon and comma only escaped, and a backslash only before what it may escape."""
    return not re.search(r"[\\;,]", re.sub(r"\\[\\;,nN]", "", value))


def is_texts(value: str) -> bool:
    """A list of TEXT, parted by commas."""
    return not re.search(r"[\\;]", re.sub(r"\\[\\;,nN]", "", value))


def is_whole(value: str) -> bool:
    """An INTEGER (3.3.8)."""
    return bool(re.fullmatch(r"[+-]?\d{1,10}", value)) and abs(int(value)) < 2**31


TYPES: dict[str, tuple[str, Callable[[str], bool]]] = {
    "DATE": ("date", lambda value: day_of(value) is not None),
    "DATE-TIME": ("date-time", lambda value: moment_of(value) is not None),
    "DURATION": ("duration", lambda value: span_of(value) is not None),
    "TEXT": ("text", is_text),
    "TEXTS": ("text", is_texts),
    "INTEGER": ("integer", is_whole),
    "URI": ("uri", lambda value: SCHEME.fullmatch(value) is not None),
    "UTC-OFFSET": ("utc-offset", lambda value: OFFSET.fullmatch(value) is not None),
    "ANY": ("grammar", lambda value: True),
}
"""By type: the rule that a wrong value breaks, and whether a value is right."""
