"""Rules about days that warn or note: the day before their boundary, the day, and the day after, for any figures.

The figures are drawn, the boundary is reckoned here from the words of the rule, and the farm is that of the first case
of the rule with what was drawn.
"""

from collections.abc import Callable, Mapping
from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.rules import Case, cases
from scheduler.rules.case_farm import merged

Content = Mapping[str, Any]
DOSED = date(2027, 6, 20)
GIVEN = [{"day": DOSED}]


def after(day: date, days: int) -> date:
    """The day so many days later."""
    return day + timedelta(days=days)


def dags(days: int, off: int) -> tuple[Content, bool]:
    """Dags stand for 28 days, by the definition of dirty-fleece; `days` moves the finding."""
    found = after(DOSED, -days)
    finding = {"date": found, "group": "Lambs", "what": "dags", "head": 12}
    return {"today": found, "findings": [finding], "doses": [{"day": after(found, 28 + off)}]}, off <= 0


def handling(days: int, off: int) -> tuple[Content, bool]:
    """Sheep are in hand within the handling days, the day of the dose itself apart."""
    return gathered(days, days + off), off <= 0 < days + off


def handled_from(days: int, off: int) -> tuple[Content, bool]:
    """The handling days begin on the day after the dose."""
    return gathered(days, off), off > 0


def gathered(days: int, later: int) -> Content:
    """A label with so many handling days, and a gather so many days after the dose."""
    gather = {"date": after(DOSED, later), "what": "gather", "groups": "Ewes;Lambs"}
    return {"labels": {"pour": {"limits": {"handling_days": days}}}, "doses": GIVEN, "events": [gather]}


def early(days: int, off: int) -> tuple[Content, bool]:
    """The first day at risk is more than the lead days after the dose."""
    first = after(DOSED, days - off)
    row = {"target": "blowfly-strike", "from": first, "to": after(first, 60), "level": "0.6"}
    return {"farm": {"plan": {"lead_days": days}}, "doses": GIVEN, "risk": [row]}, off < 0


def declared(days: int, off: int) -> tuple[Content, bool]:
    """Sheep are sold as stores before their clear date: the dose, the days stated, and one more."""
    sale = {"group": "Lambs", "head": 80, "date": after(DOSED, days + 1 + off), "purpose": "store"}
    return {"labels": {"pour": {"withdrawal": {"meat": days}}}, "doses": GIVEN, "sales": {"August": sale}}, off < 0


def ended(days: int, off: int) -> tuple[Content, bool]:
    """Shearing falls on or before the last day that the label may give, and after the dose."""
    return shorn(days, days + 4 + off), off <= 0


def ended_from(days: int, off: int) -> tuple[Content, bool]:
    """A dose on the day of shearing comes after it."""
    return shorn(days, off), off > 0


def shorn(days: int, later: int) -> Content:
    """A dose that protects for `days` to five days more, and a shearing so many days after it."""
    use = {"protects_days": [days, days + 5], "ends_at": ["shearing"]}
    event = {"date": after(DOSED, later), "what": "shearing", "groups": "Ewes"}
    return {"labels": {"pour": {"uses": {"guard": use}}}, "doses": GIVEN, "events": [event]}


def checked(days: int, off: int) -> tuple[Content, bool]:
    """The label was compared with the leaflet more than 400 days ago."""
    today = after(DOSED, -days)
    label = {"pour": {"checked": after(today, -400 - off)}}
    return {"today": today, "labels": label, "doses": GIVEN}, off > 0


def stopped(days: int, off: int) -> tuple[Content, bool]:
    """Sheep go before the first day on which scab no longer stands."""
    found = date(2027, 6, 10)
    cleared = after(found, days + 1)
    finding = {"date": found, "group": "Ewes", "what": "scab", "head": 1, "cleared": cleared}
    sale = {"group": "Lambs", "head": 80, "date": after(cleared, off), "purpose": "store"}
    return {"today": found, "findings": [finding], "sales": {"August": sale}}, off < 0


def hard_from(days: int, off: int) -> tuple[Content, bool]:
    """A hard day falls in the last third of the planning days, a part day left out: it begins there."""
    planning = days + 9
    return hard(planning, after(DOSED, planning - planning // 3 + off)), off >= 0


def hard_until(days: int, off: int) -> tuple[Content, bool]:
    """And it ends with the last planning day."""
    return hard(days + 9, after(DOSED, days + 8 + off)), off <= 0


def hard(planning: int, day: date) -> Content:
    """A dose of so many planning days, and one day on which flies press hard."""
    row = {"target": "blowfly-strike", "from": day, "to": day, "level": "0.8"}
    use = {"protects_days": [planning, planning + 7]}
    return {"labels": {"pour": {"uses": {"guard": use}}}, "doses": GIVEN, "risk": [row]}


def ordered(days: int, off: int) -> tuple[Content, bool]:
    """Nothing is in stock, and the day to order is past: the dose less the lead days."""
    today = after(DOSED, off - days)
    return {"today": today, "farm": {"work": {"order_lead_days": days}}, "stock": [], "doses": GIVEN}, off > 0


BOUNDARIES: dict[str, tuple[str, Callable[[int, int], tuple[Content, bool]]]] = {
    "dags that stand": ("dirty-fleece", dags),
    "handling days": ("handling-people", handling),
    "the day of the dose, handled": ("handling-people", handled_from),
    "lead days": ("too-early", early),
    "the clear date": ("sale-declaration", declared),
    "the last day of the label": ("ended-by-shearing", ended),
    "the day of the dose, shorn": ("ended-by-shearing", ended_from),
    "the check of a label": ("unconfirmed-label", checked),
    "scab that is cleared": ("movement-stop", stopped),
    "the last third begins": ("high-challenge", hard_from),
    "the last third ends": ("high-challenge", hard_until),
    "the day to order": ("order-time", ordered),
}


@pytest.mark.parametrize("boundary", BOUNDARIES)
@settings(max_examples=12, deadline=None)
@given(days=st.integers(min_value=1, max_value=25))
def test_a_rule_speaks_on_its_own_side_of_the_boundary_and_is_silent_on_the_other(boundary: str, days: int) -> None:
    slug, draw = BOUNDARIES[boundary]
    for off in (-1, 0, 1):
        content, is_said = draw(days, off)
        case = Case(slug=slug, name=boundary, content=merged(cases(slug)[0].content, content), expected=())
        said = [breach.text for breach in case.found()]
        assert bool(said) == is_said, (off, content, said)
