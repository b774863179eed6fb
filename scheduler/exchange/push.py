"""The plan's events brought to a calendar: listed, compared, and put there one by one."""

from collections.abc import Mapping, Sequence
from datetime import date

from msgspec import Struct, field

from scheduler.exchange.compose import resource_of
from scheduler.exchange.connection import OutOfReach
from scheduler.exchange.event import Event, Sent, events_of
from scheduler.exchange.sending import Left, Ours, Step, There, gone_step, step_of
from scheduler.exchange.server import ChangedThere, Server, new_path
from scheduler.exchange.state import Known

ROUNDS = 4
"""How often a calendar is looked at again, where others change it meanwhile."""


class LeftThere(Struct, frozen=True):
    """An event that stands on the server otherwise than in the plan; their_day None where it was deleted there."""

    event: Event
    why: Left
    their_day: date | None


class Outcome(Struct):
    """What a push did, each list in order of date. cut: the sentence on why it ended early; then `open` are not done.

    known: what is known of the calendar, kept true after each event.
    """

    new: list[Event] = field(default_factory=list)
    changed: list[Event] = field(default_factory=list)
    called_off: list[Event] = field(default_factory=list)
    left: list[LeftThere] = field(default_factory=list)
    unchanged: int = 0
    open: int = 0
    cut: str | None = None
    known: dict[str, Known] = field(default_factory=dict)

    @property
    def sent(self) -> int:
        """How many events were sent."""
        return len(self.new) + len(self.changed) + len(self.called_off)


class Wanted(Struct, frozen=True, kw_only=True):
    """What shall stand in a calendar: the events by uid, all uids of the plan's calendar, and the day of the plan.

    kinds: only events of these kinds are looked at; empty: all.
    """

    ours: Mapping[str, Ours]
    all_uids: frozenset[str]
    made_for: date
    timezone: str
    kinds: Sequence[str] = ()


def push(server: Server, address: str, wanted: Wanted, outcome: Outcome, *, dry: bool = False) -> None:
    """Brings the events to the calendar at the address; `outcome` is filled on the way, so that it holds at any cut.

    outcome.known: what is known of the calendar before. dry: nothing is sent.
    """
    try:
        _Pushing(server, address, wanted, outcome.known, dry, outcome).run()
    except OutOfReach as trouble:
        outcome.cut = str(trouble)


class _Pushing(Struct):
    server: Server
    address: str
    wanted: Wanted
    known: dict[str, Known]
    dry: bool
    outcome: Outcome

    def run(self) -> None:
        """Looks and puts, and again what others changed between the two."""
        todo = {**self.wanted.ours, **dict.fromkeys(uid for uid in self.known if uid not in self.wanted.all_uids)}
        for _ in range(ROUNDS):
            todo = self._round(todo)
            if not todo:
                return
        raise OutOfReach("The server went on refusing the rest: others change it, or another calendar there holds it.")

    def _round(self, todo: Mapping[str, Ours | None]) -> dict[str, Ours | None]:
        """One look at the calendar and what follows; what has to be looked at again."""
        self.outcome.open = len(todo)
        tags = self.server.tags(self.address)
        same = {uid for uid, ours in todo.items() if ours is not None and self._is_as_sent(uid, ours, tags)}
        self.outcome.unchanged += len(same)
        self.outcome.open -= len(same)
        there = self._there(todo, tags, same)
        again: dict[str, Ours | None] = {}
        for uid in sorted(todo.keys() - same, key=self._order):
            try:
                self._one(uid, todo[uid], there.get(uid))
                self.outcome.open -= 1
            except ChangedThere:
                again[uid] = todo[uid]
        return again

    def _order(self, uid: str) -> tuple[date, str]:
        """By date, those of the calendar no longer last."""
        ours = self.wanted.ours.get(uid)
        return (date.max if ours is None else ours.event.day, uid)

    def _is_as_sent(self, uid: str, ours: Ours, tags: Mapping[str, str]) -> bool:
        known = self.known.get(uid)
        return known is not None and known.sent == ours.event.as_sent and known.tag == tags.get(known.path, "")

    def _there(self, todo: Mapping[str, object], tags: Mapping[str, str], same: set[str]) -> dict[str, There]:
        """The events of ours that stand there and have to be looked at."""
        passed = {known.path for uid, known in self.known.items()
                  if uid in same or (uid not in todo and known.tag == tags.get(known.path, ""))}  # fmt: skip
        found: dict[str, There] = {}
        for path, tag, content in self.server.fetch(self.address, [path for path in tags if path not in passed]):
            for uid, event in _events(content, self.wanted.timezone).items():
                if uid in todo:
                    found.setdefault(uid, There(path, tag, event))
        return found

    def _one(self, uid: str, ours: Ours | None, there: There | None) -> None:
        known = self.known.get(uid)
        if ours is not None:
            self._take(uid, step_of(ours, there, known), there, ours.event)
        elif known is not None and there is None:
            if known.sent.day < self.wanted.made_for and not self.dry:
                del self.known[uid]
        elif known is not None and there is not None and self._is_wanted(there.event):
            self._take(uid, gone_step(there.event, known, self.wanted.made_for), there, there.event)

    def _is_wanted(self, event: Event) -> bool:
        return not self.wanted.kinds or event.kind in self.wanted.kinds

    def _take(self, uid: str, step: Step, there: There | None, event: Event) -> None:
        """Does what the step says, and notes it."""
        if step.send is not None and step.sent is not None:
            self._send(uid, step.send, step.sent, there, step.as_sent)
        elif step.left is None and not step.forget and there is not None:
            self.outcome.unchanged += 1
        if step.send is None and step.sent is not None and there is not None:
            self.known[uid] = Known(there.path, step.sent, there.tag if step.as_sent else None)
        if step.left is not None:
            self.outcome.left.append(LeftThere(event, step.left, step.their_day))
        if step.forget and not self.dry:
            self.known.pop(uid, None)

    def _send(self, uid: str, event: Event, sent: Sent, there: There | None, as_sent: bool) -> None:
        path = new_path(self.address, uid) if there is None else there.path
        tag = None if there is None else there.tag
        if not self.dry:
            new_tag = self.server.put(self.address, path, resource_of(event, sent), tag)
            self.known[uid] = Known(path, sent, new_tag if as_sent else None)
        if there is None:
            self.outcome.new.append(event)
        else:
            (self.outcome.called_off if event.is_cancelled else self.outcome.changed).append(event)


def _events(content: str, timezone: str) -> dict[str, Event]:
    """The events of one file of the calendar; none where it cannot be read: then it is not ours."""
    try:
        return events_of(content, timezone)
    except ValueError:
        return {}
