"""Every fault of a calendar against RFC 5545 and RFC 7986, from its bytes alone."""

import re
from collections.abc import Iterator
from datetime import timedelta

from tests.calendar.octets import Component, Fault, Property, octet_faults, tree
from tests.calendar.tables import (
    INSIDE,
    MANY,
    ONCE,
    PARAMETERS_OF,
    RELATIONS,
    REQUIRED,
    TYPES_OF,
    UTC_ALWAYS,
    WORDS,
)
from tests.calendar.values import TYPES, day_of, moment_of, span_of

UID_OCTETS = 255
UID_PRIVATE = re.compile(r"@|\d{1,3}(?:\.\d{1,3}){3}|localhost|[/\\]|https?:")
NEEDS_VALUE = {"REFRESH-INTERVAL": "refresh", "SOURCE": "source", "IMAGE": "image", "CONFERENCE": "conference"}


def faults_of(calendar: bytes) -> list[Fault]:
    """All faults, those of the octets first; an empty list where the calendar keeps both standards."""
    root, found = tree(calendar)
    return [*octet_faults(calendar), *found, *(_calendar(root) if root is not None else ())]


def _calendar(calendar: Component) -> Iterator[Fault]:
    yield from _component(calendar, calendar.properties("METHOD") != [])
    if not calendar.components():
        yield Fault("no-component", "a calendar without any component")
    kinds = [isinstance(part, Component) for part in calendar.parts]
    if kinds != sorted(kinds):
        yield Fault("property-after-component", "a property of the calendar stands after its first component")
    for rule, name, allowed in (("version", "VERSION", "2.0"), ("calscale", "CALSCALE", "GREGORIAN")):
        yield from (Fault(rule, one.value) for one in calendar.properties(name) if one.value != allowed)
    yield from _uids(calendar)
    yield from _zones(calendar)


def _component(component: Component, has_method: bool) -> Iterator[Fault]:
    """Faults of one component and all inside it."""
    kind = component.kind
    yield from (fault for one in component.properties() for fault in _property(one))
    if kind not in REQUIRED:
        yield Fault("component-unknown", kind)
        return
    yield from _counts(component, has_method)
    if kind == "VEVENT":
        yield from _event(component)
    if kind == "VALARM":
        yield from _alarm(component)
    for inner in component.components():
        if inner.kind not in INSIDE.get(kind, ()) and inner.kind in REQUIRED:
            yield Fault("component-place", f"{inner.kind} in {kind}")
        yield from _component(inner, has_method)


def _counts(component: Component, has_method: bool) -> Iterator[Fault]:
    kind = component.kind
    names = [one.name for one in component.properties()]
    known = {*REQUIRED[kind], *ONCE.get(kind, ()), *MANY.get(kind, ())}
    for name in dict.fromkeys(names):
        if name not in known and name in TYPES_OF:
            yield Fault("property-place", f"{name} in {kind}")
        if names.count(name) > 1 and name in (*REQUIRED[kind], *ONCE.get(kind, ())):
            yield Fault("once", f"{name} stands {names.count(name)} times in {kind}")
    for name in REQUIRED[kind]:
        if name not in names and not (has_method and name == "DTSTART"):
            yield Fault("required", f"{kind} without {name}")
    if kind == "VCALENDAR":
        for name in ("NAME", "DESCRIPTION"):
            languages = [one.parameters.get("LANGUAGE") for one in component.properties(name)]
            if len(set(languages)) < len(languages):
                yield Fault("once", f"{name} twice in one language")


def _property(one: Property) -> Iterator[Fault]:
    """Faults of one property by itself: its name, parameters, type and form."""
    if one.name.startswith("X-"):
        return
    if one.name not in TYPES_OF:
        yield Fault("property-unknown", one.name)
        return
    known = {*PARAMETERS_OF.get(one.name, ()), "VALUE"}
    yield from (Fault("parameter-unknown", f"{name} of {one.name}")
                for name in one.parameters if name not in known and not name.startswith("X-"))  # fmt: skip
    types = TYPES_OF[one.name]
    named = one.parameters.get("VALUE", types[0]).upper()
    kind = types[0] if types[0] == "TEXTS" and named == "TEXT" else named
    if kind == "NONE" or kind not in types:
        yield Fault(NEEDS_VALUE.get(one.name, "value-type"), f"{one.name} of type {named}")
        return
    rule, is_right = TYPES.get(kind, TYPES["ANY"])
    if not is_right(one.value):
        yield Fault(rule, f"{one.name}: {one.value[:60]!r}")
        return
    yield from _meaning(one)


def _meaning(one: Property) -> Iterator[Fault]:
    """Faults of a value of the right form."""
    if one.name in WORDS and one.value not in WORDS[one.name]:
        yield Fault("word", f"{one.name}: {one.value}")
    if one.parameters.get("RELTYPE", "PARENT").upper() not in RELATIONS:
        yield Fault("word", f"RELTYPE: {one.parameters['RELTYPE']}")
    if one.name in UTC_ALWAYS and not one.value.endswith("Z"):
        yield Fault("utc", f"{one.name}: {one.value}")
    if one.name == "SEQUENCE" and int(one.value) < 0:
        yield Fault("sequence", one.value)
    if one.name == "COLOR" and not re.fullmatch(r"[A-Za-z]+", one.value):
        yield Fault("colour", one.value)
    if one.name == "REFRESH-INTERVAL" and (span_of(one.value) or timedelta()) <= timedelta():
        yield Fault("refresh", one.value)
    if "TZID" in one.parameters and (one.parameters.get("VALUE") == "DATE" or one.value.endswith("Z")):
        yield Fault("zone-on-date", f"{one.name}: a date, or a time of UTC, has no zone")


def _uids(calendar: Component) -> Iterator[Fault]:
    events = [one for one in calendar.components("VEVENT") if not one.properties("RECURRENCE-ID")]
    uids = [one.value for event in events for one in event.properties("UID")]
    if len(set(uids)) < len(uids):
        yield Fault("uid-twice", next(uid for uid in uids if uids.count(uid) > 1))
    yield from (Fault("uid-private", uid) for uid in uids if UID_PRIVATE.search(uid))
    yield from (Fault("uid-long", uid) for uid in uids if len(uid.encode()) > UID_OCTETS)


def _event(event: Component) -> Iterator[Fault]:
    starts, ends, spans = (event.properties(name) for name in ("DTSTART", "DTEND", "DURATION"))
    if ends and spans:
        yield Fault("end-or-duration", "both DTEND and DURATION")
    if not starts:
        return
    start = starts[0]
    for end in ends:
        types = {one.parameters.get("VALUE", "DATE-TIME") for one in (start, end)}
        if len(types) > 1:
            yield Fault("end-type", f"{start.value} to {end.value}")
        elif _when(end) <= _when(start):
            yield Fault("end-after-start", f"{start.value} to {end.value}")
    for span in spans:
        length = span_of(span.value)
        if length is not None and (length <= timedelta() or (_is_day(start) and "T" in span.value)):
            yield Fault("duration-of-days", span.value)


def _is_day(one: Property) -> bool:
    return one.parameters.get("VALUE") == "DATE"


def _when(one: Property) -> str:
    """What grows with time, within one type; empty where the value is wrong."""
    found = day_of(one.value) if _is_day(one) else moment_of(one.value)
    return "" if found is None else found.isoformat()


def _alarm(alarm: Component) -> Iterator[Fault]:
    actions = [one.value for one in alarm.properties("ACTION")]
    needs = {"DISPLAY": ("DESCRIPTION",), "EMAIL": ("DESCRIPTION", "SUMMARY", "ATTENDEE")}
    for name in needs.get(actions[0] if actions else "", ()):
        if not alarm.properties(name):
            yield Fault("alarm-words", f"an alarm of {actions[0]} without {name}")
    if len(alarm.properties("REPEAT")) != len(alarm.properties("DURATION")):
        yield Fault("repeat-and-duration", "one without the other")
    for trigger in alarm.properties("TRIGGER"):
        absolute = trigger.parameters.get("VALUE") == "DATE-TIME"
        if absolute and not trigger.value.endswith("Z"):
            yield Fault("trigger-utc", trigger.value)
        if trigger.parameters.get("RELATED", "START") not in ("START", "END") or (
            absolute and "RELATED" in trigger.parameters
        ):
            yield Fault("trigger-end", str(trigger.parameters))


def _zones(calendar: Component) -> Iterator[Fault]:
    zones = calendar.components("VTIMEZONE")
    named = [one.value for zone in zones for one in zone.properties("TZID")]
    if len(set(named)) < len(named):
        yield Fault("zone-twice", str(named))
    yield from (Fault("zone-parts", "a zone without STANDARD and DAYLIGHT") for zone in zones if not zone.components())
    for event in calendar.components():
        for one in event.properties():
            if "TZID" in one.parameters and one.parameters["TZID"] not in named:
                yield Fault("zone-table", f"{one.name} names {one.parameters['TZID']}, which has no VTIMEZONE")
