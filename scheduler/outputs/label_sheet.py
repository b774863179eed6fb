"""The sheet on which an adviser or vet signs off the figures of a label: one file that loads nothing, for A4."""

from scheduler.report import LabelSheet
from scheduler.words import say_day, shipped


def label_html(sheet: LabelSheet) -> str:
    """The text of the sheet: HTML5 that is well-formed XML too, every name escaped, black on white."""
    from jinja2 import Environment, StrictUndefined

    environment = Environment(
        autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True, keep_trailing_newline=True
    )
    environment.filters["day"] = say_day
    page = shipped("templates").joinpath("label.html.j2").read_text(encoding="utf-8")
    return environment.from_string(page).render(sheet=sheet, label=sheet.label)
