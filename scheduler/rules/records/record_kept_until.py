"""record-kept-until: how long the medicine record is kept."""

from collections.abc import Iterable
from datetime import date

from scheduler.facts import country_facts, facts
from scheduler.rules.contract import Breach, Rule
from scheduler.season import Doses, Season
from scheduler.words import say_day

SLUG = "record-kept-until"


def check(season: Season, doses: Doses) -> Iterable[Breach]:
    """Once: the day until which the record of the last dose, given or to be given, is kept."""
    days = [dose.day for dose in doses if dose.origin != "missed"]
    law = country_facts(season.settings.country)
    known = None if law is None else law.record_years
    years = (known or facts().figures.record_years).whole
    if days:
        why = f"{years} years" if known else f"{years} years, as the law here is not known"
        last, until = say_day(max(days)), say_day(kept_until(max(days), years))
        yield Breach(rule=SLUG, text=f"keep the medicine record; that of the last dose, {last}, until {until} ({why})")


def kept_until(day: date, years: int) -> date:
    """The same day so many years later; from 29 February on to 1 March, so that the years are full ones."""
    year = min(day.year + years, date.max.year)
    try:
        return day.replace(year=year)
    except ValueError:
        return date(year, 3, 1)


RULE = Rule(
    slug=SLUG,
    title="The medicine record is kept for as many years as the law asks.",
    why="An inspector may ask for it long after the sheep are gone.",
    severity="note",
    family="records",
    sources=("gb-keeping-records", "scotland-records", "ni-keeping-records", "eu-2019-6-art108"),
    whole=check,
)
