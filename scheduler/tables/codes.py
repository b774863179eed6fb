"""Codes of countries, from ISO 3166."""

from typing import Any

from scheduler.tables.cell import Cell
from scheduler.tables.values import line
from scheduler.words import Fault


def country(cell: Cell) -> str | Fault:
    """Reads the ISO 3166 code of a country (GB) or of a part of one (GB-SCT)."""
    code = line(cell)
    if isinstance(code, Fault) or _is_country(code):
        return code
    mend = 'write, for example, "GB" for the United Kingdom, or "GB-SCT" for Scotland alone'
    if _is_country(code.upper()):
        mend = f'did you mean "{code.upper()}"?'
    return cell.fault("expected the ISO 3166 code of a country or of a part of one", mend)


def _is_country(code: str) -> bool:
    import pycountry

    if code != code.upper():
        return False
    known: Any = pycountry  # its look-ups carry no types
    if "-" in code:
        return known.subdivisions.get(code=code) is not None
    return known.countries.get(alpha_2=code) is not None
