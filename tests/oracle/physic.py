"""What one dose is: weight, age, ml, repeat owed, cover, withdrawal and money."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from math import ceil, floor

from tests.oracle.flock import ONE, Flock
from tests.oracle.folder import Group
from tests.oracle.leaflet import Band, Label, Repeat, Use

FAST, SLOW = Decimal("1.25"), Decimal("0.75")
HEAVY_BIRTH, LIGHT_BIRTH = Decimal("8.0"), Decimal("2.5")
AREA = Decimal(150)
EXPONENT = {"GBP": 2, "EUR": 2, "NZD": 2, "JPY": 0}
FACTS_OFF_LABEL = ("GB", "IE")


def half_up(value: Fraction) -> int:
    return floor(value + Fraction(1, 2))


def two_places(value: Decimal) -> Decimal:
    return value.quantize(Decimal("0.01"), rounding=ROUND_HALF_UP)


def _weighings(flock: Flock, group: Group, heavy: bool) -> list[tuple[date, int, Decimal]]:
    """(date, 1 for weights.csv which wins, kg), an undated weighing of groups.csv being the oldest."""
    own = group.heaviest if heavy else group.lightest
    out = [] if own is None else [(group.weighed_on or date.min, 0, own)]
    for one in flock.farm.weighings:
        kg = one.heaviest if heavy else one.lightest
        if one.group == group.name and kg is not None:
            out.append((one.day, 1, kg))
    return sorted(out)


def weight(flock: Flock, group: Group, day: date, heavy: bool) -> Decimal | None:
    """The heaviest's or the lightest's kg on a day, None where unknown."""
    known = _weighings(flock, group, heavy)
    before = [one for one in known if one[0] <= day]
    if before:
        since, _, kg = before[-1]
    elif group.kind == "lamb":
        born = group.born_first if heavy else group.born_last or group.born_first
        if born is None:
            return None
        since, kg = born, HEAVY_BIRTH if heavy else LIGHT_BIRTH
    elif known:
        return known[0][2]
    else:
        return None
    days = max(0, (day - since).days) if group.growth else 0
    grown = kg + days * group.growth * (FAST if heavy else SLOW)
    return grown if group.grown is None else max(kg, min(grown, group.grown))


def age_days(group: Group, day: date) -> int | None:
    born = group.born_last or group.born_first
    return None if born is None else (day - born).days


def _holds(band: Band, kg: Decimal) -> bool:
    return (band.above is None or band.above < kg) and (band.upto is None or kg <= band.upto)


def dose_ml(flock: Flock, group: Group, use: Use, day: date, area: Decimal | None = None) -> Decimal | None:
    """Ml a head for a first dose, None where dose-band forbids it."""
    heavy, light = weight(flock, group, day, True), weight(flock, group, day, False)
    if light is not None and not any(_holds(band, light) for band in use.bands):
        return None
    for band in use.bands:
        open_band = band.above is None and band.upto is None
        if heavy is None and not open_band:
            continue
        if heavy is not None and not _holds(band, heavy):
            continue
        if band.ml is not None:
            return band.ml
        if band.per_kg is not None and heavy is None:
            return None
        raw = (
            band.per_kg * heavy
            if band.per_kg is not None and heavy is not None
            else (band.per_100cm2 or Decimal(0)) * (area or AREA) / 100
        )
        if band.step is not None:
            raw = ceil(Fraction(raw) / Fraction(band.step)) * band.step
        return raw if band.most is None else min(raw, band.most)
    return None


def repeat_owed(flock: Flock, group: Group, use: Use, day: date) -> Repeat | None:
    """The repeat that a first dose on a day obliges."""
    light = weight(flock, group, day, False)
    for repeat in use.repeats:
        if repeat.upto is None or (light is not None and light <= repeat.upto):
            return repeat
    return None


def planning_days(use: Use, caution: str) -> int:
    """P: the days of protection relied on."""
    return {"high": use.least, "middle": (use.least + use.most) // 2, "low": use.most}[caution]


def cut(flock: Flock, group: Group, use: Use, day: date) -> date | None:
    """The day of the first ends_at event dated after the dose, on which its cover no longer holds."""
    days = [event.day for what in use.ends_at for event in flock.events(what, group.name) if event.day > day]
    return min(days, default=None)


def cover(flock: Flock, group: Group, use: Use, day: date, caution: str) -> tuple[list[date], list[date]]:
    """(covered days, fading days) of a dose given on a day."""
    end = cut(flock, group, use, day)
    days = [day + ONE * number for number in range(use.works, max(use.most, planning_days(use, caution)))]
    kept = [one for one in days if end is None or one < end]
    last = day + timedelta(days=planning_days(use, caution) - 1)
    return [one for one in kept if one <= last], [one for one in kept if one > last]


def country_holds(label: Label, country: str) -> bool:
    """Does the label hold in the country: named itself, or as a part of GB (GB-NIR must be named)?"""
    if label.countries is None or country in label.countries:
        return True
    return country != "GB-NIR" and country.split("-")[0] in label.countries


def has_off_label_facts(country: str) -> bool:
    return country.split("-")[0] in FACTS_OFF_LABEL


def off_label_days(country: str, stated: int, by_vet: int | None, milk: bool) -> int:
    """Withdrawal of an off-label dose: the longest of stated, the vet's, and the country's minimum."""
    least = 0
    if has_off_label_facts(country):
        least = ceil(Fraction(3, 2) * stated)
        least = max(1, least) if milk else least
    return max(stated, by_vet or 0, least)


def organic_days(days: int) -> int:
    return max(2 * days, 2)


def per_minute(flock: Flock) -> Fraction:
    """Labour, in minor units a minute."""
    hour = Fraction(Decimal(str(flock.farm.toml["money"].get("labour_per_hour", 0))))
    return hour * minor(flock) / 60


def minor(flock: Flock) -> int:
    return int(10 ** EXPONENT[flock.farm.toml["money"]["currency"]])


def dose_money(flock: Flock, label: Label, use: Use, head: int, ml: Decimal) -> int:
    """Money of one dose, in minor units, half up."""
    minutes = use.minutes if use.minutes is not None else Decimal(str(flock.work.get("minutes_per_head", "0.5")))
    return half_up(head * Fraction(ml) * label.price * minor(flock) + head * Fraction(minutes) * per_minute(flock))


def gather_money(flock: Flock, mob: str) -> int:
    """Money of one paid gather of a mob, in minor units, half up."""
    row = flock.mob_row(mob)
    minutes = Decimal(row.get("gather_minutes") or str(flock.work.get("gather_minutes", 60)))
    people = Decimal(row.get("people") or "1")
    return half_up(Fraction(minutes) * Fraction(people) * per_minute(flock))
