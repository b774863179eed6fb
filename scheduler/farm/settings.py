"""farm.toml -> Settings, or its faults."""

import tomllib
from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from functools import cache

from msgspec.structs import replace

from scheduler.farm.closed import ClosedReader
from scheduler.farm.model import Caution, Settings
from scheduler.farm.places import currency, duration, timezone
from scheduler.tables import (
    DATE_ORDERS,
    DateOrder,
    Fields,
    Gathered,
    country,
    day,
    line,
    number,
    range_of,
    switch,
    text,
    toml_fields,
    whole,
    word,
)
from scheduler.words import TARGETS, Target, package_text

FARM_FILE = "farm.toml"

_CAUTIONS: tuple[Caution, ...] = ("high", "middle", "low")


def settings_fields(content: bytes, gathered: Gathered) -> Fields | None:
    """What farm.toml says over the defaults; None where it cannot be read (that fault is gathered)."""
    return toml_fields(FARM_FILE, content, gathered, default_settings())


def read_settings(fields: Fields) -> tuple[Settings | None, DateOrder | None]:
    """The farm's settings, and how its tables write dates; None for what cannot be read (its faults are gathered)."""
    parts = {name: fields.table(name) for name in default_settings()}
    settings, dates = _settings(parts), parts["farm"].need("dates", word(DATE_ORDERS))
    for part in (*parts.values(), fields):
        part.close()
    known = next((order for order in DATE_ORDERS if order == dates), None)
    return (None if fields.failed or known is None else replace(settings, dates=known)), known


@cache
def default_settings() -> Mapping[str, object]:
    """What is taken where the settings say nothing, by section and key."""
    return tomllib.loads(package_text("scheduler.farm", "defaults.toml"), parse_float=Decimal)


def _settings(parts: Mapping[str, Fields]) -> Settings:
    farm, season, money, work, plan = (parts[name] for name in ("farm", "season", "money", "work", "plan"))
    start, end = _season(season)
    name, recheck = farm.need("name", line), plan.table("recheck_days")
    settings = Settings(
        name=name,
        id=farm.need("id", text) or name,
        holding=farm.need("holding", text),
        country=farm.need("country", country),
        timezone=farm.need("timezone", timezone),
        latitude=farm.need("latitude", number("latitude")),
        longitude=farm.need("longitude", number("longitude")),
        organic=farm.need("organic", switch),
        start=start,
        end=end,
        currency=money.need("currency", currency),
        labour_per_hour=money.need("labour_per_hour", number("money")),
        gather_minutes=work.need("gather_minutes", number("gather_minutes")),
        minutes_per_head=work.need("minutes_per_head", number("minutes_per_head")),
        most_head_per_day=work.need("most_head_per_day", whole("most_head_per_day")),
        most_head_where=work.where("most_head_per_day"),
        closed=work.entries("closed", ClosedReader(start, end)),
        order_lead_days=work.need("order_lead_days", whole("days_ahead")),
        caution=plan.need("caution", word(_CAUTIONS)),
        targets=plan.entries("targets", word(TARGETS)),
        act_level=_act_level(plan.table("act_level")),
        lead_days=plan.need("lead_days", whole("days_ahead")),
        recheck_after_treatment=recheck.need("after_treatment", whole("days_ahead")),
        recheck_in_season=recheck.need("in_season", whole("days_between")),
        sale_margin_days=plan.need("sale_margin_days", whole("days_ahead")),
        remind=parts["calendar"].entries("remind", duration),
    )
    recheck.close()
    return settings


def _season(fields: Fields) -> tuple[date, date]:
    start, end = fields.need("start", day), fields.need("end", day)
    if start is None or end is None:
        stand_in = start or end or date(int(range_of("year").example), 1, 1)
        return stand_in, stand_in
    days, most = (end - start).days + 1, range_of("season_days").most
    if days < 1:
        fields.fault(
            "end", f"found {end}", f"the season starts on {start}", "write an end that is not before the start"
        )
        return end, end
    if days > most:
        fields.fault(
            "end", f"found {end}, {days} days in all", f"expected at most {most} days", "end the season sooner"
        )
    return start, end


def _act_level(fields: Fields) -> dict[Target, Decimal]:
    levels = {target: fields.need(target, number("act_level")) for target in TARGETS}
    fields.close()
    return levels
