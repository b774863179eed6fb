"""sale-declaration: who buys sheep inside withdrawal must be told."""

from scheduler.facts import country_facts
from scheduler.rules.contract import Breach, Rule, of_dose
from scheduler.season import Course, Season, clear_day, meat_days
from scheduler.words import say_day

SLUG = "sale-declaration"


def check(season: Season, course: Course) -> Breach | None:
    """A store or breeding sale before the clear date; unknown meat days are inside withdrawal whatever the date."""
    dose = course.last
    sale = dose.cohort.sale
    if sale is None or sale.purpose not in ("store", "breeding") or dose.day >= sale.day:
        return None
    days = meat_days(season, course).days
    if days is not None and clear_day(dose.day, days) <= sale.day:
        return None
    until = "its withdrawal is not known" if days is None else f"clear on {say_day(clear_day(dose.day, days))}"
    law = country_facts(season.settings.country)
    text = (
        f"{sale.purpose} sale on {say_day(sale.day)} ({sale.where}) inside withdrawal: {until}; hand it over in writing"
        f"{'' if law is None else f'. {law.store_sale.said}'}"
    )
    return of_dose(SLUG, dose, text, sale.where)


RULE = Rule(
    slug=SLUG,
    title="Store and breeding sheep sold inside withdrawal go with their clear date in writing.",
    why="The buyer may send them to slaughter the next day; no paper tells him of an open withdrawal unless you do.",
    severity="warn",
    family="sales",
    sources=("fci-wales", "au-withholding", "country-law-memory"),
    course=check,
)
