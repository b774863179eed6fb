"""Whatever the keeper, others and the plan change: nothing lost, doubled or overwritten, and then it is quiet."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.exchange import Known, Ours, Outcome, Wanted, events_of, push
from scheduler.exchange.server import new_path
from tests.exchange.calendars import FIRST, ZONE, calendar_text, event_text
from tests.exchange.memory_server import ADDRESS, MemoryServer

UIDS = ("a", "b", "c")
OURS = st.fixed_dictionaries({}, optional={uid: st.tuples(st.integers(0, 3), st.integers(0, 2)) for uid in UIDS})
"""By uid, day and words of the plan's events; words 2 is a task that was called off."""
EDIT = st.tuples(
    st.sampled_from(UIDS), st.sampled_from(["move", "reword", "delete", "mark", "ring"]), st.integers(0, 3)
)
STEPS = st.lists(st.tuples(OURS, st.lists(EDIT, max_size=3), st.booleans(), st.booleans()), min_size=1, max_size=5)


@dataclass
class World:
    """The server, what is noted of it, and by uid what others last made of an event: its text, or None if deleted."""

    server: MemoryServer = field(default_factory=MemoryServer)
    known: dict[str, Known] = field(default_factory=dict)
    theirs: dict[str, str | None] = field(default_factory=dict)

    def edit(self, uid: str, what: str, number: int) -> None:
        """Another client's edit of an event, where there is one."""
        path = new_path(ADDRESS, uid)
        if path not in self.server.events:
            return
        text = self.server.events[path][1]
        lines = text.split("\r\n")
        start = next(line for line in lines if line.startswith("DTSTART"))
        end = next(line for line in lines if line.startswith("DTEND"))
        day = FIRST + timedelta(days=number)
        if what == "delete":
            del self.server.events[path]
            self.theirs.pop(uid, None)
            if uid in self.known:  # one called off and of the plan no longer may come back
                self.theirs[uid] = None
            return
        changed = {
            "move": text.replace(start, f"DTSTART;VALUE=DATE:{day:%Y%m%d}").replace(
                end, f"DTEND;VALUE=DATE:{day + timedelta(days=1):%Y%m%d}"),
            "reword": text.replace("SUMMARY:", f"SUMMARY:note {number} "),
            "mark": text.replace("SUMMARY:", "SUMMARY:✓ "),
            "ring": text.replace("TRIGGER:-PT6H", f"TRIGGER:-PT{number + 1}H"),
        }[what]  # fmt: skip
        self.server.write(path, changed)
        if what in ("reword", "mark") or self.theirs.get(uid):
            self.theirs[uid] = changed

    def push(self, planned: Mapping[str, tuple[int, int]], forget: bool) -> Outcome:
        """One push of the plan's events."""
        events = events_of(calendar_text([_text(uid, *what) for uid, what in planned.items()]), ZONE)
        ours = {uid: Ours(event=event) for uid, event in events.items()}
        outcome = Outcome(known={} if forget else dict(self.known))
        push(self.server, ADDRESS, Wanted(ours=ours, all_uids=frozenset(ours), made_for=FIRST, timezone=ZONE), outcome)
        self.known = outcome.known
        return outcome


def _text(uid: str, day: int, words: int) -> str:
    status = "CANCELLED" if words == 2 else "CONFIRMED"
    return event_text(uid, FIRST + timedelta(days=day), f"Dose {uid} {words}", status)


def _day(text: str) -> date:
    (event,) = events_of(text, ZONE).values()
    return event.day


@settings(max_examples=80, deadline=None)
@given(STEPS)
def test_what_others_wrote_stands_and_a_second_push_sends_nothing(
    steps: list[tuple[dict[str, tuple[int, int]], list[tuple[str, str, int]], bool, bool]],
) -> None:
    world = World()
    for planned, edits, is_late, _ in steps:
        for edit in [] if is_late else edits:
            world.edit(*edit)
        waiting = list(edits) if is_late else []

        def meanwhile(path: str, waiting: list[tuple[str, str, int]] = waiting) -> None:
            while waiting:
                world.edit(*waiting.pop())

        world.server.before_put = meanwhile
        outcome = world.push(planned, forget=False)
        assert outcome.cut is None
        for uid, text in world.theirs.items():
            there = world.server.events.get(new_path(ADDRESS, uid))
            if text is None:
                assert there is None
            else:
                assert there is not None
                assert there[1] == text
        if is_late:
            world.push(planned, forget=False)  # what was edited after it was looked at
        puts = world.server.puts
        again = world.push(planned, forget=False)
        assert (world.server.puts, again.sent) == (puts, 0)


@settings(max_examples=50, deadline=None)
@given(STEPS)
def test_without_edits_the_calendar_is_the_plan_even_where_nothing_was_noted(
    steps: list[tuple[dict[str, tuple[int, int]], list[tuple[str, str, int]], bool, bool]],
) -> None:
    world = World()
    for planned, _, _, forget in steps:
        outcome = world.push(planned, forget)
        assert outcome.left == []
        for uid, (day, words) in planned.items():
            there = world.server.events.get(new_path(ADDRESS, uid))
            if there is not None:
                assert _day(there[1]) == FIRST + timedelta(days=day)
                assert f"Dose {uid} {words}" in there[1]
            else:
                assert words == 2


@settings(max_examples=50, deadline=None)
@given(STEPS)
def test_a_day_moved_there_stands_until_the_plan_agrees(
    steps: list[tuple[dict[str, tuple[int, int]], list[tuple[str, str, int]], bool, bool]],
) -> None:
    world = World()
    for planned, edits, _, forget in steps:
        for uid, _, number in edits:
            world.edit(uid, "move", number)
        days = {uid: _day(content) for uid in UIDS if (one := world.server.events.get(new_path(ADDRESS, uid)))
                for content in [one[1]]}  # fmt: skip
        moved = {uid for uid, known in world.known.items() if uid in days and days[uid] != known.sent.day}
        outcome = world.push(planned, forget)
        for uid in moved & planned.keys():
            day, words = planned[uid]
            there = _day(world.server.events[new_path(ADDRESS, uid)][1])
            assert there == (days[uid] if words != 2 else FIRST + timedelta(days=day))
            held = words != 2 and days[uid] != FIRST + timedelta(days=day)
            assert (uid in {one.event.uid for one in outcome.left}) is held


def test_only_what_does_not_stand_as_sent_is_fetched_again_too() -> None:
    world, planned = World(), {"a": (0, 0), "b": (0, 0), "c": (0, 0)}
    world.push(planned, forget=False)
    world.push(planned, forget=False)
    assert world.server.fetched == []
    edits = [("b", "ring", 3)]
    world.server.before_put = lambda path: world.edit(*edits.pop()) if edits else None
    assert [one.uid for one in world.push({**planned, "b": (1, 0)}, forget=False).changed] == ["b"]
    assert world.server.fetched == [new_path(ADDRESS, "b")] * 2
