"""The risk of each target, as text for the terminal and as JSON (schema `season-risk/1`)."""

from collections.abc import Iterator
from datetime import date

from scheduler.outputs.json import Value, json_text
from scheduler.outputs.screen import WIDTH, Line, Paragraph, lines_text, table_lines
from scheduler.report import (
    MOVED,
    RiskReport,
    RiskRun,
    TargetRisk,
    modified_words,
    moves_words,
    number_text,
    origin_words,
    words_of,
)
from scheduler.words import say_day

EVERY_DAYS = 14
"""Days from one row of the table of levels to the next."""
SPREAD = ("1 year of 5", "median year", "4 years of 5")


def risk_text(report: RiskReport, width: int = WIDTH) -> str:
    """Each target with its dates and levels, then what must be said of them. width: columns."""
    title = f"{report.farm}: risk from {say_day(report.start)} to {say_day(report.end)}, as known on "
    blocks: list[list[Line]] = [[Paragraph(f"{title}{say_day(report.made_for)}")]]
    blocks += [list(_target(report, target, width)) for target in report.targets]
    moved = list(moves_words(report.moves))
    if moved:
        blocks.append([Paragraph(MOVED), *(Paragraph(text, "  ", "    ") for text in moved)])
    blocks.append([Paragraph(text, "- ") for text in (*report.notes, *report.cautions)])
    return "\n".join(lines_text(block, width) for block in blocks)


def _target(report: RiskReport, risk: TargetRisk, width: int) -> Iterator[Line]:
    act = number_text(risk.act_level)
    yield Paragraph(f"{words_of(risk.target).capitalize()}: levels from {origin_words(risk)}; act level {act}")
    if risk.starts.early is None and risk.ends.late is None:
        yield Paragraph("The act level is not reached this season.", "  ", "    ")
    elif risk.days:
        rows = [[word, *(_day(day) for day in (dates.early, dates.middle, dates.late))]
                for word, dates in (("begins by", risk.starts), ("ends by", risk.ends))]  # fmt: skip
        yield from _indented(["", *SPREAD], rows, width)
        yield ""
        own = ["this year"] if risk.this_year is not None else []
        yield from _indented(["level on", "in the plan", *SPREAD, *own], _levels(risk), width)
    else:
        yield from _indented(["from", "to", "level", "groups"], [_run(run) for run in risk.runs if run.level], width)
    yield from (Paragraph(modified_words(found), "  ", "    ") for found in risk.modified)


def _levels(risk: TargetRisk) -> list[list[str]]:
    """A row every fortnight from the last without any risk to the first; `*` where the plan's level asks to act."""
    rows = [
        [
            say_day(day.day),
            f"{number_text(day.planned)}{' *' if day.planned >= risk.act_level else ''}",
            *(number_text(level) for level in (day.high, day.middle, day.low)),
            *([] if risk.this_year is None else ["" if day.own is None else number_text(day.own)]),
        ]
        for day in risk.days[::EVERY_DAYS]
    ]
    some = [place for place, row in enumerate(rows) if any(cell not in ("0", "") for cell in row[1:])]
    return rows[max(0, some[0] - 1) : some[-1] + 2] if some else rows[:1]


def _run(run: RiskRun) -> list[str]:
    return [say_day(run.first), say_day(run.last), number_text(run.level), "; ".join(run.groups)]


def _day(day: date | None) -> str:
    return "not at all" if day is None else say_day(day)


def _indented(head: list[str], rows: list[list[str]], width: int) -> Iterator[str]:
    yield from (f"  {line}" for line in table_lines(head, rows, width - 2))


def risk_json(report: RiskReport) -> str:
    """The contract's keys in the contract's order; levels at two decimals, days as ISO dates."""
    targets = [_target_value(target) for target in report.targets]
    return json_text({"schema": "season-risk/1", "made_for": report.made_for, "targets": targets})


def _target_value(risk: TargetRisk) -> Value:
    now = risk.this_year
    return {
        "target": risk.target,
        "source": risk.source,
        "years": risk.years,
        "starts": {"early": risk.starts.early, "middle": risk.starts.middle, "late": risk.starts.late},
        "ends": {"early": risk.ends.early, "middle": risk.ends.middle, "late": risk.ends.late},
        "this_year": None if now is None else {"days_early": now.days_early, "through": now.through},
        "runs": [{"groups": run.groups, "from": run.first, "to": run.last, "level": run.level} for run in risk.runs],
    }
