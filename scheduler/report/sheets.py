"""The sheet for each day of work: what to load, lay out and wait for, and which sheep come through in which order."""

from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from decimal import ROUND_CEILING, Decimal
from itertools import groupby

from msgspec import Struct

from scheduler.facts import facts
from scheduler.plan import Task
from scheduler.report.figures import method_words, unconfirmed
from scheduler.report.sentences import cohort_words, list_text, number_text, whose_text
from scheduler.report.view import Gather, LabelLine, SeasonReport
from scheduler.words import say_days, two_decimals

ALLOWING = ("dose-band", "too-early")
"""Rules by which a dose may be given as it is; they do not say why it is given."""


class Turn(Struct, frozen=True, kw_only=True):
    """Sheep of one group that get the same: their place in the day's order, and what is said of uneven weights.

    tasks: one for each part of the group; `first` is one of them.
    """

    place: int
    tasks: tuple[Task, ...]
    whom: str
    split: str

    @property
    def first(self) -> Task:
        """The first of the tasks: weight, millilitres a head and clear dates are the same for all."""
        return self.tasks[0]

    @property
    def head(self) -> int:
        """Head of all its parts."""
        return sum(task.head or 0 for task in self.tasks)

    @property
    def ml(self) -> Decimal | None:
        """Millilitres for all its parts; None where the dose is not known."""
        return None if self.first.dose_ml is None else self.first.dose_ml * self.head


class SheetBlock(Struct, frozen=True, kw_only=True):
    """The turns of one mob that get one label by one use, and how it is used."""

    first: Task
    turns: tuple[Turn, ...]
    methods: tuple[str, ...]


class SheetGather(Struct, frozen=True, kw_only=True):
    """One mob of the day, with what is done to it."""

    gather: Gather
    blocks: tuple[SheetBlock, ...]


class Load(Struct, frozen=True, kw_only=True):
    """What to load of a label: ml of the doses, and whole ml with the allowance on top; None where a dose has no ml."""

    label: str
    head: int
    doses_ml: Decimal | None
    load_ml: Decimal | None
    allowance_percent: Decimal


class JobSheet(Struct, frozen=True, kw_only=True):
    """A day on which planned doses are given. `weather`, `marks` and `after` are whole sentences.

    reasons: why then, as pairs of whom and the reason; none of a dose whose reasons stand among the jobs.
    """

    day: date
    head: int
    is_draft: bool
    gathers: tuple[SheetGather, ...]
    loads: tuple[Load, ...]
    kit: tuple[str, ...]
    clothing: tuple[str, ...]
    weather: tuple[str, ...]
    marks: tuple[str, ...]
    order: str
    after: tuple[str, ...]
    reasons: tuple[tuple[str, str], ...]

    @property
    def turns(self) -> tuple[Turn, ...]:
        """All turns of the day, in their order."""
        return tuple(turn for item in self.gathers for block in item.blocks for turn in block.turns)

    @property
    def is_parted(self) -> bool:
        """Whether any turn's sheep are parted into lots."""
        return any(turn.split for turn in self.turns)

    @property
    def is_ordered(self) -> bool:
        """Whether there is more than one lot, so that one has to come before another."""
        return len(self.turns) > 1 or self.is_parted


def job_sheets(report: SeasonReport) -> tuple[JobSheet, ...]:
    """A sheet for each day with a planned dose, in order of day."""
    doses = sorted(
        (task for task in report.plan.tasks if task.kind == "dose" and task.status == "planned"),
        key=lambda task: task.day,
    )
    return tuple(_sheet(report, day, list(own)) for day, own in groupby(doses, key=lambda task: task.day))


def _sheet(report: SeasonReport, day: date, doses: list[Task]) -> JobSheet:
    labels = [label for label in report.labels if any(task.label == label.id for task in doses)]
    kits = [facts().work_day.every_form, *(facts().work_day.kits[label.form] for label in labels)]
    return JobSheet(
        day=day,
        head=sum({task.cohort: task.head or 0 for task in doses}.values()),
        is_draft=any(unconfirmed(report, task) for task in doses),
        gathers=_gathers(report, day, doses),
        loads=tuple(_loads(doses)),
        kit=_once(thing for kit in kits for thing in kit.kit),
        clothing=_once(thing for kit in kits for thing in kit.clothing),
        weather=tuple(_weather(labels, doses)),
        marks=tuple(conflict.text for conflict in report.plan.conflicts
                    if conflict.rule == "draw-and-mark" and conflict.day == day),
        order=facts().work_day.order_of_sheep,
        after=tuple(_after(labels)),
        reasons=tuple(_reasons(report, doses)),
    )  # fmt: skip


def _gathers(report: SeasonReport, day: date, doses: list[Task]) -> tuple[SheetGather, ...]:
    """Mobs by name, those with a sheep found apart last; doses whose gather is not known stand under their mob."""
    mobs: dict[Gather, list[Task]] = {}
    for task in doses:
        mobs.setdefault(report.gather(task) or _own(report, task), []).append(task)
    ordered = sorted(mobs.items(), key=lambda item: (any(map(_is_found, item[1])), item[0].mob))
    placed = 0
    gathers = []
    for gather, tasks in ordered:
        tasks.sort(key=_order)
        gathers.append(SheetGather(gather=gather, blocks=tuple(_blocks(report, tasks, placed))))
        placed = max(turn.place for block in gathers[-1].blocks for turn in block.turns)
    return tuple(gathers)


def _own(report: SeasonReport, task: Task) -> Gather:
    cohort = report.cohort(task.cohort)
    return Gather(mob=cohort.mob if cohort else task.group or "", day=task.day, cohorts=(), event=None)


def _blocks(report: SeasonReport, tasks: Sequence[Task], placed: int) -> Iterator[SheetBlock]:
    together = [tuple(own) for _, own in groupby(tasks, key=_same)]
    turns = [
        Turn(place=place, tasks=own, whom=_whom(report, own), split=_split(report, own))
        for place, own in enumerate(together, start=placed + 1)
    ]
    for _, own in groupby(turns, key=lambda turn: (turn.first.label, turn.first.use)):
        block = tuple(own)
        yield SheetBlock(first=block[0].first, turns=block, methods=method_words(report, block[0].first))


def _same(task: Task) -> tuple[object, ...]:
    """What parts of one group share that come through together."""
    return (_is_found(task), task.label, task.use, task.group, task.repeat_of is None, task.dose_ml, task.heaviest_kg,
            task.clear)  # fmt: skip


def _whom(report: SeasonReport, tasks: Sequence[Task]) -> str:
    """The group, and its parts with their head where there are several."""
    if len(tasks) == 1:
        return whose_text(report, tasks[0])
    cohorts = [(task.head or 0, report.cohort(task.cohort)) for task in tasks]
    parts = [
        f"{head:,} {cohort_words(cohort, in_several=True).removeprefix('those ')}"
        for head, cohort in cohorts
        if cohort is not None
    ]
    return f"{tasks[0].group} ({list_text(parts)})"


def _reasons(report: SeasonReport, doses: Iterable[Task]) -> Iterator[tuple[str, str]]:
    """Why then, with those for whom the same holds: what calls for the dose, without what merely allows it."""
    whom: dict[str, list[str]] = {}
    for task in doses:
        reason = " ".join(because.text for because in task.because if because.rule not in ALLOWING)
        if reason and report.why(task.uid) is None:
            whom.setdefault(reason, []).append(whose_text(report, task))
    return ((list_text(names), reason) for reason, names in whom.items())


def _order(task: Task) -> tuple[bool, str, str, Decimal, str, str]:
    """Found sheep last; then label by label, the smallest dose first, group by group."""
    ml = task.dose_ml or Decimal(0)
    return (_is_found(task), task.label or "", task.use or "", ml, f"{task.group}/", task.cohort or "")


def _is_found(task: Task) -> bool:
    return f"{task.group}/found-" in (task.cohort or "")


def _split(report: SeasonReport, tasks: Sequence[Task]) -> str:
    """Where to part sheep too uneven for one dose, and what each lot then gets."""
    uids = {task.uid for task in tasks}
    partings = [parting.lots for parting in report.partings if parting.uid in uids]
    if not partings:
        return ""
    lots = [lot for lot, _ in partings[0]]
    heads = [sum(head for _, head in same) for same in zip(*partings, strict=True)]
    told = [
        f"{_kg(lot.above_kg)} to {_kg(lot.upto_kg)} kg, about {head:,} head: "
        + ("no dose on the label" if lot.ml is None else f"{number_text(lot.ml)} ml a head")
        for lot, head in zip(lots, heads, strict=True)
    ]
    lines = list_text([f"{_kg(lot.upto_kg)} kg" for lot in lots[:-1]])
    return f"part at {lines}. " + "; ".join(told)


def _kg(kg: Decimal) -> str:
    return number_text(two_decimals(kg))


def _loads(doses: Iterable[Task]) -> Iterator[Load]:
    labels: dict[str, list[Task]] = {}
    for task in doses:
        labels.setdefault(task.label or "", []).append(task)
    percent = facts().work_day.load_allowance.value
    for label, tasks in labels.items():
        amounts = [task.task_ml for task in tasks if task.task_ml is not None]
        known = sum(amounts, Decimal(0)) if len(amounts) == len(tasks) else None
        yield Load(
            label=label,
            head=sum(task.head or 0 for task in tasks),
            doses_ml=known,
            load_ml=None if known is None else _more(known, percent),
            allowance_percent=percent,
        )


def _more(ml: Decimal, percent: Decimal) -> Decimal:
    return (ml * (100 + percent) / 100).to_integral_value(rounding=ROUND_CEILING)


def _weather(labels: Iterable[LabelLine], doses: Sequence[Task]) -> Iterator[str]:
    for label in labels:
        uses = [use for use in label.uses if any((task.label, task.use) == (label.id, use.id) for task in doses)]
        before = max((use.dry_hours_before or Decimal(0) for use in uses), default=Decimal(0))
        after = max((use.dry_hours_after or Decimal(0) for use in uses), default=Decimal(0))
        dry = [f"{_hours(hours)} {when}" for hours, when in ((before, "before"), (after, "after")) if hours]
        if dry:
            yield f"{label.name}: dry wool, and no rain for {' and '.join(dry)}; otherwise wait."
        elif label.form in ("pour-on", "spray-on"):
            yield f"{label.name}: its file states no dry hours; read the leaflet, and wait for dry wool."


def _hours(hours: Decimal) -> str:
    return f"{number_text(hours)} {'hour' if hours == 1 else 'hours'}"


def _after(labels: Iterable[LabelLine]) -> Iterator[str]:
    for label in labels:
        if label.handling_days:
            days = say_days(label.handling_days)
            yield f"{label.name}: leave the sheep unhandled for {days}; if they must be handled, gloves and sleeves."


def _once(things: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(things))
