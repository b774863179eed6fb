"""The page on a farm that is really planned: each dose unfolds to its reasons, and doses that buy least stand first."""

import xml.etree.ElementTree as ET
from decimal import Decimal
from functools import cache

from msgspec.structs import replace

from scheduler.labels import Pack
from scheduler.outputs import summary_html
from scheduler.plan import plan_to_explain
from scheduler.report import SeasonReport, cautions_of, report_of
from tests.plan.flock import BEFORE, ewes, farm, label, may, prevent, risk, sale
from tests.properties.planning import never

HTML = "{http://www.w3.org/1999/xhtml}"


@cache
def explained() -> SeasonReport:
    """50 ewes and 4 tups at risk all May, the ewes sold in autumn; a label for six weeks and a dearer one."""
    one = farm(
        groups=(ewes(), ewes(name="Tups", kind="ram", head=4, mob="Tups")),
        labels={
            "fly": label(uses=(prevent(kinds=("ewe", "ram")),)),
            "dear": label(
                id="dear",
                name="Demo dear (invented)",
                checked=None,
                uses=(prevent(),),
                packs=(Pack(ml=Decimal(2500), price=Decimal(93)),),
            ),
        },
        risk=(risk(may(1), may(31)),),
        sales=(sale(may(150)),),
    )
    plan, explainer = plan_to_explain(one, BEFORE, None, never)
    plan = replace(plan, whys=explainer.page(plan.tasks, never, worth=True))
    return report_of(plan, one, cautions_of(plan, one))


def page() -> ET.Element:
    """The page as a tree."""
    return ET.fromstring(summary_html(explained()).split("\n", 1)[1])


def words(part: ET.Element) -> str:
    """All words inside an element."""
    return " ".join(" ".join(part.itertext()).split())


def folded(name: str) -> str:
    """What unfolds under the task whose summary ends with this name."""
    for part in page().iter(f"{HTML}details"):
        if words(part).partition(" : ")[2].startswith(name):
            return words(part)
    raise LookupError(name)


def test_a_dose_unfolds_to_reasons_bounds_room_next_best_day_and_other_labels() -> None:
    told = folded("Ewes, 50 head (for Mart) ") + folded("Demo fly")
    for part in (
        "Blowfly strike: covers 31 days at risk",
        "Earliest Sat 1 May. The season begins on 1 May.",
        "Latest Sat 1 May. On 2 May it would leave 50 sheep-days more exposed.",
        "Room to move, all else as planned: from Sun 2 May 50 sheep-days a day",
        "Next best day: Sun 2 May: 50 exposed sheep-days more, GBP 0.00",
        "Why not Demo dear (invented) (guard, label not confirmed): 0 exposed sheep-days, GBP 0.20 more.",
    ):
        assert part in told, told


def test_what_is_true_of_all_doses_of_a_block_is_told_once() -> None:
    shared = folded("Demo fly")
    assert shared.startswith("Why, all of these")
    assert "Blowfly strike: covers 31 days at risk" in shared
    assert words(page()).count("Blowfly strike: covers 31 days at risk") == 1


def test_beside_a_dose_stands_what_changes_without_it() -> None:
    assert (
        "Dose Ewes, 50 head (for Mart): 10 ml a head, 500 ml in all Without it: 1,550 exposed sheep-days more"
        in words(page())
    )


def test_doses_that_buy_least_stand_first() -> None:
    (section,) = [part for part in page().iter(f"{HTML}section") if part.get("id") == "worth"]
    rows = [words(row) for row in section.iter(f"{HTML}tr")][1:]
    assert [row.partition(" head")[0].split(": ")[1] for row in rows] == ["Tups, 4", "Ewes, 50"]
    assert rows[0].endswith("124 exposed sheep-days more GBP 1.47 less")


def test_other_tasks_unfold_too() -> None:
    assert folded("Ewes; Tups, 54 head").endswith("The last open day before them.")
    assert "Latest Mon 4 Oct. It may move by 7 days (sales.csv, row 2)." in words(page())
