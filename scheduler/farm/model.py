"""The farm as the keeper wrote it down: every table of the folder, checked and frozen."""

from datetime import date
from decimal import Decimal
from typing import Literal

from msgspec import Struct, field

from scheduler.labels import Label
from scheduler.tables import DateOrder
from scheduler.words import EventKind, Kind, Purpose, Target, Where

Caution = Literal["high", "middle", "low"]


class Group(Struct, frozen=True, kw_only=True):
    """A lot of sheep kept and gathered together. Weights in kg, growth in kg a day; `mob` is never empty."""

    name: str
    kind: Kind
    head: int
    mob: str
    heaviest_kg: Decimal | None = None
    lightest_kg: Decimal | None = None
    weighed_on: date | None = None
    born_first: date | None = None
    born_last: date | None = None
    growth_kg_per_day: Decimal = Decimal(0)
    grown_kg: Decimal | None = None
    wool: Literal["wooled", "shedding"] = "wooled"
    milk: bool = False
    export: bool = False
    arrives: date | None = None
    leaves: date | None = None
    note: str = ""
    where: Where


class Mob(Struct, frozen=True, kw_only=True):
    """A mob with work figures of its own; None = the farm's."""

    name: str
    gather_minutes: Decimal | None = None
    people: int = 1
    gather_on: Literal["any", "events"] = "any"
    note: str = ""
    where: Where | None = None


class Event(Struct, frozen=True, kw_only=True):
    """Something that happens to `groups` ("all" spelled out) from `first` to `last`, both included."""

    what: EventKind
    first: date
    last: date
    groups: tuple[str, ...]
    note: str = ""
    where: Where


class Sale(Struct, frozen=True, kw_only=True):
    """`head` sheep of `group` leave on `day`. Several rows may share a sale's name (one a group)."""

    name: str
    group: str
    head: int
    day: date
    purpose: Purpose
    pick: Literal["heaviest", "lightest", "any"] = "any"
    fixed: bool = False
    move_days: int = 7
    where: Where


class RiskRow(Struct, frozen=True, kw_only=True):
    """Level (0 to 1) of a target over days, both ends included; groups None = all."""

    target: Target
    first: date
    last: date
    level: Decimal
    groups: tuple[str, ...] | None = None
    where: Where


class WeatherDay(Struct, frozen=True, kw_only=True):
    """One day's lowest and highest air temperature (°C) and rain (mm)."""

    day: date
    tmin: Decimal
    tmax: Decimal
    rain: Decimal | None = None


class NormalMonth(Struct, frozen=True, kw_only=True):
    """Mean lowest and highest air temperature (°C) of a month 1 to 12."""

    month: int
    tmin: Decimal
    tmax: Decimal


class Finding(Struct, frozen=True, kw_only=True):
    """What was seen on sheep: a target, or "dags". `cleared` is the first day it no longer stands."""

    day: date
    group: str
    what: Target | Literal["dags"]
    head: int | None = None
    area_cm2: Decimal | None = None
    cleared: date | None = None
    note: str = ""
    where: Where


class Weighing(Struct, frozen=True, kw_only=True):
    """Weights of a group on a day, kg."""

    day: date
    group: str
    heaviest_kg: Decimal
    head: int | None = None
    mean_kg: Decimal | None = None
    lightest_kg: Decimal | None = None
    where: Where


class RecordRow(Struct, frozen=True, kw_only=True):
    """A dose given (`given` True), or planned but not done (False). repeat_of: day of the course's first dose."""

    day: date
    group: str
    label: str
    use: str
    head: int
    cohort: str | None = None
    ml_per_head: Decimal | None = None
    repeat_of: date | None = None
    given: bool = True
    batch: str = ""
    by: str = ""
    note: str = ""
    where: Where


class Direction(Struct, frozen=True, kw_only=True):
    """A vet's written direction that sets aside label limits from `signed` to `until`."""

    label: str
    use: str
    groups: tuple[str, ...]
    sets_aside: tuple[str, ...]
    signed: date
    until: date
    vet: str
    meat_days: int | None = None
    milk_days: int | None = None
    where: Where


class StockRow(Struct, frozen=True, kw_only=True):
    """Millilitres of a label at hand."""

    label: str
    ml: Decimal
    batch: str = ""
    expires: date | None = None
    opened: date | None = None
    where: Where


class Wish(Struct, frozen=True, kw_only=True):
    """A dose the keeper has in mind."""

    day: date
    group: str
    label: str
    use: str
    cohort: str | None = None
    repeat_of: date | None = None
    where: Where


class ClosedDays(Struct, frozen=True, kw_only=True):
    """One entry of work.closed: a day, "every WEEKDAY" or RRULE text, as written."""

    text: str
    days: frozenset[date]
    where: Where


_MOST_HEAD = Where("farm.toml", key="work.most_head_per_day")


class Settings(Struct, frozen=True, kw_only=True):
    """farm.toml. Money in major units; minutes, ml and kg exact as written."""

    name: str
    id: str
    country: str
    timezone: str
    latitude: Decimal
    longitude: Decimal
    holding: str = ""
    organic: bool = False
    start: date
    end: date
    currency: str
    labour_per_hour: Decimal = Decimal(0)
    gather_minutes: Decimal = Decimal(60)
    minutes_per_head: Decimal = Decimal("0.5")
    most_head_per_day: int = 0
    most_head_where: Where = _MOST_HEAD
    closed: tuple[ClosedDays, ...] = ()
    order_lead_days: int = 5
    caution: Caution = "high"
    targets: tuple[Target, ...] = ("blowfly-strike", "ticks", "head-fly")
    act_level: dict[Target, Decimal]
    lead_days: int = 21
    recheck_after_treatment: int = 2
    recheck_in_season: int = 7
    sale_margin_days: int = 0
    remind: tuple[str, ...] = ("-P6DT16H", "-PT6H")
    dates: DateOrder = "iso"


class Farm(Struct, frozen=True, kw_only=True):
    """The whole folder. Rows keep the order of their files; `left_out` says which rows lie outside `today` and why."""

    settings: Settings
    groups: tuple[Group, ...]
    mobs: tuple[Mob, ...] = ()
    events: tuple[Event, ...] = ()
    sales: tuple[Sale, ...] = ()
    risk: tuple[RiskRow, ...] = ()
    weather: tuple[WeatherDay, ...] = ()
    normals: tuple[NormalMonth, ...] = ()
    findings: tuple[Finding, ...] = ()
    weighings: tuple[Weighing, ...] = ()
    record: tuple[RecordRow, ...] = ()
    directions: tuple[Direction, ...] = ()
    stock: tuple[StockRow, ...] = ()
    wishes: tuple[Wish, ...] = ()
    labels: dict[str, Label] = field(default_factory=dict)
    left_out: tuple[str, ...] = ()

    def group(self, name: str) -> Group:
        """The group of that name; KeyError where there is none (readers have refused such names)."""
        found = next((group for group in self.groups if group.name == name), None)
        if found is None:
            raise KeyError(name)
        return found
