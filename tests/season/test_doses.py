"""Lists of doses: their order, and which make a course. Days are of May 2027."""

from typing import Any

from msgspec.structs import replace

from scheduler.season import Course, Dose, Doses
from scheduler.words import Where
from tests.plan.flock import dose, label, may, prevent
from tests.season.hill import cohort, sale, season

OF = season(labels={"fly": label(uses=(prevent(), prevent(id="again")))}, sales=(sale("Mart", 20, may(60), "Ewes"),))
STAY = cohort(OF, "Ewes/stay")


def given(day: int, first: int | None = None, **changed: Any) -> Dose:
    """A guard given to the ewes that stay, on a day; `first` where it is the repeat of the dose of that day."""
    return replace(dose(OF, may(day), cohort=STAY, first_day=None if first is None else may(first)), **changed)


def days(course: Course) -> list[int]:
    """The days of a course."""
    return [(one.day - may(0)).days for one in course.doses]


def test_doses_stand_in_the_order_of_day_cohort_label_and_use() -> None:
    mart = given(3, cohort=cohort(OF, "Ewes/Mart"))
    again = given(3, use=OF.farm.labels["fly"].uses[1])
    assert Doses([given(5), given(3), again, mart, given(1)]).all == (given(1), mart, again, given(3), given(5))


def test_of_two_equal_doses_the_first_of_a_course_stands_before_a_repeat() -> None:
    assert [one.first_day for one in Doses([given(8, first=1), given(8), given(1)])] == [None, None, may(1)]


def test_a_repeat_belongs_to_the_first_dose_that_it_names() -> None:
    found = Doses([given(1), given(8), given(9, first=1), given(15, first=8)])
    assert [days(course) for course in found.courses] == [[1, 9], [8, 15]]
    assert [days(found.course_of(one)) for one in found] == [[1, 9], [8, 15], [1, 9], [8, 15]]


def test_a_repeat_without_its_first_dose_is_a_course_by_itself() -> None:
    found = Doses([given(5), given(9, first=1)])
    assert [(course.first is None, days(course)) for course in found.courses] == [(False, [5]), (True, [9])]
    assert found.course_of(given(9, first=1)).last == given(9, first=1)


def test_courses_stand_in_the_order_of_their_first_doses() -> None:
    found = Doses([given(3), given(2, first=1), given(20, first=4), given(4)])
    assert [days(course) for course in found.courses] == [[2], [3], [4, 20]]


def test_a_repeat_given_to_all_goes_before_one_given_to_some() -> None:
    part = given(8, first=1, whole=False)
    assert Doses([given(1), part, given(10, first=1)]).courses[0].repeat == given(10, first=1)
    assert Doses([given(1), part]).courses[0].repeat == part


def test_of_two_equal_first_doses_the_first_row_begins_the_course() -> None:
    rows = [given(1, where=Where("record.csv", place)) for place in (2, 3)]
    (course,) = Doses(rows).courses
    assert course.first == rows[0]


def test_of_two_repeats_the_earlier_counts() -> None:
    assert Doses([given(1), given(10, first=1), given(9, first=1)]).courses[0].repeat == given(9, first=1)


def test_the_doses_of_a_cohort_are_its_own() -> None:
    mart = cohort(OF, "Ewes/Mart")
    found = Doses([given(1), given(2, cohort=mart)])
    assert found.of(mart) == (given(2, cohort=mart),)
    assert Doses([given(1)]).of(mart) == ()


def test_a_dose_missed_or_given_to_some_gives_nothing_and_is_not_to_come() -> None:
    kinds = {"plan": given(1), "wish": given(1, origin="wish"), "record": given(1, origin="record"),
             "missed": given(1, origin="missed"), "part": given(1, origin="record", whole=False)}  # fmt: skip
    assert {name for name, one in kinds.items() if one.works} == {"plan", "wish", "record"}
    assert {name for name, one in kinds.items() if one.is_ours} == {"plan", "wish"}
