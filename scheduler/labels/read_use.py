"""One [[use]] of a label file -> Use."""

from collections.abc import Iterator
from decimal import Decimal
from itertools import pairwise
from typing import Literal

from msgspec.structs import replace

from scheduler.labels.model import Band, RepeatDuty, Use
from scheduler.tables import Cell, Fields, Once, Reader, name, number, text, whole, word
from scheduler.words import KINDS, TARGETS, Fault

_PURPOSES: tuple[Literal["prevent", "treat"], ...] = ("prevent", "treat")
_ENDS: tuple[Literal["shearing", "dipping"], ...] = ("shearing", "dipping")
_APART = "bands must not overlap"
_AMOUNTS = ("ml", "ml_per_kg", "ml_per_100cm2")


def read_use(fields: Fields, once: Once) -> Use:
    """A use as its keys state it; `once` holds the ids of the label's uses read before. Not to be used if it failed."""
    purpose: Literal["prevent", "treat"] = fields.need("purpose", word(_PURPOSES))
    dry = fields.table("dry_hours")
    use = Use(
        id=fields.need("id", name),
        targets=fields.some_entries("targets", word(TARGETS)),
        purpose=purpose,
        protects_days=_protects_days(fields, purpose),
        works_after_days=fields.get("works_after_days", whole("days_ahead"), 0),
        youngest_days=fields.get("youngest_days", whole("days"), 0),
        kinds=fields.some_entries("kinds", word(KINDS)) if fields.has("kinds") else KINDS,
        minutes_per_head=fields.get("minutes_per_head", number("minutes_per_head"), None),
        fleece_weeks=fields.get("fleece_weeks", _pair("weeks"), None),
        dry_hours_before=dry.get("before", number("hours"), None),
        dry_hours_after=dry.get("after", number("hours"), None),
        ends_at=fields.entries("ends_at", word(_ENDS)),
        method=fields.get("method", text, ""),
        bands=_bands(fields),
        repeats=tuple(_repeat(one) for one in fields.tables("repeat")),
        where=fields.at,
    )
    if use.id is not None:
        once.note(fields, "id", use.id, f'the use "{use.id}"')
    dry.close()
    fields.close()
    return use


def _protects_days(fields: Fields, purpose: str) -> tuple[int, int]:
    if purpose == "prevent":
        return fields.need("protects_days", _pair("protects_days"))
    return fields.get("protects_days", _pair("protects_days"), (0, 0))


def _pair(range_name: str) -> Reader[tuple[int, int]]:
    """Reads [least, most], whole numbers of that range."""

    def read(cell: Cell) -> tuple[int, int] | Fault:
        ends = _ends(cell)
        numbers = [whole(range_name)(replace(cell, value=end)) for end in ends]
        fault = next((one for one in numbers if isinstance(one, Fault)), None)
        if fault is not None and len(ends) == 2:
            return fault
        pair = tuple(one for one in numbers if not isinstance(one, Fault))
        if len(pair) == 2 and pair[0] <= pair[1]:
            return pair[0], pair[1]
        found = f"[{', '.join(map(str, pair))}]" if pair else cell.shown
        if cell.style is not None:
            return cell.fault("expected the least and the most, the least first", "write, as text, for example 42-56")
        return Fault(cell.where, f"found {found}", "expected [least, most], the least first", "write two whole numbers")

    return read


def _ends(cell: Cell) -> list[object]:
    """Both ends of a range: in TOML a list, in a sheet text like 42-56."""
    if cell.style is not None and isinstance(cell.value, str):
        return [part.strip() for part in cell.value.split("-")]
    return cell.value if isinstance(cell.value, list) else []


def _bands(fields: Fields) -> tuple[Band, ...]:
    parts = fields.some_tables("dose")
    bands = tuple(map(_band, parts))
    read = [(part, band) for part, band in zip(parts, bands, strict=True) if not part.failed]
    read.sort(key=lambda one: one[1].above_kg or Decimal(0))
    for (before, lower), (part, upper) in pairwise(read):
        end = lower.upto_kg
        if end is None:
            before.fault("upto_kg", "found nothing", f"another band begins at {upper.above_kg or 0}", _APART)
        elif (upper.above_kg or 0) < end:
            found = f"found {upper.above_kg}" if upper.above_kg is not None else "found nothing"
            part.fault("above_kg", found, f"the band before ends at {end}", f"{_APART}; write {end}")
    return bands


def _band(fields: Fields) -> Band:
    band = Band(
        above_kg=fields.get("above_kg", number("band_kg"), None),
        upto_kg=fields.get("upto_kg", number("upto_kg"), None),
        ml=fields.get("ml", number("ml"), None),
        ml_per_kg=fields.get("ml_per_kg", number("ml"), None),
        ml_per_100cm2=fields.get("ml_per_100cm2", number("ml"), None),
        step_ml=fields.get("step_ml", number("ml"), None),
        most_ml=fields.get("most_ml", number("ml"), None),
    )
    if not fields.failed:
        for fault in _band_faults(fields, band):
            fields.add(fault)
    fields.close()
    return band


def _band_faults(fields: Fields, band: Band) -> Iterator[Fault]:
    given = [amount for amount in _AMOUNTS if fields.has(amount)]
    if len(given) != 1:
        found = " and ".join(given) or "no amount"
        yield Fault(fields.at, f"found {found}", f"expected one of {', '.join(_AMOUNTS)}", "state just one of them")
    if band.above_kg is not None and band.upto_kg is not None and band.above_kg >= band.upto_kg:
        found = f"found {band.upto_kg}, with above_kg {band.above_kg}"
        yield Fault(
            fields.where("upto_kg"), found, "expected more than above_kg", "write the lesser weight as above_kg"
        )
    for extra in ("step_ml", "most_ml"):
        if given == ["ml"] and fields.has(extra):
            expected = "expected it only beside ml_per_kg or ml_per_100cm2"
            yield Fault(fields.where(extra), f"found {extra} beside ml", expected, "delete it; ml is the whole dose")


def _repeat(fields: Fields) -> RepeatDuty:
    duty = RepeatDuty(
        after_days=fields.need("after_days", whole("repeat_after_days")),
        ml=fields.need("ml", number("ml")),
        upto_kg=fields.get("upto_kg", number("upto_kg"), None),
    )
    fields.close()
    return duty
