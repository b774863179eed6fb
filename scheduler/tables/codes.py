"""Codes of countries, from ISO 3166."""

import json
from functools import cache
from importlib.resources import files

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
    return code in (_codes("3166-2", "code") if "-" in code else _codes("3166-1", "alpha_2"))


@cache
def _codes(part: str, key: str) -> frozenset[str]:
    """All codes of a part of ISO 3166: the library's list itself, whose look-ups are slow to make ready."""
    content = files("pycountry").joinpath("databases", f"iso{part}.json").read_bytes()
    return frozenset(entry[key] for entry in json.loads(content)[part])
