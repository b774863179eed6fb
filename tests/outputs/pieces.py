"""Pieces of plans built by hand: cohorts, doses, runs, conflicts, and the scenery of one hill farm. All invented."""

import re
from datetime import date, timedelta
from decimal import Decimal

from msgspec.structs import replace

from scheduler.labels import Days
from scheduler.report import (
    Because,
    Choice,
    ClashFact,
    Clear,
    CohortLine,
    Conflict,
    EventLine,
    Gather,
    LabelLine,
    Plan,
    Protects,
    Run,
    SaleLine,
    Score,
    SeasonReport,
    State,
    Task,
    TaskStatus,
    UseLine,
)
from scheduler.words import Span, Target, Where, say_number

START, END = date(2027, 3, 1), date(2027, 11, 30)
TODAY = date(2027, 5, 20)
CAUTIONS = (
    "The label and leaflet in hand come before this plan.",
    "Your vet and the law of your country decide.",
    "Weigh on the day; dose for the heaviest.",
)
DRAFT = "Draft: label not confirmed; compare its file with the leaflet in hand before use."


def day(month: int, of_month: int) -> date:
    """A day of the season's year."""
    return date(2027, month, of_month)


def cohort(group: str, head: int, sale: str | None = None, leaves: date | None = None, mob: str = "Hill") -> CohortLine:
    """A cohort of lambs where it is sold, of ewes where it stays."""
    name = f"{group}/{sale or 'stay'}"
    return CohortLine(
        id=name, group=group, kind="lamb" if sale else "ewe", mob=mob, head=head, leaves=leaves, sale=sale
    )


def dose(
    whose: CohortLine,
    on: date,
    label: str = "hill-pour-on",
    targets: tuple[Target, ...] = ("blowfly-strike",),
    repeat_of: str | None = None,
    status: TaskStatus = "planned",
    meat: int | None = 8,
) -> Task:
    """A dose of 22.4 kg lambs that protects 42 days and may protect 14 more."""
    return Task(
        uid="-".join(re.findall(r"[a-z0-9]+", f"fell 2027 dose {whose.id} {label} {on:%m%d}".lower())),
        kind="dose",
        day=on,
        cohort=whose.id,
        group=whose.group,
        head=whose.head,
        label=label,
        use="guard",
        targets=targets,
        repeat_of=repeat_of,
        dose_ml=Decimal("10.50"),
        task_ml=Decimal("10.50") * whose.head,
        heaviest_kg=Decimal("22.405"),
        age_days=55,
        protects=Protects(on, on + timedelta(days=41), on + timedelta(days=55)),
        clear=Clear(None if meat is None else on + timedelta(days=meat + 1), None, None, on + timedelta(days=61)),
        money_minor=6150,
        text=f"{whose.group}: {label}, 10.5 ml a head, {say_number(Decimal('10.50') * whose.head)} ml in all. {DRAFT}",
        because=(Because("cover-gap", "The risk opens on 1 Jun; a dose now covers 42 days of it."),),
        status=status,
    )


def runs(whose: CohortLine, target: Target, *steps: tuple[date, str, State]) -> list[Run]:
    """Runs that tile the season: each step from its day to the day before the next."""
    ends = [first - timedelta(days=1) for first, _, _ in steps[1:]] + [END]
    return [
        Run(whose.id, target, first, last, Decimal(level), state)
        for (first, level, state), last in zip(steps, ends, strict=True)
    ]


def label(name: str = "hill-pour-on", confirmed: bool = False, meat: Days = 8) -> LabelLine:
    """An invented pour-on."""
    return LabelLine(
        id=name,
        name=f"Demo {name.replace('-', ' ')} (invented)",
        active="cypermethrin",
        chemical_group="synthetic pyrethroid",
        form="pour-on",
        confirmed=confirmed,
        checked=day(2, 14) if confirmed else None,
        meat=meat,
        milk="not-permitted",
        export=21,
        handling_days=14,
        uses=(
            UseLine(
                id="guard",
                targets=("blowfly-strike",),
                method="Pour along the back in one line.",
                dry_hours_after=Decimal(6),
            ),
        ),
    )


def plan(**changes: object) -> Plan:
    """An empty plan of the season, with changes."""
    empty = Plan(
        made_for=TODAY,
        draft=False,
        farm_id="fell",
        farm_name="Fell demo (invented)",
        country="GB",
        timezone="Europe/London",
        start=START,
        end=END,
        gap=None,
        score=Score(0, 0, "GBP", 0, 0),
        cohorts=(),
        tasks=(),
        days=(),
        conflicts=(),
        shopping=(),
        sources=(),
    )
    return replace(empty, **changes)


def report(of: Plan, **changes: object) -> SeasonReport:
    """A report of the plan with the usual scenery, with changes."""
    usual = SeasonReport(
        plan=of,
        exponent=2,
        act_levels=(("blowfly-strike", Decimal("0.3")), ("ticks", Decimal("0.3")), ("head-fly", Decimal("0.5"))),
        remind=("-P6DT16H", "-PT6H"),
        cautions=CAUTIONS,
    )
    return replace(usual, **changes)


def conflict_of_sale(whose: CohortLine) -> Conflict:
    """A gap before a sale, with clash and choices."""
    return Conflict(
        rule="cover-gap",
        severity="warn",
        cohort=whose.id,
        group=whose.group,
        day=day(8, 12),
        text="Top lambs, 60 head: exposed to blowfly strike from 12 to 19 Aug, 8 days.",
        where=Where("groups.csv", row=3),
        clash=(
            ClashFact("meat-withdrawal", "Autumn draft on 20 Aug needs 8 clear days before it.", Where("sales.csv", 4)),
            ClashFact("repeat-interval", "42 days between courses.", Where("labels/hill-pour-on.toml", key="limits")),
        ),
        choices=(
            Choice(
                what="move-sale",
                text="Sell on 21 Aug.",
                decides="keeper",
                exposed_sheep_days=-480,
                money_minor=6150,
                handlings=1,
            ),
            Choice(
                what="leave-exposed",
                text="No dose; inspect daily.",
                decides="keeper",
                exposed_sheep_days=0,
                money_minor=0,
                handlings=0,
            ),
            Choice(
                what="ask-vet",
                text="Ask the vet for another way.",
                decides="vet",
                exposed_sheep_days=1140,
                money_minor=-6150,
                handlings=-1,
            ),
        ),
    )


def scenery(drafts: CohortLine) -> dict[str, object]:
    """Events, sales, closed days, gathers and labels of the rich farm."""
    sundays = tuple(Span(d, d) for n in range(275) if (d := START + timedelta(days=n)).weekday() == 6)
    events = (
        EventLine(what="lambing", first=day(4, 1), last=day(4, 25), groups=("Ewes",)),
        EventLine(what="turnout", first=day(4, 28), last=day(4, 28), groups=("Ewes", "Top lambs")),
        EventLine(what="shearing", first=day(6, 17), last=day(6, 17), groups=("Ewes",)),
        EventLine(what="weaning", first=day(7, 30), last=day(7, 30), groups=("Top lambs",)),
        EventLine(what="housing", first=day(11, 25), last=day(11, 25), groups=("Ewes",)),
    )
    return {
        "holding": "00/000/0000",
        "events": events,
        "sales": (SaleLine(name="Autumn draft", group="Top lambs", head=60, day=day(8, 20), purpose="slaughter"),),
        "closed": sundays,
        "gathers": (
            Gather(mob="Hill", day=day(5, 27), cohorts=(drafts.id,), event=None),
            Gather(mob="Hill", day=day(6, 17), cohorts=(drafts.id,), event="shearing"),
            Gather(mob="Hill", day=day(7, 22), cohorts=("Ewes/stay",), event=None),
        ),
        "labels": (label(), label("tick-dip", confirmed=True)),
    }


def other_tasks(ewes: CohortLine, drafts: CohortLine) -> tuple[Task, ...]:
    """A task of every kind but dose."""
    return (
        Task(uid="open", kind="season-opens", day=day(5, 30), targets=("blowfly-strike",), text="Strike season opens."),
        Task(uid="prepare", kind="prepare", day=day(5, 26), group="Hill", label="hill-pour-on", text="Kit and gloves."),
        Task(uid="order", kind="order", day=day(5, 20), label="hill-pour-on", text="2500 ml and 1000 ml."),
        Task(
            uid="clear", kind="clear", day=day(6, 26), cohort=drafts.id, group=drafts.group, head=drafts.head,
            label="hill-pour-on", clear=Clear(day(6, 26), None, None, None), text="Meat is clear.",
        ),
        Task(uid="sale", kind="sale", day=day(8, 20), cohort=drafts.id, group=drafts.group, head=60,
             text="To slaughter."),
        *(
            Task(uid=f"look-{n}", kind="recheck", day=day(6, 10) + timedelta(days=7 * n), group="Ewes; Top lambs",
                 text="Look for struck sheep.", sequence=n)
            for n in range(12)
        ),
        Task(uid="after", kind="recheck", day=day(7, 24), cohort=ewes.id, group="Ewes", head=180, text="Look again."),
    )  # fmt: skip


def other_conflicts(missed: Task) -> tuple[Conflict, ...]:
    """A stop, two warnings and a note."""
    return (
        Conflict(
            rule="meat-withdrawal", severity="stop", cohort="Top lambs/Autumn draft", group="Top lambs", day=day(8, 12),
            text="Top lambs, 60 head, sold 20 Aug 2027; dose of 12 Aug is clear on 21 Aug, 1 day late.",
            where=Where("wishes.csv", row=4),
        ),
        Conflict(rule="dry-weather", severity="warn", text="27 May: 6 dry hours after the dose.", day=day(5, 27)),
        Conflict(rule="dry-weather", severity="warn", text="17 Jun: 6 dry hours after the dose.", day=day(6, 17)),
        Conflict(rule="record-complete", severity="note", group=missed.group, day=missed.day,
                 text="10 May: not recorded."),
    )  # fmt: skip
