"""record-complete: what was planned or done is written down."""

from collections.abc import Iterable

from scheduler.facts import country_facts
from scheduler.farm import Event, RecordRow
from scheduler.rules.contract import Breach, Rule, of_dose
from scheduler.season import Doses, Season
from scheduler.words import say_day

SLUG = "record-complete"
FIELDS = {"ml_per_head": "ml_per_head", "batch": "batch", "by": "by"}
"""Columns of record.csv that may be empty, as the country's facts name them."""


def check(season: Season, doses: Doses) -> Iterable[Breach]:
    """Past planned doses without a row, dippings that nothing matches, and fields that the law asks for."""
    for dose in doses:
        if dose.origin == "missed":
            yield of_dose(SLUG, dose, f"planned for {say_day(dose.day)} and not recorded: given or not? write a row")
    for event in season.farm.events:
        if event.what == "dipping":
            yield from _unmatched(season, event)
    for row in season.farm.record:
        if row.given:
            yield from _missing(season, row)


def _unmatched(season: Season, event: Event) -> Iterable[Breach]:
    dips = {label.id for label in season.farm.labels.values() if label.form == "dip"}
    rows = [(row.group, row.day) for row in season.farm.record if row.label in dips and row.given]
    rows += [(wish.group, wish.day) for wish in season.farm.wishes if wish.label in dips]
    for name in event.groups:
        if not any(group == name and event.first <= day <= event.last for group, day in rows):
            text = f"dipping of {name} on {say_day(event.first)}: no row of wishes.csv or record.csv says with what"
            yield Breach(rule=SLUG, text=text, group=name, where=event.where)


def _missing(season: Season, row: RecordRow) -> Iterable[Breach]:
    law = country_facts(season.settings.country)
    wanted = () if law is None else law.record_fields.columns
    empty = [name for name in wanted if name in FIELDS and not getattr(row, FIELDS[name])]
    if empty:
        memory = " (from memory)" if law is not None and law.record_fields.seen == "from memory" else ""
        text = f"the record of {say_day(row.day)} lacks {', '.join(empty)}, which the law asks for{memory}"
        yield Breach(rule=SLUG, text=text, group=row.group, day=row.day, where=row.where)


RULE = Rule(
    slug=SLUG,
    title="The medicine record holds every dose, with all that the law asks for.",
    why="An inspector, the abattoir and next year's plan all read it; what is missing counts against you.",
    severity="note",
    family="records",
    sources=("eu-2019-6-art108", "gb-vmr-2013-part3"),
    whole=check,
)
