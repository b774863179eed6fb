"""pushed.json: read as it was written, or refused."""

import json
from datetime import date

import pytest

from scheduler.exchange import Known, Sent, State, read_state, state_json
from scheduler.words import Fault

STATE = State(
    {"https://calendar.example/me/": {
        "b": Known("/me/b.ics", Sent(date(2027, 6, 4), "aa", "bb"), '"7"'),
        "a": Known("/me/a ä.ics", Sent(date(2027, 6, 5), "cc", "dd")),
    }},
    {"b": date(2027, 6, 8)},
)  # fmt: skip


def test_what_was_written_is_read_again_and_written_alike() -> None:
    text = state_json(STATE)
    read = read_state(text.encode())
    assert read == STATE
    assert isinstance(read, State)
    assert state_json(read) == text


def test_no_file_is_nothing_known() -> None:
    assert read_state(None) == State()


@pytest.mark.parametrize(
    "change",
    [{"schema": "other/1"}, {"calendars": None}, {"calendars": {"x": {"a": {}}}}, {"wished": {"a": "soon"}},
     {"calendars": {"x": {"a": {"path": 7, "sent": "2027-06-04 a b", "tag": None}}}},
     {"calendars": {"x": {"a": {"path": "/a", "sent": "2027-06-04", "tag": None}}}},
     {"calendars": {"x": {"a": {"path": "/a", "sent": "2027-06-04 a b", "tag": 7}}}}],
)  # fmt: skip
def test_a_file_of_another_kind_is_a_fault(change: dict[str, object]) -> None:
    assert isinstance(read_state(json.dumps({**json.loads(state_json(STATE)), **change}).encode()), Fault)


@pytest.mark.parametrize("data", [b"", b"{", b"[]", b"\xff", b"[" * 100_000])
def test_a_file_that_cannot_be_read_is_a_fault(data: bytes) -> None:
    assert isinstance(read_state(data), Fault)
