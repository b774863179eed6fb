"""The doses of one label as shown: each use from weight to ml, and what a group of the farm would get on a day."""

from collections.abc import Iterator
from datetime import date
from decimal import ROUND_CEILING, Decimal

from msgspec import Struct

from scheduler.facts import facts
from scheduler.farm import Group
from scheduler.labels import (
    DoseStep,
    Label,
    NoBand,
    RepeatDuty,
    Use,
    dose_ml,
    dose_steps,
    head_in_lots,
    lots_of,
    repeat_due,
)
from scheduler.season import Season, Weight, age_days
from scheduler.words import plus, say_day, say_days

ON_DOSING = (
    "label-first", "vet-and-law", "label-as-filed", "weigh-on-the-day", "under-dosing", "over-dosing", "calibrate",
    "people", "young-and-sick",
)  # fmt: skip
"""Of the cautions that always hold, those that a dose by itself calls for; the others belong to a plan."""


class StepLine(Struct, frozen=True, kw_only=True):
    """One row of the table, with the head that each full pack reaches for, in the order of the label's packs."""

    step: DoseStep
    head: tuple[int, ...]


class LotLine(Struct, frozen=True, kw_only=True):
    """Sheep over above_kg (the lightest lot: from it on) and up to upto_kg; ml None where the label has no dose."""

    above_kg: Decimal
    upto_kg: Decimal
    head: int
    dose_ml: Decimal | None
    task_ml: Decimal | None


class GroupDose(Struct, frozen=True, kw_only=True):
    """A group on a day: weights expected (kg), the dose of all by the heaviest, and the lots where it is better parted.

    dose_ml None: the label has no dose for the lightest or the heaviest. lots: empty where a weight is not known.
    load_ml: whole ml for all the lots with the allowance for loading; None where a lot has no dose.
    spread: "even", or "mean" where a mean weight is known. notes: whole sentences, first what speaks against the dose.
    """

    group: str
    day: date
    head: int
    heaviest_kg: Decimal | None
    lightest_kg: Decimal | None
    mean_kg: Decimal | None
    dose_ml: Decimal | None
    task_ml: Decimal | None
    lots: tuple[LotLine, ...]
    load_ml: int | None
    allowance_percent: Decimal
    repeat: RepeatDuty | None
    repeat_on: date | None
    notes: tuple[str, ...]

    @property
    def split_kg(self) -> tuple[Decimal, ...]:
        """The weights at which the group is parted."""
        return tuple(lot.upto_kg for lot in self.lots[:-1])


class UseTable(Struct, frozen=True, kw_only=True):
    """One use of the label: its rows, and the doses of the group asked for, unless they go by area."""

    use: Use
    lines: tuple[StepLine, ...]
    group: GroupDose | None


class LabelDoses(Struct, frozen=True, kw_only=True):
    """The doses of a label. confirmed: compared with the leaflet by that day; is_old: so long ago that it is due again.

    cautions: whole sentences.
    """

    label: Label
    made_for: date
    confirmed: bool
    is_old: bool
    uses: tuple[UseTable, ...]
    cautions: tuple[str, ...]


def label_doses(
    label: Label, made_for: date, uses: tuple[Use, ...], whom: tuple[Season, Group, date] | None = None
) -> LabelDoses:
    """The doses of these uses of the label; whom: the group, of a farm's season, that gets them on a day."""
    when = [label.form, *(["treat"] if any(use.purpose == "treat" for use in uses) else [])]
    if whom is not None:
        when += ["estimate", *(["lambs"] if whom[1].kind == "lamb" else [])]
    return LabelDoses(
        label=label,
        made_for=made_for,
        confirmed=label.checked is not None and label.checked <= made_for,
        is_old=label.checked is not None and (made_for - label.checked).days > facts().figures.label_check_days.whole,
        uses=tuple(_use_table(label, use, whom) for use in uses),
        cautions=tuple(one.text for one in facts().cautions_for(*when) if one.when != "always" or one.id in ON_DOSING),
    )


def _use_table(label: Label, use: Use, whom: tuple[Season, Group, date] | None) -> UseTable:
    lines = tuple(
        StepLine(step=step, head=tuple(int(pack.ml // step.ml) for pack in label.packs)) for step in dose_steps(use)
    )
    by_area = any(line.step.area_cm2 is not None for line in lines)
    return UseTable(use=use, lines=lines, group=None if whom is None or by_area else _group_dose(use, *whom))


def _group_dose(use: Use, season: Season, group: Group, day: date) -> GroupDose:
    weight = season.weights.on(group.name, day)
    mean = season.weights.mean_on(group.name, day)
    here = [cohort.head for cohort in season.cohorts_of_group(group.name) if season.presence.on_farm(cohort, day)]
    together = dose_ml(use, weight.heaviest, weight.lightest)
    each = None if isinstance(together, NoBand) else together
    lots = _lots(use, weight, sum(here), mean)
    allowance = facts().work_day.load_allowance.value
    needed = [lot.task_ml for lot in lots] or [None if each is None else sum(here) * each]
    duty = repeat_due(use, weight.lightest)
    return GroupDose(
        group=group.name,
        day=day,
        head=sum(here),
        heaviest_kg=weight.heaviest,
        lightest_kg=weight.lightest,
        mean_kg=mean,
        dose_ml=each,
        task_ml=None if each is None else sum(here) * each,
        lots=lots,
        load_ml=_load(needed, allowance),
        allowance_percent=allowance,
        repeat=duty,
        repeat_on=None if duty is None else plus(day, duty.after_days),
        notes=tuple(_against(use, season, group, day)),
    )


def _lots(use: Use, weight: Weight, head: int, mean: Decimal | None) -> tuple[LotLine, ...]:
    """The lots where both weights are known, the lightest being at most as heavy as the heaviest."""
    if weight.heaviest is None or weight.lightest is None or weight.lightest > weight.heaviest:
        return ()
    lots = lots_of(use, weight.lightest, weight.heaviest)
    return tuple(
        LotLine(
            above_kg=lot.above_kg,
            upto_kg=lot.upto_kg,
            head=part,
            dose_ml=lot.ml,
            task_ml=None if lot.ml is None else part * lot.ml,
        )
        for lot, part in zip(lots, head_in_lots(head, lots, mean), strict=True)
    )


def _load(needed: list[Decimal | None], allowance: Decimal) -> int | None:
    known = [ml for ml in needed if ml is not None]
    if len(known) < len(needed):
        return None
    return int((sum(known, Decimal(0)) * (100 + allowance) / 100).to_integral_value(ROUND_CEILING))


def _against(use: Use, season: Season, group: Group, day: date) -> Iterator[str]:
    """What the table itself knows to speak against the dose; the rules know more."""
    if group.kind not in use.kinds:
        yield f"The label does not permit this use on a {group.kind}."
    age = age_days(group, day)
    if age is not None and age < use.youngest_days:
        yield f"The label asks for {say_days(use.youngest_days)} of age; the youngest are {say_days(age)} old then."
    if season.presence.is_away(group.name, day):
        yield f"The group is away on {say_day(day)}."
