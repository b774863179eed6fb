"""Reads the shipped facts. A mistake in them is ours: it raises, and a test holds every entry to its form."""

import tomllib
from decimal import Decimal
from functools import cache
from typing import Any

from scheduler.facts.model import (
    Caution,
    CountryFacts,
    Fact,
    Facts,
    Figures,
    Kit,
    Law,
    RecordFields,
    RiskTable,
    ScabMovement,
    Source,
    WorkDay,
)
from scheduler.words import package_text

Table = dict[str, Any]
COUNTRY_FIGURES = (
    "off_label_meat_factor", "off_label_milk_factor", "off_label_milk_least", "record_years",
    "dip_watercourse_m", "dip_well_m",
)  # fmt: skip
COUNTRY_LAWS = ("store_sale", "dip_competence", "dip_water", "organic")


@cache
def facts() -> Facts:
    """Everything that the shipped fact files state, read once."""
    return Facts(
        sources={key: _source(key, row) for key, row in _toml("sources.toml").items()},
        countries=_countries(_toml("countries.toml")),
        figures=_figures(_toml("figures.toml")),
        cautions=tuple(_caution(key, row) for key, row in _toml("cautions.toml").items()),
        risk=tuple(_risk_table(row) for row in _toml("risk.toml")["table"]),
        work_day=_work_day(_toml("work.toml")),
    )


def country_facts(code: str) -> CountryFacts | None:
    """Facts of an ISO 3166 country or part of one: its own, else its country's (GB-ENG: GB); None where unknown."""
    known = facts().countries
    return known.get(code) or known.get(code.partition("-")[0])


def _toml(name: str) -> Table:
    return tomllib.loads(package_text("scheduler.facts", name), parse_float=Decimal)


def _fact(row: Table) -> Fact:
    return Fact(Decimal(row["value"]), row["unit"], row["source"], row["seen"])


def _source(key: str, row: Table) -> Source:
    return Source(key, row["title"], row["publisher"], row.get("section", ""), row.get("read"), row["seen"])


def _caution(key: str, row: Table) -> Caution:
    return Caution(key, row["when"], row["text"], tuple(row["sources"]))


def _figures(table: Table) -> Figures:
    return Figures(**{name: _fact(table[name]) for name in Figures.__struct_fields__})


def _risk_table(row: Table) -> RiskTable:
    levels = tuple(Decimal(level) for level in row["levels"])
    return RiskTable(row["target"], Decimal(row["upto_latitude"]), levels, row["unit"], row["source"], row["seen"])


def _work_day(table: Table) -> WorkDay:
    kits = {form: _kit(row) for form, row in table["kit"].items()}
    return WorkDay(
        load_allowance=_fact(table["load_allowance"]),
        order_of_sheep=table["order_of_sheep"]["text"],
        every_form=kits.pop("every-form"),
        kits=kits,
    )


def _kit(row: Table) -> Kit:
    return Kit(tuple(row["kit"]), tuple(row["clothing"]), row["source"], row["seen"])


def _countries(tables: Table) -> dict[str, CountryFacts]:
    found = {code: _country(code, {**tables.get(_base(code, row), {}), **row}) for code, row in tables.items()}
    for member in tables["EU"]["members"]:
        found.setdefault(member, _country(member, tables["EU"]))
    return found


def _base(code: str, row: Table) -> str:
    return str(row.get("like", code.partition("-")[0]))


def _country(code: str, row: Table) -> CountryFacts:
    record, scab = row["record_fields"], row["scab_movement"]
    figures: Table = {name: _fact(row[name]) if name in row else None for name in COUNTRY_FIGURES}
    laws: Table = {name: Law(row[name]["text"], row[name]["source"], row[name]["seen"]) for name in COUNTRY_LAWS}
    return CountryFacts(
        code=code,
        name=row["name"],
        **figures,
        record_fields=RecordFields(tuple(record["columns"]), record["text"], record["source"], record["seen"]),
        scab_movement=ScabMovement(scab.get("forbidden"), scab["text"], scab["source"], scab["seen"]),
        **laws,
    )
