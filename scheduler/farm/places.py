"""The farm's time zone and currency."""

import re
import tomllib
from functools import cache
from typing import Any
from zoneinfo import available_timezones

from scheduler.tables import Cell, did_you_mean, line
from scheduler.words import Fault, package_text

_DURATION = re.compile(
    r"[+-]?P(?:[0-9]{1,4}W|[0-9]{1,4}D(?:T(?P<t1>.+))?|T(?P<t2>.+))"  # RFC 5545, 3.3.6
)
_TIME = re.compile(r"[0-9]{1,6}H(?:[0-9]{1,6}M(?:[0-9]{1,6}S)?)?|[0-9]{1,6}M(?:[0-9]{1,6}S)?|[0-9]{1,6}S")


def timezone(cell: Cell) -> str | Fault:
    """Reads the name of an IANA time zone, for example Europe/London."""
    zone = line(cell)
    if isinstance(zone, Fault) or zone in available_timezones():
        return zone
    mend = did_you_mean(zone, sorted(available_timezones()), 'write, for example, "Europe/London"')
    return cell.fault("expected the name of an IANA time zone", mend)


def currency(cell: Cell) -> str | Fault:
    """Reads the ISO 4217 code of a currency, for example GBP."""
    code = line(cell)
    if isinstance(code, Fault) or _is_currency(code):
        return code
    mend = f'did you mean "{code.upper()}"?' if _is_currency(code.upper()) else 'write, for example, "GBP" or "EUR"'
    return cell.fault("expected the ISO 4217 code of a currency", mend)


def minor_decimals(code: str) -> int:
    """How many decimals of a currency's major unit its minor unit has: 2 for GBP, 0 for JPY (ISO 4217)."""
    decimals: dict[str, list[str]] = _currencies()["decimals"]
    return next((int(number) for number, codes in decimals.items() if code in codes), 2)


def duration(cell: Cell) -> str | Fault:
    """Reads a duration as RFC 5545, 3.3.6 writes it: -P6DT16H is six days and 16 hours before."""
    match = _DURATION.fullmatch(cell.value) if isinstance(cell.value, str) else None
    if match is not None:
        time = match["t1"] or match["t2"]
        if time is None or _TIME.fullmatch(time):
            return match.group()
    return cell.fault(
        "expected a duration as calendars write it (RFC 5545)",
        'write, for example, "-PT6H" for six hours before the day begins',
    )


@cache
def _currencies() -> dict[str, Any]:
    return tomllib.loads(package_text("scheduler.farm", "currencies.toml"))


def _is_currency(code: str) -> bool:
    import pycountry

    known: Any = pycountry  # its look-ups carry no types
    is_code = code == code.upper() and known.currencies.get(alpha_3=code) is not None
    return is_code and code not in _currencies()["no_money"]["codes"]
