"""What the withdrawal rules share: each speaks where it is the first of them that a course breaks."""

from scheduler.rules.contract import Breach, CourseCheck, of_dose
from scheduler.season import Course, SaleBar, Season, sale_bar
from scheduler.words import say_day, say_days


def sale_check(slug: str, period: str) -> CourseCheck:
    """The check of one withdrawal rule; `period` names the days in its sentence."""

    def check(season: Season, course: Course) -> Breach | None:
        bar = sale_bar(season, course)
        if bar is None or bar.slug != slug:
            return None
        dose = course.last if slug == "repeat-before-sale" else course.doses[0]
        sale = dose.cohort.sale
        return of_dose(slug, dose, _text(season, course, bar, period), None if sale is None else sale.where)

    return check


def _text(season: Season, course: Course, bar: SaleBar, period: str) -> str:
    sale, last = course.last.cohort.sale, course.last
    if sale is None:
        return f"{period} is not permitted: never for sheep that are to be eaten"
    sold = f"{sale.head} head for {sale.purpose} on {say_day(sale.day)} ({sale.where})"
    if bar.clear is None or bar.days is None:
        return f"{period} is not known, not permitted or cannot run out; {sold}"
    margin = season.settings.sale_margin_days
    late = (bar.clear - sale.day).days + margin
    kept = f" with a margin of {say_days(margin)}" if margin else ""
    when = f"dose of {say_day(last.day)} is clear on {say_day(bar.clear)} ({say_days(bar.days)})"
    return f"{period}: {sold}; {when}, {say_days(late)} late{kept}"
