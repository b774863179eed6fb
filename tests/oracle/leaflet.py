"""A label file as plain frozen values."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Any

Days = int | str | None  # a number of days, "not-permitted", or unknown
BAND = ("above_kg", "upto_kg", "ml", "ml_per_kg", "ml_per_100cm2", "step_ml", "most_ml")


@dataclass(frozen=True)
class Band:
    above: Decimal | None
    upto: Decimal | None
    ml: Decimal | None
    per_kg: Decimal | None
    per_100cm2: Decimal | None
    step: Decimal | None
    most: Decimal | None


@dataclass(frozen=True)
class Repeat:
    upto: Decimal | None
    after: int
    ml: Decimal


@dataclass(frozen=True)
class Use:
    id: str
    targets: tuple[str, ...]
    treat: bool
    least: int
    most: int
    works: int
    youngest: int
    kinds: tuple[str, ...] | None
    minutes: Decimal | None
    fleece: tuple[int, int] | None
    ends_at: tuple[str, ...]
    bands: tuple[Band, ...]
    repeats: tuple[Repeat, ...]


@dataclass(frozen=True)
class Label:
    id: str
    active: str
    chemical: str
    countries: tuple[str, ...] | None
    meat: Days
    milk: Days
    export: Days
    wool: int | None
    interval: int
    maximum: int | None
    lambing: int
    not_with: tuple[tuple[str, int], ...]
    price: Fraction
    uses: dict[str, Use]


def _decimal(value: object) -> Decimal | None:
    return None if value is None else Decimal(str(value))


def _use(raw: dict[str, Any]) -> Use:
    least, most = raw.get("protects_days", (0, 0))
    fleece = raw.get("fleece_weeks")
    kinds = raw.get("kinds")
    bands = [Band(*(_decimal(band.get(key)) for key in BAND)) for band in raw["dose"]]
    repeats = [
        Repeat(_decimal(one.get("upto_kg")), one["after_days"], Decimal(str(one["ml"])))
        for one in raw.get("repeat", [])
    ]
    return Use(
        id=raw["id"],
        targets=tuple(raw["targets"]),
        treat=raw["purpose"] == "treat",
        least=least,
        most=most,
        works=raw.get("works_after_days", 0),
        youngest=raw.get("youngest_days", 0),
        kinds=None if kinds is None else tuple(kinds),
        minutes=_decimal(raw.get("minutes_per_head")),
        fleece=None if fleece is None else (fleece[0], fleece[1]),
        ends_at=tuple(raw.get("ends_at", ())),
        bands=tuple(bands),
        repeats=tuple(repeats),
    )


def read_label(stem: str, raw: dict[str, Any]) -> Label:
    waits, limits = raw.get("withdrawal", {}), raw.get("limits", {})
    prices = [Fraction(Decimal(str(pack["price"]))) / Fraction(Decimal(str(pack["ml"]))) for pack in raw["pack"]]
    countries = raw.get("countries")
    return Label(
        id=stem,
        active=raw["active"].strip().lower(),
        chemical=raw["chemical_group"].strip().lower(),
        countries=None if countries is None else tuple(countries),
        meat=waits.get("meat"),
        milk=waits.get("milk"),
        export=waits.get("export"),
        wool=waits.get("wool"),
        interval=limits.get("repeat_interval", 0),
        maximum=limits.get("most_per_season"),
        lambing=limits.get("not_before_lambing_days", 0),
        not_with=tuple((one["chemical_group"].strip().lower(), one["days"]) for one in limits.get("not_with", ())),
        price=min(prices),
        uses={one["id"]: _use(one) for one in raw["use"]},
    )
