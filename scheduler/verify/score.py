"""The sums of a plan, from its doses alone: exposed sheep-days, money, gathers and handlings."""

from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from fractions import Fraction

from msgspec import Struct

from scheduler.season import Cohort, Dose, Doses, Season, state_of
from scheduler.words import half_up, times


class Sums(Struct, frozen=True):
    """Exposed sheep-days, money in minor units, gathers with a dose and those that are paid for, handlings."""

    exposed_sheep_days: int
    money_minor: int
    gathers: int
    paid_gathers: int
    handlings: int


def sums_of(season: Season, doses: Doses) -> Sums:
    """Sums over all doses; money, gathers and handlings count only doses still to be given."""
    ours = [dose for dose in doses if dose.is_ours]
    gathers = {gather_of(season, dose.cohort, dose.day) for dose in ours}
    paid = [gather for gather in gathers if season.presence.gather_event(*gather) is None]
    money = sum(dose_money(season, dose) for dose in ours)
    return Sums(
        exposed_sheep_days=exposed_sheep_days(season, doses),
        money_minor=money + sum(gather_money(season, mob) for mob, _ in paid),
        gathers=len(gathers),
        paid_gathers=len(paid),
        handlings=len({(dose.cohort.id, dose.day) for dose in ours}),
    )


def exposed_sheep_days(season: Season, doses: Doses) -> int:
    """Head times days, over cohorts and targets, on which the state is exposed or fading, from made_for on."""
    return sum(exposed_of(season, cohort, doses.of(cohort), season.window.days()) for cohort in season.cohorts)


def exposed_of(season: Season, cohort: Cohort, given: tuple[Dose, ...], days: Iterable[date]) -> int:
    """The exposed sheep-days of one cohort on some days, given its doses."""
    return sum(
        cohort.head
        for day in days
        for target in season.targets
        if state_of(season, cohort, target, day, given)[1] in ("exposed", "fading")
    )


def gather_of(season: Season, cohort: Cohort, day: date) -> tuple[str, date]:
    """The gather that brings the cohort in on the day: (mob, day)."""
    return (season.presence.mob_of(cohort.group.name, day), day)


def labour_per_minute(season: Season) -> Fraction:
    """Minor units a minute of work."""
    return Fraction(season.settings.labour_per_hour) * Fraction(season.minor, 60)


def dose_money(season: Season, dose: Dose) -> int:
    """Medicine and handling of one dose, minor units, half up; no medicine where a vet must say how much."""
    ml = season.dose_ml(dose)
    return task_money(season, dose, times(ml, dose.cohort.head) if isinstance(ml, Decimal) else Decimal(0))


def task_money(season: Season, dose: Dose, task_ml: Decimal) -> int:
    """The same where the dose takes so many ml in all."""
    minutes = dose.use.minutes_per_head
    a_head = season.settings.minutes_per_head if minutes is None else minutes
    work = dose.cohort.head * Fraction(a_head) * labour_per_minute(season)
    return half_up(Fraction(task_ml) * dose.label.price_per_ml() * season.minor + work)


def gather_money(season: Season, mob: str) -> int:
    """One paid gather of a mob, minor units, half up."""
    row = season.mob_row(mob)
    minutes = season.settings.gather_minutes if row.gather_minutes is None else row.gather_minutes
    return half_up(Fraction(minutes) * row.people * labour_per_minute(season))
