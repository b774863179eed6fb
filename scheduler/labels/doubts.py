"""Figures of a label that lie outside what leaflets of the same active were seen to state."""

from collections.abc import Iterator, Sequence

from scheduler.facts import LabelRange, facts, label_ranges
from scheduler.labels.model import Days, Label
from scheduler.words import say_days

NOT_PERMITTED = "not-permitted"


def doubts_of(label: Label) -> tuple[str, ...]:
    """Whole sentences, each naming a figure, what was seen for the active, and where; empty where all is usual.

    A doubt is no fault: labels differ between countries, strengths and editions, and the leaflet in hand decides.
    """
    own = [row for row in label_ranges() if row.active.casefold() == label.active_key]
    if not own:
        return (f"No printed figures of {label.active} are known here to compare with: read the leaflet once more.",)
    rows = [row for row in own if row.form == label.form] or own
    return tuple(_doubts(label, rows))


def _doubts(label: Label, rows: Sequence[LabelRange]) -> Iterator[str]:
    yield from _doubt("meat withdrawal", label.meat, _of("meat", rows))
    yield from _doubt("milk withdrawal", label.milk, _of("milk", rows))
    for use in label.uses:
        if use.purpose == "prevent":
            yield from _doubt(f"{use.id}, longest protection", use.protects_days[1], _of("protects", rows))


def _of(figure: str, rows: Sequence[LabelRange]) -> list[LabelRange]:
    return [row for row in rows if row.figure == figure]


def _doubt(what: str, stated: Days, rows: Sequence[LabelRange]) -> Iterator[str]:
    """A figure that is not stated raises no doubt: it is taken as unknown, the careful way."""
    if not rows or stated is None or any(_holds(row, stated) for row in rows):
        return
    found = say_days(stated) if isinstance(stated, int) else "not permitted"
    seen = " or ".join(dict.fromkeys(_seen(row) for row in rows))
    sources = "; ".join(dict.fromkeys(facts().source(row.source).text for row in rows))
    yield f"{what}: {found}, where leaflets of the same active were seen to state {seen} ({sources})."


def _holds(row: LabelRange, stated: Days) -> bool:
    if row.least is None or row.most is None or not isinstance(stated, int):
        return row.not_permitted and stated == NOT_PERMITTED
    return row.least <= stated <= row.most


def _seen(row: LabelRange) -> str:
    if row.least is None or row.most is None:
        return "that it is not permitted"
    return say_days(row.most) if row.least == row.most else f"{row.least} to {say_days(row.most)}"
