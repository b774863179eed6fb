"""The frontier as the terminal shows it."""

from scheduler.outputs.screen import WIDTH, Paragraph, lines_text, table_lines
from scheduler.report import SeasonReport, money_text

HEAD = ("Exposed", "Cost", "Saves", "Newly open beside the row above")


def trade_text(report: SeasonReport, width: int = WIDTH) -> str:
    """What is proved, and a row for each plan, least exposed first; empty where no frontier was asked for.

    * marks the plan that the files hold.
    """
    trade, currency = report.trade, report.plan.score.currency
    if trade is None:
        return ""
    rows = [
        (
            f"{'* ' if row.here else ''}{row.exposed_sheep_days:,}",
            money_text(row.money_minor, currency, report.exponent),
            "" if row.saved_minor is None else money_text(row.saved_minor, currency, report.exponent),
            row.opened,
        )
        for row in trade.rows
    ]
    told = [Paragraph("What more money buys, in exposed sheep-days (* the plan in the files):")]
    return "\n" + lines_text([*told, *(table_lines(HEAD, rows, width) if rows else []), Paragraph(trade.words)], width)
