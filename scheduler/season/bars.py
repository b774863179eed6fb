"""What a sale, the milk tank or the shears forbid: the first withdrawal rule that a course breaks."""

from datetime import date, timedelta

from msgspec import Struct

from scheduler.season.cohorts import Cohort
from scheduler.season.doses import Course
from scheduler.season.season import Season
from scheduler.season.withdrawal import Period, clear_day, meat_period, milk_period


class SaleBar(Struct, frozen=True):
    """Why a course may not stand before its cohort's sale. `clear` None: never, or not known."""

    slug: str
    clear: date | None
    days: int | None


def meat_days(season: Season, course: Course) -> Period:
    """Meat withdrawal that the course brings, with directions and organic rule."""
    return meat_period(course.last.label.meat, season.settings.country, season.settings.organic, course.directions)


def milk_days(season: Season, course: Course) -> Period:
    """Milk withdrawal that the course brings, with directions and organic rule."""
    return milk_period(course.last.label.milk, season.settings.country, season.settings.organic, course.directions)


def is_for_meat(cohort: Cohort) -> bool:
    """Whether the cohort's sale sends it to be eaten: slaughter or export."""
    return cohort.sale is not None and cohort.sale.purpose in ("slaughter", "export")


def export_binds(cohort: Cohort) -> bool:
    """Whether the export interval counts for the cohort's sale."""
    sale = cohort.sale
    return sale is not None and (sale.purpose == "export" or (sale.purpose == "slaughter" and cohort.group.export))


def sale_bar(season: Season, course: Course) -> SaleBar | None:
    """The first withdrawal rule that the course breaks: of its first dose, else what only the repeat breaks."""
    first = course.doses[0]
    if first.cohort.sale is None and first.label.meat != "not-permitted":
        return None
    bar = _bar(season, course, first.day)
    if bar is not None or course.last is first:
        return bar
    late = _bar(season, course, course.last.day)
    if late is not None:
        return SaleBar("repeat-before-sale", late.clear, late.days)
    sale = first.cohort.sale
    if sale is not None and course.last.day >= sale.day:
        return SaleBar("repeat-before-sale", None, None)
    return None


def _bar(season: Season, course: Course, last: date) -> SaleBar | None:
    """The first rule in the order of slugs by which a last dose on `last` comes too near the sale."""
    dose = course.doses[0]
    label, cohort = dose.label, dose.cohort
    if label.meat == "not-permitted":
        return SaleBar("meat-withdrawal", None, None)
    sale = cohort.sale
    if sale is None or not is_for_meat(cohort) or dose.day >= sale.day:
        return None
    meat = meat_days(season, course)
    if meat.stated is None:
        return SaleBar("meat-withdrawal", None, None)
    latest = sale.day - timedelta(days=season.settings.sale_margin_days)
    steps: list[tuple[str, int | None]] = [("meat-withdrawal", meat.stated)]
    if export_binds(cohort):
        steps.append(("export-interval", label.export if isinstance(label.export, int) else None))
    if course.directions:
        written = all(row.meat_days is not None for row in course.directions)
        steps.append(("off-label-withdrawal", meat.off_label if written else None))
    steps.append(("organic-withdrawal", meat.organic))
    for slug, days in steps:
        if days is None:
            return SaleBar(slug, None, None)
        if clear_day(last, days) > latest:
            return SaleBar(slug, clear_day(last, days), days)
    return None
