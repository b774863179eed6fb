"""Two readings of a leaflet: nothing counts that was not read twice."""

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from functools import partial
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.labels.label_file import filed, filed_at, filled
from scheduler.labels.leaflet import leaflet
from scheduler.labels.questions import Question, Value, amount, count, days, entries, other_than, period, said
from scheduler.labels.readings import agreed
from scheduler.tables import country, number
from scheduler.words import Fault
from tests.labels.test_label_file import LABEL, SAMPLES

ONE_DOSE = LABEL.partition('[[use]]\nid = "struck"')[0].partition("# heavy ones")[0]
"""One use with one band."""
WITHDRAWAL, LIMITS, PACK = ("8", "", "", ""), ("42", "", "", "", "", "0"), ("2500",)
USE, DOSE, REPEATS = ("42", "56", "", "7", "", "", ""), ("1", "10", "25", "20"), ("0",)
READING = [*WITHDRAWAL, *LIMITS, *PACK, *USE, *DOSE, *REPEATS]
"""One reading of it, after the edition."""


class Keeper:
    """Types the lines given, and remembers what was asked and told."""

    def __init__(self, *lines: str) -> None:
        self.lines: Iterator[str] = iter(lines)
        self.asked: list[str] = []
        self.told: list[str] = []

    def put(self, question: str) -> str:
        self.asked.append(question)
        return next(self.lines)


def read(*lines: str, content: str = ONE_DOSE) -> tuple[dict[str, object], Keeper]:
    """The answers and the keeper; every line must have been used."""
    keeper, label = Keeper(*lines), filed(content)
    answers = agreed(keeper.put, keeper.told.append, lambda: keeper.told.append("-"), lambda at: filed_at(label, at))
    assert list(keeper.lines) == []
    return answers, keeper


def test_two_readings_that_agree_are_taken() -> None:
    answers, keeper = read("2026-09", *READING, *READING)
    assert answers["edition"] == "2026-09"
    assert answers["withdrawal"] == {"meat": 8, "milk": None, "export": None, "wool": None}
    assert answers["use"][0]["dose"][0] == {  # type: ignore[index]
        "above_kg": 10, "upto_kg": 25, "ml": 20, "ml_per_kg": None, "ml_per_100cm2": None, "step_ml": None,
        "most_ml": None,
    }  # fmt: skip
    half = len(READING)
    assert keeper.asked[1 : half + 1] == keeper.asked[half + 1 :]


def test_no_question_shows_what_the_file_says() -> None:
    _, keeper = read("", *READING, *READING)
    assert not any(figure in question for question in keeper.asked for figure in ("8", "2500", "56"))


def test_the_second_reading_comes_after_the_first_is_out_of_sight() -> None:
    _, keeper = read("", *READING, *READING)
    assert [text for text in keeper.told if not text.startswith("Use")][1] == "-"


def test_where_two_readings_differ_both_are_shown_and_the_third_decides() -> None:
    answers, keeper = read("", *READING, "28", *READING[1:], "28")
    assert answers["withdrawal"]["meat"] == 28  # type: ignore[index]
    assert keeper.told[-1] == "Your readings differ: 8, then 28. Look once more."
    assert keeper.asked[-1] == "Withdrawal: meat, in days, or not permitted"


def test_a_third_answer_like_neither_is_not_taken() -> None:
    answers, keeper = read("", *READING, "28", *READING[1:], "18", "8")
    assert answers["withdrawal"]["meat"] == 8  # type: ignore[index]
    assert keeper.told[-1] == "Your readings differ: 8, then 28, then 18. Look once more."


def test_a_band_more_in_the_second_reading_is_read_until_it_was_read_twice() -> None:
    two = [*READING[:-5], "2", "10", "25", "20", "25", "", "40", "0"]
    answers, _ = read("", *READING, *two, "2", "25", "", "40")
    bands = answers["use"][0]["dose"]  # type: ignore[index]
    assert [(band["above_kg"], band["upto_kg"], band["ml"]) for band in bands] == [(10, 25, 20), (25, None, 40)]


def test_what_cannot_be_read_is_said_and_asked_again() -> None:
    answers, keeper = read("", "eight", *READING, *READING)
    assert answers["withdrawal"]["meat"] == 8  # type: ignore[index]
    assert keeper.told[1].startswith('Found "eight"; expected whole days, 0 or more, or "not permitted";')


def test_back_asks_the_question_before_once_more() -> None:
    lines = READING.copy()
    at = lines.index("2500")
    lines[at : at + 1] = ["250", "back", "2500"]
    answers, keeper = read("", *lines, "7", "back", "back", "back", *READING)
    assert answers["pack"][0]["ml"] == 2500  # type: ignore[index]
    assert keeper.asked.count("Pack at 92.00: how many ml does it hold?") == 3


def test_a_word_gone_back_over_is_asked_again_and_only_in_the_first_reading() -> None:
    answers, keeper = read("2025", "back", "2026", *READING, *READING)
    assert answers["edition"] == "2026"
    assert sum("edition" in question for question in keeper.asked) == 2


def test_what_must_be_stated_cannot_be_left_empty() -> None:
    lines = READING.copy()
    lines.insert(READING.index("20"), "")
    _, keeper = read("", *lines, *READING)
    assert "Found nothing; the leaflet must state this; look again, or ask the vet." in keeper.told


def test_a_band_cannot_end_below_where_it_begins() -> None:
    lines = READING.copy()
    lines.insert(READING.index("25"), "9")
    _, keeper = read("", *lines, *READING)
    assert any("expected more than 10, where the band begins" in text for text in keeper.told)


@pytest.mark.parametrize(("reader", "typed", "value"), [
    (period, "8", 8),
    (period, "8 weeks", 56),
    (period, "Not permitted", "not-permitted"),
    (period, "not-permitted", "not-permitted"),
    (days(), "6w", 42),
    (days(), "0", 0),
    (amount, "20", ("ml", Decimal(20))),
    (amount, "20 ml", ("ml", Decimal(20))),
    (amount, "0.5 per kg", ("ml_per_kg", Decimal("0.5"))),
    (amount, "0.5 ml/kg", ("ml_per_kg", Decimal("0.5"))),
    (amount, "2.5 per 100 cm2", ("ml_per_100cm2", Decimal("2.5"))),
    (count(5), "0", 0),
    (entries(country), "GB; IE", ("GB", "IE")),
])  # fmt: skip
def test_answers_are_read_as_keepers_write_them(reader: object, typed: str, value: Value) -> None:
    assert Question(("x",), "Part", "what?", reader).answered(f" {typed} ") == value  # type: ignore[arg-type]


@pytest.mark.parametrize(("reader", "typed"), [
    (period, "no"), (period, "none"), (period, "-1"), (period, "8 months"), (days(), "1.5"), (days(), "1,000"),
    (amount, "0.5 per lb"), (amount, "5 10"), (amount, "-5"), (count(5), "6"), (count(5, 1), "0"),
    (number("ml"), "1,5"), (entries(country), "GB, XX"),
])  # fmt: skip
def test_what_might_mean_something_else_is_refused(reader: object, typed: str) -> None:
    assert isinstance(Question(("x",), "Part", "what?", reader).answered(typed), Fault)  # type: ignore[arg-type]


def test_the_same_again_is_refused_where_it_may_not_be() -> None:
    reader = other_than(number("ml"), {Decimal("2500")})
    assert isinstance(Question(("x",), "Pack", "ml?", reader).answered("2500.0"), Fault)
    assert Question(("x",), "Pack", "ml?", reader).answered("5000") == 5000


@pytest.mark.parametrize(("value", "text"), [
    (None, "not stated"), ("not-permitted", "not permitted"), (("ml_per_kg", Decimal("0.5")), "0.5 ml for each kg"),
    (("GB", "IE"), "GB, IE"), (True, "yes"), (8, "8"),
])  # fmt: skip
def test_an_answer_is_shown_again_in_words(value: Value, text: str) -> None:
    assert said(value) == text


def as_typed(value: Value) -> str:
    """How somebody types what the leaflet states."""
    if isinstance(value, tuple) and isinstance(value[-1], Decimal):
        return {"ml": f"{value[1]}", "ml_per_kg": f"{value[1]} per kg"}.get(value[0], f"{value[1]} per 100 cm2")
    return "" if value is None else str(value)


def printed(content: str) -> dict[str, str]:
    """What somebody types whose leaflet agrees with the file, by question that is asked twice."""
    lines: dict[str, str] = {}

    def note(question: Question) -> Value:
        value = filed_at(filed(content), question.path)
        if question.asked == "twice":
            lines[question.full] = as_typed(value)
        return value

    leaflet(note)
    return lines


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
@settings(deadline=None, max_examples=15)
@given(st.data())
def test_a_figure_misread_in_one_reading_never_reaches_the_file(path: Path, data: st.DataObject) -> None:
    content = path.read_text(encoding="utf-8")
    lines = printed(content)
    figures = sorted(question for question in lines if "how many bands" not in question and "kinds of" not in question)
    misread = {data.draw(st.sampled_from(figures)): data.draw(st.sampled_from([1, 2])) for _ in range(4)}
    reading, edition = [1], str(filed(content).get("edition", ""))

    def put(question: str) -> str:
        if misread.get(question) == reading[0]:
            del misread[question]
            return "1"
        return edition if "edition" in question else lines.get(question, "1")

    answers = agreed(put, lambda _: None, lambda: reading.append(reading.pop() + 1), partial(filed_at, filed(content)))
    assert filled(content, answers, date(2027, 3, 1))[1] == ()
