"""What `today` cannot know yet is left out and said; wishes that are past too."""

from datetime import date

from scheduler.farm import read_farm
from tests.farm.lawful import LAWFUL, TODAY, farm, faults, said, texts


def test_rows_dated_after_today_are_left_out_and_said() -> None:
    read = farm(today=date(2027, 2, 11))
    assert (read.weighings, read.findings) == ((), ())
    assert "findings.csv: row 2 is left out, dated after 2027-02-11." in read.left_out
    assert "weights.csv: row 2 is left out, dated after 2027-02-11." in read.left_out


def test_rows_dated_today_are_kept() -> None:
    assert farm(today=date(2027, 2, 15)).findings[0].day == date(2027, 2, 15)
    assert farm(today=date(2027, 6, 20)).wishes[0].day == date(2027, 6, 20)


def test_the_record_is_left_out_before_its_day() -> None:
    assert farm(today=date(2026, 7, 31)).record == ()


def test_weights_of_a_group_weighed_after_today_are_left_out_and_said() -> None:
    read = farm(today=date(2027, 2, 9))
    ewes = read.group("Ewes")
    assert (ewes.heaviest_kg, ewes.lightest_kg, ewes.weighed_on) == (None, None, None)
    assert 'groups.csv, row 2: the weights of "Ewes" are left out, weighed after 2027-02-09.' in read.left_out


def test_a_wish_of_yesterday_is_left_out_and_said() -> None:
    read = farm(today=date(2027, 6, 21))
    assert read.wishes == ()
    assert read.left_out == ("wishes.csv: row 2 is left out, dated before 2027-06-21.",)


def test_a_dose_of_animals_not_found_yet_is_left_out_with_them() -> None:
    wish = "date,group,label,use,cohort\n2027-06-20,Ewes,pour,guard,Ewes/found-2\n"
    assert farm({"wishes.csv": wish}).wishes[0].cohort == "Ewes/found-2"
    before = farm({"wishes.csv": wish}, today=date(2027, 2, 14))
    assert before.wishes == ()
    assert "wishes.csv: row 2 is left out, of animals not found yet." in before.left_out


def test_rows_left_out_are_still_looked_over() -> None:
    table = LAWFUL["weights.csv"].replace("76,66,56", "heavy,66,56")
    assert len(faults({"weights.csv": table}, today=date(2027, 1, 1))) == 1


def test_a_second_dose_may_follow_a_first_of_the_earlier_plan() -> None:
    wish = {"wishes.csv": "date,group,label,use,repeat_of\n2027-06-20,Rams,pour,guard,2027-05-30\n"}
    planned = frozenset({("Rams/stay", "pour", "guard", date(2027, 5, 30))})
    assert said(read_farm(texts(wish), TODAY, planned)) == []
    assert len(said(read_farm(texts(wish), TODAY))) == 1


def test_a_second_dose_may_follow_a_first_that_is_left_out() -> None:
    wish = "date,group,label,use,repeat_of\n2027-05-30,Rams,pour,guard,\n2027-06-20,Rams,pour,guard,2027-05-30\n"
    read = farm({"wishes.csv": wish}, today=date(2027, 6, 1))
    assert [row.repeat_of for row in read.wishes] == [date(2027, 5, 30)]
