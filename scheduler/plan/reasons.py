"""Why a dose stands where it does: what it covers, and the bounds that hold it there."""

from collections.abc import Iterator
from datetime import date, timedelta

from scheduler.facts import facts
from scheduler.farm import Event
from scheduler.plan.model import Because, Clear, Task
from scheduler.plan.sentences import targets_text
from scheduler.season import Cohort, Course, Dose, Season, is_for_meat
from scheduler.words import Target, say_day, say_days, say_number, two_decimals


def because_of(season: Season, dose: Dose, course: Course, task: Task) -> tuple[Because, ...]:
    """The reasons of a dose still to be given, most telling first; never none: by them it is known as planned."""
    reasons = [
        *_wished(dose),
        *_found(season, dose),
        *_repeated(season, dose),
        *_covered(season, dose, task),
        *_not_early(season, dose, task),
        *_weighed(dose, task),
        *_gathered(season, dose),
        *_sold(season, course, task.clear),
        *_milked_and_shorn(season, course, task.clear),
    ]
    permitted = Because("use-on-label", "The label permits it.", dose.use.where)
    return tuple(reasons) or (permitted,)


Reasons = Iterator[Because]


def _wished(dose: Dose) -> Reasons:
    if dose.origin == "wish":
        yield Because("use-on-label", f"Asked for ({dose.where}); no rule forbids it.", dose.where)


def _found(season: Season, dose: Dose) -> Reasons:
    for target in dose.use.targets:
        for row in season.findings.of(dose.cohort, target):
            if row.day <= dose.day and (row.cleared is None or dose.day < row.cleared):
                head = "" if row.head is None else f" on {row.head} head"
                text = f"{_words(target)} found{head} on {say_day(row.day)} ({row.where})."
                yield Because("infested-now", text, row.where)


def _repeated(season: Season, dose: Dose) -> Reasons:
    if dose.first_day is None:
        return
    duty = season.repeat_duty(dose.cohort, dose.use, dose.first_day)
    if duty is not None:
        due = dose.first_day + timedelta(days=duty.after_days)
        last = due + timedelta(days=facts().figures.repeat_slack_days.whole)
        late = ", now late" if dose.day > last else ""
        text = (
            f"The label obliges a second dose {say_days(duty.after_days)} after that of {say_day(dose.first_day)}, "
            f"due {say_day(due)} to {say_day(last)}{late}."
        )
        yield Because("lamb-repeat", text, dose.use.where)


def _covered(season: Season, dose: Dose, task: Task) -> Reasons:
    for target in task.targets or ():
        days = _days_at_risk(season, dose, target)
        if days:
            level = max(season.base_level(dose.cohort, target, day) for day in days)
            span = say_day(days[0]) if len(days) == 1 else f"{say_day(days[0])} to {say_day(days[-1])}"
            text = f"{_words(target)}: covers {say_days(len(days))} at risk, {span}, level up to {say_number(level)}."
            yield Because("cover-gap", text, dose.cohort.group.where)


def _days_at_risk(season: Season, dose: Dose, target: Target) -> list[date]:
    cover = season.cover(dose.cohort, dose.use, dose.day).cover
    return [day for day in cover.days() if day in season.window and season.is_at_risk(dose.cohort, target, day)]


def _not_early(season: Season, dose: Dose, task: Task) -> Reasons:
    if dose.use.purpose != "prevent" or dose.first_day is not None:
        return
    days = [day for target in task.targets or () for day in _days_at_risk(season, dose, target)]
    wait = (min(days) - dose.day).days if days else season.settings.lead_days + 1
    if wait <= season.settings.lead_days:
        when = f"{say_days(wait)} after the dose" if wait else "the day of the dose"
        lead = say_days(season.settings.lead_days)
        yield Because("too-early", f"First day at risk that it covers: {say_day(min(days))}, {when}; {lead} allowed.")


def _weighed(dose: Dose, task: Task) -> Reasons:
    by_weight = len(dose.use.bands) > 1 or any(band.ml_per_kg is not None for band in dose.use.bands)
    if dose.first_day is None and by_weight and task.heaviest_kg is not None:
        heaviest = say_number(two_decimals(task.heaviest_kg))
        text = f"Dosed for the heaviest, about {heaviest} kg: too little for it would breed resistance."
        yield Because("dose-band", text, dose.use.where)


def _gathered(season: Season, dose: Dose) -> Reasons:
    mob = season.presence.mob_of(dose.cohort.group.name, dose.day)
    event = season.presence.gather_event(mob, dose.day)
    if event is not None:
        only = season.mob_row(mob).gather_on == "events" and dose.use.purpose == "prevent"
        tail = ", and comes in on such days only" if only else ", so no gather is paid for"
        yield Because("closed-day", f"{mob} comes in that day anyway: {event.what} ({event.where}){tail}.", event.where)


def _sold(season: Season, course: Course, clear: Clear | None) -> Reasons:
    cohort = course.last.cohort
    sale = cohort.sale
    if sale is None or clear is None or course.doses[0].day >= sale.day:
        return
    bound = clear.export or clear.meat
    if bound is None:
        if not is_for_meat(cohort):
            text = f"Withdrawal is not stated: tell the buyer at {sale.name} in writing."
            yield Because("sale-declaration", text, sale.where)
        return
    sold = f"{sale.name} is on {say_day(sale.day)} ({sale.where})"
    if is_for_meat(cohort):
        margin = season.settings.sale_margin_days
        wish = f", margin {say_days(margin)}" if margin else ""
        yield Because(binding_rule(season, course, clear), f"Clear on {say_day(bound)}{wish}; {sold}.", sale.where)
    elif bound > sale.day:
        text = f"Clear on {say_day(bound)}; {sold}: tell the buyer in writing."
        yield Because("sale-declaration", text, sale.where)


def binding_rule(season: Season, course: Course, clear: Clear) -> str:
    """The rule that sets the later of the clear dates."""
    if clear.export is not None and clear.export != clear.meat:
        return "export-interval"
    if season.settings.organic:
        return "organic-withdrawal"
    if any(dose.directions for dose in course.doses):
        return "off-label-withdrawal"
    return "repeat-before-sale" if course.repeat is not None else "meat-withdrawal"


def _milked_and_shorn(season: Season, course: Course, clear: Clear | None) -> Reasons:
    if clear is None:
        return
    if clear.milk is not None:
        yield Because("milk-withdrawal", f"Milk may go again from {say_day(clear.milk)}.", course.last.label.where)
    shearing = _next_shearing(season, course.last.cohort, course.last.day)
    if clear.wool is not None and shearing is not None:
        text = f"Wool is clear on {say_day(clear.wool)}; shearing is on {say_day(shearing.first)}."
        yield Because("wool-interval", text, shearing.where)


def _next_shearing(season: Season, cohort: Cohort, day: date) -> Event | None:
    if cohort.group.wool == "shedding":
        return None
    return next((event for event in season.shearings(cohort)
                 if event.first > day and season.presence.on_farm(cohort, event.first)), None)  # fmt: skip


def _words(target: Target) -> str:
    text = targets_text((target,))
    return text[0].upper() + text[1:]
