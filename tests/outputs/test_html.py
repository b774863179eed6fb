"""summary.html: well-formed by an XML reader, escaped, self-contained, small, and holding what the plan holds."""

import re
from html.parser import HTMLParser
from itertools import pairwise
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from scheduler.outputs import summary_html
from scheduler.outputs.html import outline
from scheduler.report import SeasonReport, Silhouette
from tests.outputs.conftest import Snapshot
from tests.outputs.pieces import plan, report
from tests.outputs.plans import HOSTILE, REPORTS, empty_report, hostile_report, large_report, rich_report
from tests.page.farms import farm_of

XHTML = "{http://www.w3.org/1999/xhtml}"


def tree(page: str) -> ElementTree.Element:
    """The page as an XML reader sees it; ParseError where a tag stays open or a sign is not escaped."""
    return ElementTree.fromstring(page.partition("\n")[2])


def words(element: ElementTree.Element) -> str:
    """The text within an element, spaces evened."""
    return " ".join(" ".join(element.itertext()).split())


def section(page: str, name: str) -> ElementTree.Element:
    """The section with this id."""
    return next(element for element in tree(page).iter() if element.get("id") == name)


@pytest.fixture(params=REPORTS)
def told(request: pytest.FixtureRequest) -> SeasonReport:
    """Each report built by hand."""
    return REPORTS[request.param]()


class Reader(HTMLParser):
    """Collects what a browser would load or run."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.reached: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.reached += [value or "" for name, value in attrs if name in ("src", "href", "srcset", "action", "data")]
        self.reached += [name for name, _ in attrs if name.startswith("on")]


def test_the_page_is_html5_and_well_formed(told: SeasonReport) -> None:
    page = summary_html(told)
    assert page.startswith("<!DOCTYPE html>\n")
    assert tree(page).tag == f"{XHTML}html"
    assert tree(page).get("lang") == "en"


def test_the_page_loads_and_runs_nothing(told: SeasonReport) -> None:
    page = summary_html(told)
    reader = Reader()
    reader.feed(page)
    assert {"script", "link", "img", "iframe", "object", "form"}.isdisjoint(reader.tags)
    assert all(reach.startswith("#") for reach in reader.reached)
    assert re.findall(r"url\((?!#)", page) == []
    assert "@import" not in page


def test_every_inner_link_has_its_place(told: SeasonReport) -> None:
    page = summary_html(told)
    places = [element.get("id") for element in tree(page).iter() if element.get("id")]
    links = {element.get("href", "#")[1:] for element in tree(page).iter() if element.get("href")}
    assert len(places) == len(set(places))
    assert (links | set(re.findall(r"url\(#([\w-]+)\)", page))) <= set(places)


def test_names_are_shown_as_written_and_never_as_markup() -> None:
    page = summary_html(hostile_report())
    assert "<script>alert" not in page
    assert words(next(tree(page).iter(f"{XHTML}h1"))) == HOSTILE
    assert HOSTILE in words(section(page, "jobs"))


@settings(deadline=None, max_examples=30)
@given(st.text(min_size=1))
def test_any_name_leaves_the_page_well_formed(name: str) -> None:
    task = replace(hostile_report().plan.tasks[0], group=name, label=name, text=name)
    tree(summary_html(report(plan(farm_name=name, tasks=(task,), notes=(name,)))))


def test_headings_step_down_one_by_one(told: SeasonReport) -> None:
    levels = [int(e.tag[-1]) for e in tree(summary_html(told)).iter() if re.fullmatch(r"\{.*\}h[1-6]", e.tag)]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))


def test_tables_have_captions_and_scoped_headings(told: SeasonReport) -> None:
    for table in tree(summary_html(told)).iter(f"{XHTML}table"):
        assert table.find(f"{XHTML}caption") is not None
        assert all(head.get("scope") for head in table.iter(f"{XHTML}th"))


def test_each_picture_is_named_for_those_who_do_not_see_it() -> None:
    strip, *figures = list(section(summary_html(rich_report()), "picture").iter(f"{XHTML}figure"))
    assert [picture.get("role") for picture in strip.findall(f"{XHTML}svg")] == ["img"]
    assert len(figures) == 3
    for figure in figures:
        (picture,) = figure.findall(f"{XHTML}svg")
        assert picture.get("role") == "img"
        assert "Top lambs" in picture.get("aria-label", "") or "Ewes" in picture.get("aria-label", "")


def test_a_draft_says_so_at_the_top_at_the_dose_and_at_the_label() -> None:
    page = summary_html(rich_report())
    top = words(next(tree(page).iter(f"{XHTML}header")))
    assert "DRAFT Demo hill pour on (invented): not confirmed." in top
    assert "tick dip" not in top
    assert "(draft: label not confirmed)" in words(section(page, "jobs"))
    assert "Not confirmed: compare it with the leaflet" in words(section(page, "labels"))


def test_a_plan_on_confirmed_labels_is_no_draft() -> None:
    assert "DRAFT" not in summary_html(empty_report())


def test_conflicts_show_clash_and_priced_choices_stops_first() -> None:
    text = words(section(summary_html(rich_report()), "decide"))
    assert text.index("stop: meat withdrawal") < text.index("warn: cover gap")
    assert "Autumn draft on 20 Aug needs 8 clear days before it. (sales.csv, row 4)" in text
    assert "Sell on 21 Aug. Keeper decides. 480 exposed sheep-days fewer, GBP 61.50 more, 1 handling more" in text


def test_each_task_stands_once_among_the_jobs() -> None:
    told = rich_report()
    text = words(section(summary_html(told), "jobs"))
    for count, start in ((1, "Repeat dose Top lambs, 60 head"), (1, "Sell Top lambs"), (1, "Order Demo hill pour on")):
        assert text.count(start) == count
    looks = [task for task in told.plan.tasks if task.kind == "recheck" and task.cohort is None]
    boxes = [
        words(item) for item in section(summary_html(told), "jobs").iter(f"{XHTML}li") if item.get("class") == "job"
    ]
    assert all(boxes.count(f"{task.day.day} {task.day:%b}") == 1 for task in looks)


def test_a_job_sheet_shows_load_weight_amounts_and_clear_date() -> None:
    text = words(section(summary_html(rich_report()), "sheets"))
    assert "Demo hill pour on (invented) , against blowfly strike and ticks (draft: label not confirmed)" in text
    assert "load 662 ml (60 head: 630 ml and 5 % for tube, trial shots and spills)" in text
    assert "1 Top lambs (for Autumn draft) Clear date: meat from 5 Jun 2027" in text
    assert "head 60 heaviest 22.41 kg a head 10.5 ml in all 630 ml head done kg weighed batch" in text
    assert "meat not stated: ask the vet before any goes for food" in text
    assert "given by signature" in text


def test_each_job_sheet_of_a_day_can_be_reached_from_its_month() -> None:
    page = summary_html(rich_report())
    sheets = [element.get("id") for element in section(page, "sheets").iter(f"{XHTML}article")]
    links = [element.get("href", "")[1:] for element in section(page, "jobs").iter(f"{XHTML}a")]
    assert sheets == ["sheet-2027-05-27", "sheet-2027-06-17", "sheet-2027-07-22"]
    assert links == sheets


def test_each_lane_has_a_list_that_tells_the_same() -> None:
    lists = [words(part) for part in section(summary_html(rich_report()), "picture").iter(f"{XHTML}details")]
    (drafts,) = [text for text in lists if text.startswith("The same in words : Top lambs, for Autumn draft: ")]
    for fact in (
        "blowfly strike: exposed 12 to 19 Aug: level 0.9",
        "blowfly strike: covered 27 May to 28 Jul: level 0.62",
        "dose A 27 May 2027: Demo hill pour on (invented); protects 27 May to 7 Jul, fading to 21 Jul",
        "repeat dose A 17 Jun 2027",
        "clear date: meat from 26 Jun 2027",
        "weaning 30 Jul",
        "leaves 20 Aug 2027: Autumn draft, slaughter",
    ):
        assert fact in drafts
    (mob,) = [text for text in lists if text.startswith("The same in words : When mob Hill")]
    assert "gathered for doses alone 27 May 2027" in mob
    assert "brought in anyway 17 Jun: shearing" in mob


def test_shopping_says_packs_price_and_last_day() -> None:
    text = words(section(summary_html(rich_report()), "shopping"))
    assert "1 × 2,500 ml, 1 × 1,000 ml: GBP 134.00 Order by Thu 20 May 2027" in text


def test_cautions_notes_and_sources_are_all_there() -> None:
    told = rich_report()
    text = words(tree(summary_html(told)))
    for sentence in (*told.cautions, *told.plan.notes, *(source.text for source in told.plan.sources)):
        assert sentence in text


def test_money_follows_the_currencys_minor_unit() -> None:
    assert "JPY 1,061" in summary_html(hostile_report())


def test_ten_groups_stay_under_300_kilobytes_with_room_for_more() -> None:
    """A regular farm, and one of long names thrown by dice: 28 cohorts and lanes of a kind each, 38 days of work."""
    assert len(summary_html(large_report()).encode()) < 160_000
    assert len(summary_html(farm_of(10)).encode()) < 285_000


def test_a_silhouette_is_closed_along_its_foot() -> None:
    assert outline(Silhouette(((0, 0), (10, 12), (20, 3)), 30, 26)) == "M0 26H0V26H10V14H20V23H30V26Z"


def test_the_same_plan_gives_the_same_page(told: SeasonReport) -> None:
    assert summary_html(told) == summary_html(told)


def test_the_rich_page_as_kept(snapshot: Snapshot) -> None:
    snapshot("rich.html", summary_html(rich_report()).encode())
