"""The doses of a label, as text for the terminal and as JSON (schema `season-dose/1`)."""

from collections.abc import Iterator
from decimal import Decimal

from scheduler.outputs.json import Value, json_text
from scheduler.outputs.screen import WIDTH, Line, Paragraph, lines_text, table_lines
from scheduler.report import (
    GroupDose,
    LabelDoses,
    LotLine,
    StepLine,
    UseTable,
    list_text,
    number_text,
    words_of,
)
from scheduler.words import say_day, two_decimals


def dose_text(table: LabelDoses, width: int = WIDTH) -> str:
    """Draft or confirmed first, then each use with its table and the group, then the cautions. width: columns."""
    blocks: list[list[Line]] = [list(_title(table)), *(list(_use(table, use, width)) for use in table.uses)]
    cautions: list[Line] = [Paragraph(text, "- ") for text in table.cautions]
    return "\n".join(lines_text(block, width) for block in [*blocks, cautions])


def _title(table: LabelDoses) -> Iterator[Line]:
    label = table.label
    edition = f", edition {label.edition}" if label.edition else ""
    concentrate = "; ml are of the concentrate" if label.form == "dip" else ""
    yield Paragraph(f"{label.name}: {label.active}, {label.form}{edition}{concentrate}")
    if table.confirmed and label.checked is not None:
        again = " That is long ago: compare it again." if table.is_old else ""
        yield Paragraph(f"Compared with the leaflet on {say_day(label.checked)}.{again}")
    else:
        yield Paragraph(
            "DRAFT: not compared with the leaflet yet. Take no figure from here before you have compared each one."
        )


def _use(table: LabelDoses, shown: UseTable, width: int) -> Iterator[Line]:
    use = shown.use
    verb = "prevents" if use.purpose == "prevent" else "treats"
    yield Paragraph(f"{use.id}: {verb} {list_text([words_of(target) for target in use.targets])}")
    yield from (Paragraph(f"{text}.", "  ") for text in _formulas(shown))
    packs = [f"head in {number_text(pack.ml)} ml" for pack in table.label.packs]
    by_area = any(line.step.area_cm2 is not None for line in shown.lines)
    head = ["sheep of", *(["struck area"] if by_area else []), "ml a head", *packs]
    rows = [_row(line, by_area) for line in shown.lines]
    yield from (f"  {line}" for line in table_lines(head, rows, width - 2))
    for duty in use.repeats:
        whom = "all sheep" if duty.upto_kg is None else f"sheep of up to {number_text(duty.upto_kg)} kg"
        yield Paragraph(f"Repeat: {whom} get {number_text(duty.ml)} ml {duty.after_days} days later.", "  ", "    ")
    if by_area:
        yield Paragraph("The struck area of each sheep counts: no sum is made for a group.", "  ", "    ")
    if shown.group is not None:
        yield ""
        yield from _group(shown.group, width)


def _formulas(shown: UseTable) -> Iterator[str]:
    for band in shown.use.bands:
        if band.ml is None:
            each = band.ml_per_kg if band.ml_per_kg is not None else band.ml_per_100cm2
            unit = "kg" if band.ml_per_kg is not None else "100 cm2 of struck fleece"
            step = "" if band.step_ml is None else f", rounded up to {number_text(band.step_ml)} ml"
            most = "" if band.most_ml is None else f", at most {number_text(band.most_ml)} ml"
            span = _span(band.above_kg, band.upto_kg)
            yield f"{span}: {number_text(each or Decimal(0))} ml for each {unit}{step}{most}"


def _row(line: StepLine, by_area: bool) -> list[str]:
    step = line.step
    area = [] if not by_area else ["" if step.area_cm2 is None else f"{step.area_cm2} cm2"]
    return [_span(step.above_kg, step.upto_kg), *area, number_text(step.ml), *map(number_text, line.head)]


def _span(above: Decimal | None, upto: Decimal | None) -> str:
    """A span of weights: `up to 10 kg`, `over 10 to 20 kg`, `over 70 kg`."""
    if upto is None:
        return "any weight" if not above else f"over {number_text(above)} kg"
    return f"up to {number_text(upto)} kg" if not above else f"over {number_text(above)} to {number_text(upto)} kg"


def _group(dose: GroupDose, width: int) -> Iterator[Line]:
    yield Paragraph(f"{dose.group} on {say_day(dose.day)}: {dose.head} head, {_expected(dose)}", "  ", "    ")
    yield from (Paragraph(note, "  ! ", "    ") for note in dose.notes)
    if len(dose.lots) > 1:
        yield from _parted(dose, width)
    elif dose.dose_ml is None:
        yield Paragraph("The label has no dose for the group as it is: weigh, and ask the vet.", "  ! ", "    ")
    else:
        each, total = number_text(dose.dose_ml), number_text(dose.task_ml or Decimal(0))
        why = "no need to part them" if dose.lots else "whether to part them cannot be said without both weights"
        yield Paragraph(f"All in one lot: {each} ml a head, {total} ml; {why}.", "  ", "    ")
    if dose.load_ml is not None:
        allowance = f"{number_text(dose.allowance_percent)} percent more than the doses, our own allowance"
        yield Paragraph(f"Load {number_text(dose.load_ml)} ml ({allowance}).", "  ", "    ")
    if dose.repeat is not None and dose.repeat_on is not None:
        text = (
            f"The lightest oblige the repeat: {number_text(dose.repeat.ml)} ml a head from {say_day(dose.repeat_on)}."
        )
        yield Paragraph(text, "  ", "    ")


def _expected(dose: GroupDose) -> str:
    known = [
        f"{name} {number_text(two_decimals(kg))} kg"
        for name, kg in (("lightest", dose.lightest_kg), ("mean", dose.mean_kg), ("heaviest", dose.heaviest_kg))
        if kg is not None
    ]
    return f"expected: {', '.join(known)}." if known else "no weight is known."


def _parted(dose: GroupDose, width: int) -> Iterator[Line]:
    lines = list_text([f"{number_text(two_decimals(kg))} kg" for kg in dose.split_kg])
    yield Paragraph(f"Part them at {lines}: a sheep on the line goes with the lighter ones.", "  ", "    ")
    rows = [_lot(lot, "over " if number else "") for number, lot in enumerate(dose.lots)]
    yield from (f"  {line}" for line in table_lines(["lot", "head", "ml a head", "ml"], rows, width - 2))
    spread = "evenly from the lightest to the heaviest" if dose.mean_kg is None else "so that the mean is right"
    yield Paragraph(f"Head of each lot as if the weights were spread {spread}; the scale decides.", "  ", "    ")
    if dose.dose_ml is not None:
        each, total = number_text(dose.dose_ml), number_text(dose.task_ml or Decimal(0))
        yield Paragraph(f"Not parted, all would get {each} ml by the heaviest: {total} ml.", "  ", "    ")
    if any(lot.dose_ml is None for lot in dose.lots):
        yield Paragraph("Leave out sheep without a dose on the label, and ask the vet.", "  ! ", "    ")


def _lot(lot: LotLine, over: str) -> list[str]:
    span = f"{over}{number_text(two_decimals(lot.above_kg))} to {number_text(two_decimals(lot.upto_kg))} kg"
    if lot.dose_ml is None or lot.task_ml is None:
        return [span, number_text(lot.head), "none", "not on the label"]
    return [span, number_text(lot.head), number_text(lot.dose_ml), number_text(lot.task_ml)]


def dose_json(table: LabelDoses) -> str:
    """The same as JSON; weights in kg, amounts in ml, days as ISO dates; null where not known or not meant."""
    label = table.label
    uses: list[Value] = [_use_value(table, use) for use in table.uses]
    named: Value = {
        "id": label.id,
        "name": label.name,
        "active": label.active,
        "form": label.form,
        "edition": label.edition,
        "checked": label.checked,
    }
    return json_text(
        {
            "schema": "season-dose/1",
            "made_for": table.made_for,
            "draft": not table.confirmed,
            "label": named,
            "uses": uses,
            "cautions": table.cautions,
        }
    )


def _use_value(table: LabelDoses, shown: UseTable) -> Value:
    use = shown.use
    repeats: list[Value] = [
        {"upto_kg": duty.upto_kg, "after_days": duty.after_days, "ml": duty.ml} for duty in use.repeats
    ]
    return {
        "use": use.id,
        "purpose": use.purpose,
        "targets": use.targets,
        "doses": [_step_value(table, line) for line in shown.lines],
        "repeats": repeats,
        "group": None if shown.group is None else _group_value(shown.group),
    }


def _step_value(table: LabelDoses, line: StepLine) -> Value:
    step = line.step
    packs: list[Value] = [
        {"pack_ml": pack.ml, "head": head} for pack, head in zip(table.label.packs, line.head, strict=True)
    ]
    return {
        "above_kg": step.above_kg,
        "upto_kg": step.upto_kg,
        "area_cm2": step.area_cm2,
        "ml": step.ml,
        "packs": packs,
    }


def _group_value(dose: GroupDose) -> Value:
    return {
        "group": dose.group,
        "date": dose.day,
        "head": dose.head,
        "lightest_kg": dose.lightest_kg,
        "mean_kg": dose.mean_kg,
        "heaviest_kg": dose.heaviest_kg,
        "dose_ml": dose.dose_ml,
        "task_ml": dose.task_ml,
        "split_kg": dose.split_kg,
        "lots": [_lot_value(lot) for lot in dose.lots],
        "load_ml": dose.load_ml,
        "repeat_on": dose.repeat_on,
        "notes": dose.notes,
    }


def _lot_value(lot: LotLine) -> Value:
    return {
        "above_kg": lot.above_kg,
        "upto_kg": lot.upto_kg,
        "head": lot.head,
        "dose_ml": lot.dose_ml,
        "task_ml": lot.task_ml,
    }
