"""handling-people: whoever handles sheep soon after a dose is in touch with the medicine."""

from collections.abc import Iterable, Iterator
from datetime import date

from msgspec import Struct

from scheduler.rules.contract import Breach, Rule
from scheduler.season import GATHERING, Dose, Doses, Season
from scheduler.words import Span, Where, plus, say_day

SLUG = "handling-people"


class _Gather(Struct, frozen=True):
    """A mob in hand on a day. `span`: the days of the work that it belongs to; `dose`: whether sheep are dosed."""

    day: date
    mob: str
    what: str
    span: Span
    dose: bool
    where: Where | None


def check(season: Season, doses: Doses) -> Iterable[Breach]:
    """Each gather from made_for on, for doses or by an event, of sheep still within handling days of a dose.

    Once a mob and day, once a mob and event: its first such day. The days run from the day after the dose.
    """
    said: set[tuple[str, Where | None, date | None]] = set()
    for gather in _gathers(season, doses):
        key = (gather.mob, gather.where, gather.day if gather.dose else None)
        near = [dose for dose in doses if _is_near(season, dose, gather)]
        if near and key not in said:
            said.add(key)
            yield _breach(gather, near)


def _gathers(season: Season, doses: Doses) -> Iterator[_Gather]:
    """Those for doses in order, then those by events that bring a mob in without a dose."""
    dosed: dict[tuple[date, str], Dose] = {}
    for dose in doses:
        if dose.origin != "missed" and dose.day >= season.made_for:
            dosed.setdefault((dose.day, season.presence.mob_of(dose.cohort.group.name, dose.day)), dose)
    for (day, mob), dose in dosed.items():
        yield _Gather(day, mob, f"to be given {dose.label.id}", Span(day, day), True, dose.where)
    until = max((plus(dose.day, dose.label.handling_days) for dose in doses), default=date.min)
    for event in season.farm.events:
        if event.what in GATHERING:
            span = Span(event.first, event.last)
            for day in Span(max(event.first, season.made_for), min(event.last, until)).days():
                for mob in dict.fromkeys(season.presence.mob_of(name, day) for name in event.groups):
                    if not any(other in span and dosed_mob == mob for other, dosed_mob in dosed):
                        yield _Gather(day, mob, event.what, span, False, event.where)


def _is_near(season: Season, dose: Dose, gather: _Gather) -> bool:
    return (
        dose.day < gather.day <= plus(dose.day, dose.label.handling_days)
        and dose.day not in gather.span
        and season.presence.mob_of(dose.cohort.group.name, gather.day) == gather.mob
        and season.is_here(dose.cohort, gather.day)
    )


def _breach(gather: _Gather, near: list[Dose]) -> Breach:
    names = "; ".join(dict.fromkeys(dose.cohort.group.name for dose in near))
    last = max(near, key=lambda dose: plus(dose.day, dose.label.handling_days))
    until = say_day(plus(last.day, last.label.handling_days))
    text = (
        f"{names}: in hand on {say_day(gather.day)} ({gather.what}) after {last.label.id} of {say_day(last.day)}; "
        f"until {until} gloves and clothing as the label asks, for everybody who handles them"
    )
    day = gather.day if gather.dose else max(dose.day for dose in near)
    return Breach(rule=SLUG, text=text, group=names, day=day, where=gather.where)


RULE = Rule(
    slug=SLUG,
    title="Whoever handles sheep within the label's handling days after a dose is told, and protected.",
    why="Shearers and helpers take the medicine up through their hands, and they do not know what was given.",
    severity="warn",
    family="work",
    sources=("label-in-hand", "dicyclanil-handling", "au-withholding"),
    whole=check,
)
