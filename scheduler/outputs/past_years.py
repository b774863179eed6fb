"""The plan in past years, beside plans made on single years: for the terminal, and years.json."""

from collections.abc import Sequence

from scheduler.outputs.json import Value, json_text
from scheduler.outputs.screen import WIDTH, Line, Paragraph, lines_text, table_lines
from scheduler.report import SeasonReport, YearPlan, day_month, money_text, opens_words, year_plan_words, years_words

NO_YEARS = "No level of this plan follows years of weather, so it cannot be tried in them."


def past_years_text(report: SeasonReport, width: int = WIDTH) -> str:
    """The plans side by side, and exposed sheep-days of each in every year; a sentence where there are no years."""
    plans = report.years
    if not plans:
        return "\n" + lines_text([Paragraph(NO_YEARS)], width)
    currency = report.plan.score.currency
    made = [
        [year_plan_words(plan), opens_words(plan), "none" if plan.first_dose is None else day_month(plan.first_dose),
         str(plan.doses), money_text(plan.money_minor, currency, report.exponent)]
        for plan in plans
    ]  # fmt: skip
    rows = [[str(own[0].year), *(f"{year.exposed_sheep_days:,}" for year in own)]
            for own in zip(*(plan.years for plan in plans), strict=True)]  # fmt: skip
    lines: list[Line] = [
        "The plan beside plans made on single years:",
        *_indented(["made on", "first day at risk", "first dose", "doses", "cost"], made, width),
        "",
        "In past years, exposed sheep-days with the doses of each:",
        *_indented(["weather of", *(plan.made_on if plan.year else "this plan" for plan in plans)], rows, width),
        *(Paragraph(sentence) for sentence in years_words(plans)),
    ]
    return "\n" + lines_text(lines, width)


def _indented(head: list[str], rows: list[list[str]], width: int) -> list[str]:
    return [f"  {line}" for line in table_lines(head, rows, width - 2)]


def years_json(report: SeasonReport) -> str:
    """The text of years.json (schema `season-years/1`)."""
    return json_text(
        {
            "schema": "season-years/1",
            "made_for": report.plan.made_for,
            "currency": report.plan.score.currency,
            "plans": [_plan(plan) for plan in report.years],
        }
    )


def _plan(plan: YearPlan) -> Value:
    years: Sequence[Value] = [{"year": own.year, "exposed_sheep_days": own.exposed_sheep_days} for own in plan.years]
    return {
        "made_on": plan.made_on,
        "year": plan.year,
        "status": "proved" if plan.is_proved else "best-found",
        "opens": [{"target": target, "date": day} for target, day in plan.opens],
        "first_dose": plan.first_dose,
        "doses": plan.doses,
        "money_minor": plan.money_minor,
        "years": years,
    }
