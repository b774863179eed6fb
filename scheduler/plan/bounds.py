"""The earliest and latest day of a dose, all else as planned, and the rule that sets each; why no other label."""

from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from msgspec.structs import replace

from scheduler.plan.options import repeat_days
from scheduler.plan.placed import Place, PlacedPlan
from scheduler.plan.room import Room
from scheduler.plan.sentences import is_confirmed
from scheduler.plan.whys import Bound, OtherUse
from scheduler.rules import RULES, Breach
from scheduler.season import Dose, Doses, Season
from scheduler.verify import WORK_RULES, exposed_of, unlawful
from scheduler.words import Span, plus, say_day

SLUGS = tuple(rule.slug for rule in RULES)


def bounds_of(plan: PlacedPlan, room: Room) -> tuple[Bound, Bound]:
    """The first and the last day around the planned one on which the same dose may be given.

    Going away from its day, they are reached before the first lawful day that leaves more sheep-days exposed. The rule
    is the one that the next day breaks, a rule of that day alone only where no other does.
    """
    place = room.place
    if place.dose.origin == "wish":
        asked = Bound(place.dose.day, "use-on-label", f"Asked for on this day ({place.dose.where}).")
        return asked, asked
    return _bound(plan, room, later=False), _bound(plan, room, later=True)


def _bound(plan: PlacedPlan, room: Room, later: bool) -> Bound:
    day = room.place.dose.day
    lost: tuple[date, int] | None = None
    for other, swap in room.days(later):
        if swap.exposed_sheep_days > 0:
            lost = (other, swap.exposed_sheep_days)
            break
        day = other
    beyond = plus(day, 1 if later else -1)
    if lost is None or lost[0] != beyond:
        rule, text = _barred(plan, room.place, beyond)
        exposed = _exposed_by_moving(plan, room.place, beyond) if rule in WORK_RULES else 0
        if not exposed:
            also = "" if lost is None or rule not in WORK_RULES else f" {_lost(*lost)}"
            return Bound(day, rule, text + also)
        lost = (beyond, exposed)
    return Bound(day, _purpose_rule(room.place), _lost(*lost))


def _purpose_rule(place: Place) -> str:
    """The rule that a dose is there to keep."""
    return "infested-now" if place.dose.use.purpose == "treat" else "cover-gap"


def _lost(day: date, exposed: int) -> str:
    return f"On {say_day(day)} it would leave {_sheep_days(exposed)} more exposed."


def _sheep_days(count: int) -> str:
    return f"{count:,} sheep-day" if count == 1 else f"{count:,} sheep-days"


def _barred(plan: PlacedPlan, place: Place, day: date) -> tuple[str | None, str]:
    """The rule that keeps the dose off the day, and how."""
    season = plan.question.season
    if day < season.made_for:
        return None, "No day before the day of the plan can be planned."
    if day not in season.span:
        edge = season.span.first if day < season.span.first else season.span.last
        return None, f"The season {'begins' if day < season.span.first else 'ends'} on {say_day(edge)}."
    breach = _worst(_moved_breaches(plan, place, day))
    owed = _owed_days(season, place)
    if owed is not None and day not in owed and (breach is None or breach.rule in WORK_RULES):
        late = "" if place.dose.day in owed else "; now that it is late, the first lawful day is taken"
        return "lamb-repeat", f"The label has this repeat from {say_day(owed.first)} to {say_day(owed.last)}{late}."
    if breach is None:
        return "lamb-repeat", f"On {say_day(day)} it would not be the same course, with or without a repeat dose."
    return breach.rule, _sentence(breach, day)


def _owed_days(season: Season, place: Place) -> Span | None:
    """The days that the label has for a repeat which the record obliges; the judge lays its lateness to the record."""
    dose = place.dose
    if not place.is_owed or dose.first_day is None:
        return None
    duty = season.repeat_duty(dose.cohort, dose.use, dose.first_day)
    return None if duty is None else repeat_days(dose.first_day, duty)


def _moved_breaches(plan: PlacedPlan, place: Place, day: date) -> list[Breach]:
    """What the judge finds where the dose is given on another day."""
    return _judged(plan, place, *_moved(place, day))


def _exposed_by_moving(plan: PlacedPlan, place: Place, day: date) -> int:
    """What giving the dose on another day leaves exposed more, by the judge's sums."""
    season, cohort = plan.question.season, place.lot.cohort
    out, new = _moved(place, day)
    gone = {(dose.key, dose.first_day) for dose in out}
    before = plan.settled.doses.of(cohort)
    after = (*(dose for dose in before if (dose.key, dose.first_day) not in gone), *new)
    cured = place.dose.use.purpose == "treat"
    touched = {day for dose in (*out, *new) for day in season.cover(cohort, dose.use, dose.day).cover.days()}
    days = [day for day in season.window.days() if cured or day in touched]
    return exposed_of(season, cohort, after, days) - exposed_of(season, cohort, before, days)


def _moved(place: Place, day: date) -> tuple[list[Dose], list[Dose]]:
    """The dose on its day and on another one; the repeat that follows a first dose keeps its distance."""
    dose = place.dose
    if dose.first_day is not None:
        return [dose], [replace(dose, day=day)]
    days, own = (day - dose.day).days, list(place.lot.courses[place.course].doses)
    moved = [
        replace(one, day=plus(one.day, days), first_day=one.first_day and plus(one.first_day, days)) for one in own
    ]
    return own, moved


def _judged(plan: PlacedPlan, place: Place, out: Sequence[Dose], new: Sequence[Dose]) -> list[Breach]:
    """What the judge finds in the plan of one cohort with some doses of it exchanged for others."""
    season, cohort = plan.question.season, place.lot.cohort
    gone = {(dose.key, dose.first_day) for dose in out}
    days = {dose.day for dose in new}
    beside = [
        dose
        for dose in plan.settled.doses
        if (dose.cohort.id == cohort.id and (dose.key, dose.first_day) not in gone)
        or (dose.cohort.id != cohort.id and dose.day in days)
    ]
    return [
        breach
        for breach in unlawful(season, Doses([*beside, *new]))
        if breach.cohort == cohort.id or (breach.rule == "daily-head" and breach.day in days)
    ]


def _worst(found: Sequence[Breach]) -> Breach | None:
    """The breach to tell: of a rule that holds for longer than a day before one of the day alone; then as listed."""
    return min(found, key=lambda breach: (breach.rule in WORK_RULES, SLUGS.index(breach.rule)), default=None)


def _sentence(breach: Breach, day: date) -> str:
    """The breach told of the day that the dose would have; `breach.dose` may be another one."""
    other = "" if breach.day is None or breach.day == day else f"for the dose of {say_day(breach.day)}, "
    place = "" if breach.where is None or str(breach.where) in breach.text else f" ({breach.where})"
    text = f"{other}{breach.text}{place}."
    return text if text.startswith(say_day(day)) else f"On {say_day(day)}: {text}"


def other_uses(plan: PlacedPlan, room: Room) -> tuple[OtherUse, ...] | None:
    """The other uses for the same against a target of a first dose, on its day, all else as planned, best first.

    None for a repeat, which must be of the same label, and for a wish.
    """
    place, season = room.place, plan.question.season
    if place.dose.first_day is not None or place.dose.origin == "wish":
        return None
    found = [_other(plan, room, dose) for dose in _rivals(season, plan, place.dose)]
    return tuple(sorted(found, key=lambda one: (one.rule is not None, one.exposed_sheep_days, one.money_minor)))


def _rivals(season: Season, plan: PlacedPlan, dose: Dose) -> Iterator[Dose]:
    for label, use in season.uses():
        rival = replace(dose, label=label, use=use)
        same_purpose = use.purpose == dose.use.purpose
        if same_purpose and rival.key != dose.key and plan.targets(dose) & plan.targets(rival):
            yield rival


def _other(plan: PlacedPlan, room: Room, rival: Dose) -> OtherUse:
    place, label = room.place, rival.label
    confirmed = is_confirmed(label, plan.question.season.made_for)
    other = OtherUse(label=label.id, name=label.name, confirmed=confirmed, use=rival.use.id)
    best = room.best(number for number in place.free if place.lot.courses[number].doses[0].key == rival.key)
    if best is not None:
        return replace(other, exposed_sheep_days=best.exposed_sheep_days, money_minor=best.money_minor)
    breach = _worst(_judged(plan, place, place.lot.courses[place.course].doses, _with_repeat(plan, rival)))
    if breach is None:
        return replace(other, rule="lamb-repeat", text="Its repeat finds no lawful day.")
    return replace(other, rule=breach.rule, text=_sentence(breach, rival.day))


def _with_repeat(plan: PlacedPlan, first: Dose) -> list[Dose]:
    duty = plan.question.season.repeat_duty(first.cohort, first.use, first.day)
    if duty is None:
        return [first]
    return [first, replace(first, day=first.day + timedelta(days=duty.after_days), first_day=first.day)]
