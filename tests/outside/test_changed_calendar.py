"""A plan that is made again keeps its events' uids, raises SEQUENCE where one changed and cancels what is gone.

Source: RFC 5545 (IETF 2009), 3.8.4.7 (the same UID when an event moves), 3.8.7.4 (SEQUENCE never falls), 3.8.1.11
(STATUS:CANCELLED). That the three are put together this way is our reading of it.
"""

import shutil
from pathlib import Path

from tests.outside.content_lines import Component, events
from tests.outside.plans import SAMPLES, TODAY, run_plan

FARM = "fellside"
STORE_SALE = "Store sale,Late lambs,45,2027-09-10,store,any,yes,\n"


def replanned(tmp_path: Path, row: str, new_row: str) -> tuple[dict[str, Component], dict[str, Component]]:
    """Events by uid of a plan, and of the plan made again after one row of sales.csv was changed."""
    farm = shutil.copytree(SAMPLES / FARM, tmp_path / "farm", ignore=shutil.ignore_patterns("plan"))
    first = run_plan(farm, tmp_path / "out", TODAY[FARM])
    sales = farm / "sales.csv"
    text = sales.read_text(encoding="utf-8")
    assert row in text
    sales.write_text(text.replace(row, new_row), encoding="utf-8")
    second = run_plan(farm, tmp_path / "out", TODAY[FARM])
    return by_uid(events(first.calendar)), by_uid(events(second.calendar))


def by_uid(found: list[Component]) -> dict[str, Component]:
    """Events by uid."""
    return {event.one("UID").value: event for event in found}


def sale_of(found: dict[str, Component], day: str) -> str:
    """The uid of the sale on a day."""
    sales = {uid: event for uid, event in found.items() if event.one("CATEGORIES").value == "sale"}
    (uid,) = [uid for uid, event in sales.items() if event.one("DTSTART").value == day]
    return uid


def test_a_moved_sale_keeps_its_uid_and_raises_its_sequence(tmp_path: Path) -> None:
    first, second = replanned(tmp_path, STORE_SALE, STORE_SALE.replace("09-10", "09-11"))
    uid = sale_of(first, "20270910")
    assert second[uid].one("DTSTART").value == "20270911"
    assert (first[uid].one("SEQUENCE").value, second[uid].one("SEQUENCE").value) == ("0", "1")


def test_a_sale_that_is_gone_stays_as_cancelled(tmp_path: Path) -> None:
    first, second = replanned(tmp_path, STORE_SALE, "")
    uid = sale_of(first, "20270910")
    assert (first[uid].one("STATUS").value, second[uid].one("STATUS").value) == ("CONFIRMED", "CANCELLED")
    assert (first[uid].one("SEQUENCE").value, second[uid].one("SEQUENCE").value) == ("0", "1")
    assert [part for part in second[uid].inside if part.kind == "VALARM"] == []


def test_an_unchanged_plan_changes_no_event(tmp_path: Path) -> None:
    first, second = replanned(tmp_path, STORE_SALE, STORE_SALE)
    assert first == second
