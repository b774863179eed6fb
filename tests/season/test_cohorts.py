"""Which cohorts a group falls into: by its sales, by what was found, and what is left."""

import pytest

from tests.plan.flock import ewes
from tests.season.hill import cohort, finding, heads, lambs, may, sale, season

EARLY, LATE = sale("Early", 10, may(40)), sale("Late", 25, may(60))


def test_a_group_without_sales_stays_whole() -> None:
    assert heads(season()) == {"Lambs/stay": 40}


def test_each_sale_is_a_cohort_and_the_rest_stays() -> None:
    of = season(sales=(EARLY, LATE))
    assert heads(of) == {"Lambs/Early": 10, "Lambs/Late": 25, "Lambs/stay": 5}
    assert [cohort(of, name).leaves for name in heads(of)] == [may(40), may(60), None]


def test_where_all_are_sold_nobody_stays() -> None:
    assert heads(season(sales=(sale("Mart", 40, may(40)),))) == {"Lambs/Mart": 40}


def test_a_group_that_leaves_before_the_sale_has_left_then() -> None:
    of = season(groups=(lambs(leaves=may(39)),), sales=(EARLY,))
    assert cohort(of, "Lambs/Early").leaves == may(39)


def test_found_sheep_are_taken_from_those_that_stay() -> None:
    of = season(sales=(EARLY, LATE), findings=(finding(2, may(3), head=3),))
    assert heads(of) == {"Lambs/Early": 10, "Lambs/Late": 25, "Lambs/found-2": 3, "Lambs/stay": 2}
    assert cohort(of, "Lambs/found-2").source == "Lambs/stay"


def test_what_is_wanting_is_taken_from_the_latest_sale() -> None:
    of = season(sales=(EARLY, LATE), findings=(finding(7, may(3), head=8),))
    assert heads(of) == {"Lambs/Early": 10, "Lambs/Late": 22, "Lambs/found-7": 5, "Lambs/found-7/Late": 3}
    sold = cohort(of, "Lambs/found-7/Late")
    assert (sold.source, sold.leaves) == ("Lambs/Late", may(60))


def test_one_finding_can_empty_several_sources() -> None:
    of = season(sales=(EARLY, LATE), findings=(finding(7, may(3), head=32),))
    assert heads(of) == {
        "Lambs/Early": 8, "Lambs/found-7": 5, "Lambs/found-7/Early": 2, "Lambs/found-7/Late": 25,
    }  # fmt: skip


def test_a_later_finding_takes_from_what_is_left() -> None:
    of = season(sales=(LATE,), findings=(finding(2, may(3), head=14), finding(3, may(4), head=2)))
    assert heads(of) == {"Lambs/Late": 24, "Lambs/found-2": 14, "Lambs/found-3": 1, "Lambs/found-3/Late": 1}


def test_a_finding_without_a_number_is_of_one_sheep() -> None:
    assert heads(season(findings=(finding(2, may(3)),))) == {"Lambs/found-2": 1, "Lambs/stay": 39}


@pytest.mark.parametrize(("head", "parts"), [(1, {"Lambs/stay": 1}), (2, {"Lambs/found-2": 1, "Lambs/stay": 1})])
def test_one_sheep_found_is_apart_only_where_it_has_company(head: int, parts: dict[str, int]) -> None:
    assert heads(season(groups=(lambs(head=head),), findings=(finding(2, may(3)),))) == parts


@pytest.mark.parametrize(("head", "apart"), [(39, True), (40, False)])
def test_a_finding_of_the_whole_group_parts_nobody(head: int, apart: bool) -> None:
    of = season(findings=(finding(2, may(3), head=head),))
    assert ("Lambs/found-2" in heads(of)) == apart


@pytest.mark.parametrize("what", ["lice", "scab", "dags"])
def test_lice_scab_and_dags_part_nobody(what: str) -> None:
    assert heads(season(findings=(finding(2, may(3), head=3, what=what),))) == {"Lambs/stay": 40}


def test_heads_always_add_up_to_the_group() -> None:
    findings = (finding(2, may(3), head=9), finding(3, may(4), head=20), finding(4, may(5), head=11))
    of = season(sales=(EARLY, LATE), findings=findings)
    assert sum(heads(of).values()) == 40


def test_cohorts_stand_in_the_order_of_groups_and_then_of_ids() -> None:
    of = season(groups=(lambs(), ewes()), sales=(LATE, EARLY))
    assert [one.id for one in of.cohorts] == ["Lambs/Early", "Lambs/Late", "Lambs/stay", "Ewes/stay"]
