"""The risk of each target as a picture: levels over the season, how far years differ, and this year so far."""

import io
from typing import TYPE_CHECKING

from scheduler.report import RiskReport, TargetRisk, number_text, words_of
from scheduler.words import days_of, say_day

if TYPE_CHECKING:
    from matplotlib.axes import Axes

INCHES_WIDE, INCHES_HIGH, DOTS_PER_INCH = 9.0, 2.6, 120
SPREAD, MEDIAN, PLAN, OWN, ACT = "#c9d8c5", "#58744f", "#1d2b3a", "#b4471f", "#6b6b6b"


def risk_png(report: RiskReport) -> bytes:
    """A PNG with a panel for each target; lines differ in width and dashes too, not in colour alone."""
    from matplotlib.figure import Figure

    rows = max(1, len(report.targets))
    figure = Figure(figsize=(INCHES_WIDE, INCHES_HIGH * rows + 0.6), layout="constrained")
    panels = figure.subplots(rows, 1, squeeze=False)[:, 0]
    for axes, risk in zip(panels, report.targets, strict=False):
        _panel(axes, risk, report)
    figure.suptitle(f"{report.farm}: risk as known on {say_day(report.made_for)}")
    figure.supxlabel("What is likely, not a promise: look at the sheep as often as before.", fontsize=8)
    picture = io.BytesIO()
    figure.savefig(picture, format="png", dpi=DOTS_PER_INCH, metadata={"Software": None})
    return picture.getvalue()


def _panel(axes: "Axes", risk: TargetRisk, report: RiskReport) -> None:
    act = number_text(risk.act_level)
    axes.set_title(f"{words_of(risk.target).capitalize()} (levels from {risk.source}; act level {act})", loc="left")
    if risk.days:
        _years(axes, risk)
    else:
        _rows(axes, risk)
    axes.axhline(float(risk.act_level), color=ACT, ls="--", lw=1, label="act level")
    axes.set_ylim(0, 1.05)
    axes.set_xlim(report.start.toordinal(), report.end.toordinal())
    axes.set_ylabel("level")
    months = [day for day in days_of(report.start, report.end) if day.day == 1]
    axes.set_xticks([day.toordinal() for day in months], [say_day(day)[2:5] for day in months])
    axes.legend(fontsize=7, loc="upper right", framealpha=0.8)


def _years(axes: "Axes", risk: TargetRisk) -> None:
    days = [day.day.toordinal() for day in risk.days]
    low, high = [float(day.low) for day in risk.days], [float(day.high) for day in risk.days]
    axes.fill_between(days, low, high, color=SPREAD, label="4 years of 5 to 1 year of 5")
    axes.plot(days, [float(day.middle) for day in risk.days], color=MEDIAN, lw=1.2, label="median year")
    axes.plot(days, [float(day.planned) for day in risk.days], color=PLAN, lw=2.2, label="in the plan")
    own = [(day.day.toordinal(), float(day.own)) for day in risk.days if day.own is not None]
    if own:
        axes.plot(*zip(*own, strict=True), color=OWN, lw=1.8, ls=":", label="this year so far")


def _rows(axes: "Axes", risk: TargetRisk) -> None:
    for groups in dict.fromkeys(run.groups for run in risk.runs):
        runs = [run for run in risk.runs if run.groups == groups]
        edges = [day.toordinal() for run in runs for day in (run.first, run.last)]
        axes.plot(edges, [float(run.level) for run in runs for _ in range(2)], lw=2.2, label="; ".join(groups))
