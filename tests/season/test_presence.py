"""Where sheep are: the day before, the day itself, the day after. Days are of May 2027; expected values by hand."""

from collections.abc import Callable
from datetime import date
from decimal import Decimal

import pytest

from scheduler.farm import Mob
from scheduler.season import Season
from scheduler.words import EVENT_KINDS, EventKind, plus
from tests.plan.flock import ewes
from tests.season.hill import BORN, cohort, event, lambs, may, sale, season


def true_days(asked: Callable[[str, date], bool], group: str, last: int = 31) -> list[int]:
    """The days of May, up to `last`, on which something holds for the group."""
    return [day for day in range(1, last + 1) if asked(group, may(day))]


def housed(of: Season, group: str) -> list[int]:
    """The days of May on which the group is housed."""
    return true_days(of.presence.is_housed, group)


def away(of: Season, group: str) -> list[int]:
    """The days of May on which the group is away."""
    return true_days(of.presence.is_away, group)


def test_housed_from_the_housing_to_the_day_before_the_turnout() -> None:
    of = season(event("housing", may(10)), event("turnout", may(14)))
    assert housed(of, "Ewes") == [10, 11, 12, 13]


def test_a_housing_without_turnout_lasts() -> None:
    assert housed(season(event("housing", may(28))), "Ewes") == [28, 29, 30, 31]


def test_a_first_turnout_says_that_they_were_housed_since_the_start() -> None:
    of = season(event("turnout", may(4)), event("housing", may(20)), event("turnout", may(22)))
    assert housed(of, "Ewes") == [1, 2, 3, 20, 21]


def test_a_housing_before_the_first_turnout_says_that_they_were_out_until_then() -> None:
    of = season(event("housing", may(2)), event("turnout", may(4)), event("housing", may(29)))
    assert housed(of, "Ewes") == [2, 3, 29, 30, 31]


def test_the_turnout_that_ends_a_housing_comes_on_a_later_day() -> None:
    rows: list[tuple[EventKind, int]] = [
        ("housing", 5),
        ("turnout", 8),
        ("housing", 10),
        ("turnout", 10),
        ("turnout", 12),
    ]
    assert housed(season(*(event(what, may(day)) for what, day in rows)), "Ewes") == [5, 6, 7, 10, 11]


def test_lambs_follow_a_row_that_names_other_mobs_beside_their_own() -> None:
    assert housed(season(event("housing", may(30), groups="Rams;Ewes")), "Lambs") == [30, 31]


def test_lambs_follow_their_mob_and_rams_do_not() -> None:
    of = season(event("housing", may(10)), event("turnout", may(12)))
    assert housed(of, "Lambs") == [10, 11]
    assert housed(of, "Rams") == []


def test_lambs_named_in_a_row_of_the_kind_follow_no_other_row_of_it() -> None:
    of = season(event("housing", may(10)), event("housing", may(30), groups="Lambs"))
    assert housed(of, "Lambs") == [30, 31]


def test_lambs_weaned_before_the_housing_stay_out() -> None:
    of = season(event("weaning", may(9), groups="Lambs"), event("housing", may(10)))
    assert housed(of, "Lambs") == []


def test_lambs_weaned_on_the_day_of_the_housing_still_follow_it_but_not_the_turnout_after() -> None:
    of = season(event("weaning", may(10), groups="Lambs"), event("housing", may(10)), event("turnout", may(12)))
    assert housed(of, "Ewes") == [10, 11]
    assert housed(of, "Lambs") == list(range(10, 32))


def test_away_on_both_ends_of_the_span() -> None:
    of = season(event("away", may(5), may(7)))
    assert away(of, "Ewes") == [5, 6, 7]
    assert away(of, "Lambs") == [5, 6, 7]


def test_lambs_weaned_within_an_away_span_are_away_until_that_day() -> None:
    of = season(event("away", may(5), may(9)), event("weaning", may(7), groups="Lambs"))
    assert away(of, "Lambs") == [5, 6, 7]


@pytest.mark.parametrize(("day", "mob"), [(11, "Hill"), (12, "Hill"), (13, "Hill weaned")])
def test_lambs_leave_their_mob_on_the_day_after_weaning(day: int, mob: str) -> None:
    of = season(event("weaning", may(12), groups="Ewes;Lambs"))
    assert of.presence.mob_of("Lambs", may(day)) == mob
    assert of.presence.mob_of("Ewes", may(day)) == "Hill"


def test_a_mob_holds_its_groups_in_the_order_of_the_table() -> None:
    of = season(event("weaning", may(12), groups="Lambs"))
    assert of.presence.mob_groups("Hill", may(12)) == ("Ewes", "Lambs")
    assert of.presence.mob_groups("Hill", may(13)) == ("Ewes",)
    assert of.presence.mob_groups("Hill weaned", may(13)) == ("Lambs",)


@pytest.mark.parametrize(("day", "gathers"), [(9, False), (10, True), (11, True), (12, False)])
def test_an_event_gathers_its_mob_on_each_of_its_days(day: int, gathers: bool) -> None:
    of = season(event("gather", may(10), may(11)))
    assert (of.presence.gather_event("Hill", may(day)) is not None) == gathers
    assert of.presence.gather_event("Rams", may(day)) is None


@pytest.mark.parametrize("what", EVENT_KINDS)
def test_a_mob_is_in_hand_at_all_events_but_lambing_and_away(what: EventKind) -> None:
    of = season(event(what, may(10)))
    assert (of.presence.gather_event("Hill", may(10)) is None) == (what in ("lambing", "away"))


def test_lambs_follow_other_lambs_of_their_mob_until_those_are_weaned() -> None:
    """Cades are weaned on the 10th: they are of the mob on that day, and not on the next."""
    groups = (ewes(mob="Hill"), lambs(), lambs(name="Cades"))
    weaned = event("weaning", may(10), groups="Cades")
    on_that_day = season(event("housing", may(10), groups="Cades"), weaned, groups=groups)
    on_the_next = season(event("housing", may(11), groups="Cades"), weaned, groups=groups)
    assert (housed(on_that_day, "Lambs"), housed(on_the_next, "Lambs")) == (list(range(10, 32)), [])


def test_the_work_figures_of_a_mob_go_with_the_lambs_weaned_from_it() -> None:
    hill = Mob(name="Hill", gather_minutes=Decimal(90), people=2)
    of = season(event("weaning", may(12), groups="Lambs"), mobs=(hill,))
    assert of.mob_row("Hill weaned") == hill
    assert of.mob_row("Rams").people == 1


def test_lambs_are_there_from_the_first_birth_to_the_day_before_their_sale() -> None:
    of = season(sales=(sale("Mart", 40, may(20)),))
    sold = cohort(of, "Lambs/Mart")
    there = [of.presence.on_farm(sold, day) for day in (plus(BORN, -1), BORN, may(19), may(20))]
    assert there == [False, True, True, False]


def test_sheep_away_are_on_the_farm_but_not_here() -> None:
    of = season(event("away", may(5)))
    ewes = cohort(of, "Ewes/stay")
    assert of.presence.on_farm(ewes, may(5))
    assert [of.is_here(ewes, may(day)) for day in (4, 5, 6)] == [True, False, True]
