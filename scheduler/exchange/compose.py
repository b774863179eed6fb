"""What is sent of an event: the plan's own, with what has to be kept of the one that stands on the server."""

from collections.abc import Iterable
from copy import deepcopy
from datetime import date, timedelta
from typing import TYPE_CHECKING

from scheduler.exchange.event import SENT, Event, Sent, event_of
from scheduler.words import say_day

if TYPE_CHECKING:
    from icalendar import Event as Component

PRODID = "-//season-scheduler//season//EN"


def resource_of(event: Event, sent: Sent) -> str:
    """The calendar object of one event (RFC 4791, 4.1), with what is sent noted in it."""
    from icalendar import Calendar

    component = _copy(event)
    component.pop(SENT, None)
    component.add(SENT, str(sent))
    made = Calendar()
    made.add("prodid", PRODID)
    made.add("version", "2.0")
    made.add_component(component)
    return str(made.to_ical(sorted=False).decode())


def at_their_day(ours: Event, day: date, refused: Iterable[str]) -> Event:
    """The plan's event on the day to which it was moved on the server, saying both days and why it may not be so."""
    component = _copy(ours)
    _set(component, "SUMMARY", f"{ours.title} (plan: {say_day(ours.day)})")
    lines = [
        f"You moved this to {say_day(day)}; the plan has it on {say_day(ours.day)}.",
        *(f"Not lawful on {say_day(day)}: {text}" for text in refused),
        "Your day stands here until you decide. The rest is said of the plan's day.",
        str(component.get("DESCRIPTION", "")),
    ]
    _set(component, "DESCRIPTION", "\n".join(filter(None, lines)))
    _set(component, "DTSTART", day)
    _set(component, "DTEND", day + timedelta(days=1))
    return event_of(component)


def with_their_reminders(ours: Event, theirs: Event) -> Event:
    """The plan's event with the reminders that the event on the server has."""
    component = _copy(ours)
    component.subcomponents = [one for one in component.subcomponents if one.name != "VALARM"]
    component.subcomponents += [deepcopy(one) for one in theirs.component.walk("VALARM")]
    return event_of(component)


def with_sequence(event: Event, sequence: int) -> Event:
    """The event with another SEQUENCE."""
    component = _copy(event)
    _set(component, "SEQUENCE", sequence)
    return event_of(component)


def called_off(theirs: Event) -> Event:
    """An event as it stands on the server, called off and without reminders."""
    component = _copy(theirs)
    component.subcomponents = []
    _set(component, "STATUS", "CANCELLED")
    _set(component, "SEQUENCE", theirs.sequence + 1)
    return event_of(component)


def _copy(event: Event) -> "Component":
    return deepcopy(event.component)


def _set(component: "Component", name: str, value: object) -> None:
    component.pop(name, None)
    component.add(name, value)
