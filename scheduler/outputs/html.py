"""summary.html: the season on one page, for the screen, the phone and the barn door. One file that loads nothing."""

from contextlib import suppress
from typing import TYPE_CHECKING

from scheduler.report import (
    SeasonReport,
    Silhouette,
    cancelled_tasks,
    change_words,
    clear_words,
    cohort_words,
    coming,
    confirm_words,
    conflict_who,
    count_text,
    day_month,
    days_words,
    dose_line,
    dose_tables,
    drawing_of,
    headline,
    job_months,
    job_sheets,
    kg_text,
    label_name,
    lane_facts,
    list_text,
    little_bought,
    missed_tasks,
    ml_text,
    mob_facts,
    money_text,
    month_pages,
    month_text,
    moves_words,
    not_reckoned,
    number_text,
    open_points,
    opens_words,
    origin_words,
    price_words,
    reasons_of,
    risk_pictures,
    risk_words,
    span_text,
    step_words,
    weekday_text,
    who_text,
    words_of,
    year_plan_words,
    years_words,
)
from scheduler.words import say_day, shipped

if TYPE_CHECKING:
    from jinja2 import BytecodeCache, Environment
    from jinja2.bccache import Bucket

FILTERS = {
    "count": count_text,
    "day": say_day,
    "day_month": day_month,
    "days": days_words,
    "list_words": list_text,
    "month": month_text,
    "number": number_text,
    "weekday": weekday_text,
    "words": words_of,
    "origin": origin_words,
    "risk_words": risk_words,
    "moves_words": moves_words,
    "opens_words": opens_words,
    "year_plan": year_plan_words,
    "years_words": years_words,
    "clear": clear_words,
    "kg": kg_text,
    "ml": ml_text,
    "step_words": step_words,
}


def summary_html(report: SeasonReport) -> str:
    """The text of summary.html: HTML5 that is well-formed XML too, every name escaped, no script, nothing to fetch."""
    plan = report.plan
    page = _environment(report).get_template("summary.html.j2")
    told = page.render(
        report=report,
        plan=plan,
        drawing=drawing_of(report),
        risk_pictures=() if report.risk is None else risk_pictures(report.risk),
        months=job_months(report),
        coming=coming(report),
        missed=missed_tasks(report),
        cancelled=cancelled_tasks(report),
        points=open_points(plan.conflicts),
        month_pages=month_pages(report),
        sheets=job_sheets(report),
        dose_tables=dose_tables(report),
        worth=little_bought(report),
        not_reckoned=not_reckoned(report),
        in_season=plan.start <= plan.made_for <= plan.end,
    )
    return "".join(f"{line}\n" for line in told.split("\n") if line.strip())


def _environment(report: SeasonReport) -> "Environment":
    from jinja2 import Environment, FunctionLoader, StrictUndefined

    environment = Environment(
        loader=FunctionLoader(_template),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        finalize=_printable,
        bytecode_cache=_compiled_before(),
    )
    environment.filters.update(FILTERS)
    plan, currency = report.plan, report.plan.score.currency
    environment.filters.update(
        money=lambda minor: money_text(minor, currency, report.exponent),
        price=lambda choice: price_words(choice, currency, report.exponent),
        headline=lambda task: headline(report, task),
        dose_line=lambda task: dose_line(report, task),
        whom=lambda task: who_text(report, task),
        unconfirmed=lambda task: confirm_words(report, task),
        label_name=lambda label: label_name(report, label),
        part=lambda cohort: cohort_words(cohort, len(report.cohorts_of(cohort.group)) > 1),
        span=lambda span: span_text(span.first, span.last),
        outline=outline,
        lane_facts=lambda cohort: lane_facts(report, cohort),
        mob_facts=lambda mob: mob_facts(report, mob.mob, mob.groups),
        change=lambda change: change_words(report, change),
        reasons=lambda tasks: reasons_of(report, tasks),
        who=lambda conflict: conflict_who(conflict, plan.cohorts),
    )
    return environment


def _compiled_before() -> "BytecodeCache | None":
    """Templates as compiled by an earlier run, in the user's own folder for temporary files; None where it has none."""
    from jinja2 import FileSystemBytecodeCache

    class Kept(FileSystemBytecodeCache):
        def dump_bytecode(self, bucket: "Bucket") -> None:
            with suppress(OSError):  # a full disk, for one: the page is made all the same
                super().dump_bytecode(bucket)

    try:
        return Kept()
    except (OSError, RuntimeError):
        return None


def _template(name: str) -> str:
    return shipped("templates").joinpath(name).read_text(encoding="utf-8")


def _printable(value: object) -> object:
    """Plain text without the control characters that XML forbids (XML 1.0, 2.2); all else as it is."""
    if type(value) is str and not value.isprintable():
        return "".join(
            letter for letter in value if letter in "\t\n" or (letter >= " " and letter not in "\ufffe\uffff")
        )
    return value


def outline(silhouette: Silhouette) -> str:
    """The silhouette as SVG path data: days across, pixels down, closed along its foot."""
    foot = silhouette.height
    path = [f"M0 {foot}"]
    for day, height in silhouette.steps:
        path.append(f"H{day}V{foot - height}")
    path.append(f"H{silhouette.days}V{foot}Z")
    return "".join(path)
