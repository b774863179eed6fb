"""lamb-repeat: a repeat dose that the label obliges is given, and in time."""

from datetime import timedelta

from scheduler.facts import facts
from scheduler.rules.contract import Breach, Rule, of_dose
from scheduler.season import Course, Season
from scheduler.words import say_day

SLUG = "lamb-repeat"


def check(season: Season, course: Course) -> Breach | None:
    """The repeat falls on the label's day or at most the slack of the facts later."""
    first = course.first
    if first is None or first.origin == "missed":
        return None
    duty = season.repeat_duty(first.cohort, first.use, first.day)
    if duty is None:
        return None
    due = first.day + timedelta(days=duty.after_days)
    last = due + timedelta(days=facts().figures.repeat_slack_days.whole)
    if last < season.span.first:
        return None
    window = f"due {say_day(due)} to {say_day(last)}"
    if course.repeat is not None and course.repeat.whole:
        if due <= course.repeat.day <= last:
            return None
        judged = course.repeat if course.repeat.origin == "wish" else first
        return of_dose(SLUG, judged, f"the repeat on {say_day(course.repeat.day)} is not when it is {window}")
    key = (first.cohort.id, first.label.id, first.use.id, first.day)
    if first.origin == "record" and (season.made_for <= last or key in season.waived_repeats):
        return None
    return of_dose(SLUG, first, f"the label obliges a repeat dose, {window}; none is there", first.label.where)


RULE = Rule(
    slug=SLUG,
    title="A light lamb gets the repeat dose that its label obliges, on the day stated or up to three days later.",
    why="The first small dose does not last: without the second the lamb is taken for protected when it is not.",
    severity="stop",
    family="dose",
    sources=("label-in-hand", "common-practice"),
    course=check,
)
