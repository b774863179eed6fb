"""expired: medicine that is out of date or was open too long."""

from collections.abc import Iterable

from scheduler.farm import StockRow
from scheduler.labels import Label
from scheduler.rules.contract import Breach, Rule
from scheduler.season import Doses, Season, keeps_until
from scheduler.words import say_day, say_days, say_number

SLUG = "expired"


def check(season: Season, doses: Doses) -> Iterable[Breach]:
    """Rows of the stock that keep neither to the first dose of their label nor, where there is none, to made_for."""
    firsts = {dose.label.id: dose.day for dose in reversed(doses.all) if dose.is_ours}
    for row in season.farm.stock:
        label = season.farm.labels[row.label]
        if keeps_until(label, row) < firsts.get(row.label, season.made_for):
            batch = f", batch {row.batch}" if row.batch else ""
            text = f"{say_number(row.ml)} ml of {label.name}{batch} do not count: {_reason(label, row)}"
            yield Breach(rule=SLUG, text=text, where=row.where)


def _reason(label: Label, row: StockRow) -> str:
    last = keeps_until(label, row)
    if row.expires == last:
        return f"in date until {say_day(last)} only"
    return f"opened too long ago, the label allows {say_days(label.opened_days or 0)}, until {say_day(last)}"


RULE = Rule(
    slug=SLUG,
    title="Medicine that is out of date or was open too long is not used.",
    why="What it still holds nobody knows: it may be too weak, or spoiled.",
    severity="warn",
    family="work",
    sources=("label-in-hand", "common-practice"),
    whole=check,
)
