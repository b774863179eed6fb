"""How the plan would have fared in past years, as text for the terminal."""

from collections.abc import Sequence

from scheduler.outputs.screen import WIDTH, Line, Paragraph, lines_text, table_lines
from scheduler.report import PastYear


def past_years_text(years: Sequence[PastYear], width: int = WIDTH) -> str:
    """A table of exposed sheep-days by year, and what it means; a sentence where there are no years of weather."""
    if not years:
        said = "No level of this plan follows years of weather, so it cannot be tried in them."
        return "\n" + lines_text([Paragraph(said)], width)
    rows = [[str(year.year), f"{year.exposed_sheep_days:,}"] for year in years]
    none = sum(not year.exposed_sheep_days for year in years)
    lines: list[Line] = [
        "In past years, with the doses of this plan:",
        *(f"  {line}" for line in table_lines(["weather of", "exposed sheep-days"], rows, width - 2)),
        Paragraph(f"None exposed in {none} of {len(years)} years. Days that only fade count as exposed."),
    ]
    return "\n" + lines_text(lines, width)
