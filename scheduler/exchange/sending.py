"""What push does with one event: what the plan has, what stands on the server, and what was last sent."""

from datetime import date
from typing import Literal

from msgspec import Struct

from scheduler.exchange.compose import at_their_day, called_off, with_sequence, with_their_reminders
from scheduler.exchange.event import Event, Sent
from scheduler.exchange.state import Known

Left = Literal["moved", "reworded", "timed", "marked done", "deleted"]
"""Why an event stands on the server otherwise than in the plan."""


class Ours(Struct, frozen=True, kw_only=True):
    """An event of the plan's calendar. is_done: recorded.

    refused: what speaks against a day, by day, where the plan has refused it as a wish. ours_wins: the keeper wants it
    to stand as planned whatever stands on the server.
    """

    event: Event
    is_done: bool = False
    refused: tuple[tuple[date, str], ...] = ()
    ours_wins: bool = False

    @property
    def settled(self) -> bool:
        """Done or called off, so that no other day can be meant."""
        return self.is_done or self.event.is_cancelled

    def refusals(self, day: date) -> list[str]:
        """What speaks against the day."""
        return [text for refused, text in self.refused if refused == day]


class There(Struct, frozen=True):
    """An event as it stands on the server: its path and tag."""

    path: str
    tag: str
    event: Event


class Step(Struct, frozen=True):
    """What to do with one event. send: what to put there, with `sent` noted in it; None: nothing.

    left: why it stands there otherwise, with their day. as_sent: it then stands just as sent. forget: no longer ours.
    """

    send: Event | None = None
    sent: Sent | None = None
    left: Left | None = None
    their_day: date | None = None
    as_sent: bool = False
    forget: bool = False


NOTHING = Step()


def step_of(ours: Ours, there: There | None, known: Known | None) -> Step:
    """What to do with an event of the plan."""
    if there is None:
        return _absent(ours, known)
    return _compared(ours, there.event, there.event.sent or (known.sent if known else None))


def _absent(ours: Ours, known: Known | None) -> Step:
    """Not on the server: new, or deleted there since it was sent; that is asked, and not put back."""
    event = ours.event
    if known is not None and not ours.ours_wins:
        return NOTHING if ours.settled else Step(left="deleted")
    if event.is_cancelled:
        return NOTHING
    return Step(event, event.as_sent, as_sent=True)


def _compared(ours: Ours, theirs: Event, sent: Sent | None) -> Step:
    event = ours.event
    if ours.ours_wins:
        return _put(event, event, theirs, sent)
    if theirs.is_done and not ours.is_done:
        return Step(left="marked done", their_day=theirs.day)
    if theirs.words not in (sent.words if sent else event.words, event.words):
        return Step(left="reworded", their_day=theirs.day)
    moved = theirs.day != (sent.day if sent else event.day)
    if ours.settled:
        return _put(event, event, theirs, sent)
    if not theirs.is_plain:
        return Step(left="timed", their_day=theirs.day)
    if moved and theirs.day != event.day:
        wanted = at_their_day(event, theirs.day, ours.refusals(theirs.day))
        return _put(wanted, event, theirs, sent)
    return _put(event, event, theirs, sent)


def _put(wanted: Event, plan: Event, theirs: Event, sent: Sent | None) -> Step:
    """Puts what is wanted there, unless it stands there; reminders that were changed there are kept."""
    note = Sent(plan.day, wanted.words, wanted.whole)
    own_reminders = sent is not None and theirs.words == sent.words and theirs.whole != sent.whole
    is_held = wanted.day != plan.day
    left: Left | None = "moved" if is_held else None
    if own_reminders and wanted.component.walk("VALARM"):
        wanted = with_their_reminders(wanted, theirs)
    is_there = theirs.is_plain and (theirs.day, theirs.words, theirs.whole) == (wanted.day, wanted.words, wanted.whole)
    as_sent = not is_held and not own_reminders
    if is_there and sent in (note, None):
        return Step(None, note, left, theirs.day, as_sent)
    if theirs.sequence >= wanted.sequence:
        wanted = with_sequence(wanted, theirs.sequence + 1)
    return Step(wanted, note, left, theirs.day, as_sent)


def gone_step(theirs: Event, known: Known, made_for: date) -> Step:
    """What to do with an event that was sent once and is in the calendar no longer: one to come is called off."""
    sent = theirs.sent or known.sent
    if theirs.is_cancelled or theirs.day < made_for or theirs.is_done or not theirs.is_plain:
        return Step(forget=True)
    if (sent.day, sent.words) != (theirs.day, theirs.words):
        return Step(forget=True)
    off = called_off(theirs)
    return Step(off, off.as_sent, forget=True)
