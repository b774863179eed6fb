"""What a task's line says besides its headline: figures, method, clear dates, and whether its label is confirmed."""

from decimal import Decimal

from scheduler.plan import Task
from scheduler.report.sentences import list_text, number_text
from scheduler.report.view import SeasonReport
from scheduler.words import say_day, two_decimals

CLEAR_WORDS = (("meat", "meat"), ("milk", "milk"), ("export", "export"), ("wool", "shearing"))


def kg_text(task: Task) -> str:
    """Kilograms of the heaviest; a dash where the dose asks for no weight."""
    return "–" if task.heaviest_kg is None else f"{number_text(two_decimals(task.heaviest_kg))} kg"


def ml_text(ml: Decimal | None) -> str:
    """Millilitres; where they are not known, who says them."""
    return "ask the vet" if ml is None else f"{number_text(ml)} ml"


def clear_words(task: Task) -> tuple[str, ...]:
    """From which day meat, milk, export and wool are clear; of a dose also that meat is not stated."""
    if task.clear is None:
        return ()
    days = ((word, getattr(task.clear, name)) for name, word in CLEAR_WORDS)
    stated = tuple(f"{word} from {say_day(day)}" for word, day in days if day is not None)
    if task.kind == "dose" and task.clear.meat is None:
        return ("meat not stated: ask the vet before any goes for food", *stated)
    return stated


def protection_words(task: Task) -> str:
    """The days that a dose protects, and until when its label may still give protection."""
    protects = task.protects
    if protects is None or protects.first is None or protects.last is None:
        return ""
    fading = "" if protects.fades_until is None else f", fading until {say_day(protects.fades_until)}"
    return f"protects {say_day(protects.first)} to {say_day(protects.last)}{fading}"


def method_words(report: SeasonReport, task: Task) -> tuple[str, ...]:
    """How the dose's label is used, in one sentence or two: the label's own method, and the dry hours it asks for."""
    label = report.label(task.label) if task.kind == "dose" else None
    use = label.use(task.use) if label else None
    if label is None or use is None:
        return ()
    dry = [
        f"dry for {number_text(hours)} hours {when}"
        for hours, when in ((use.dry_hours_before, "before"), (use.dry_hours_after, "after"))
        if hours
    ]
    words = " ".join(filter(None, (use.method.strip(), f"Wool and sky {list_text(dry)}." if dry else "")))
    return (f"{label.name}, {use.id}: {words}",) if words else ()


def unconfirmed(report: SeasonReport, task: Task) -> bool:
    """Whether the task rests on a label that nobody has compared with the leaflet by the day of the plan."""
    label = report.label(task.label)
    return task.label is not None and (label is None or not label.confirmed)


def confirm_words(report: SeasonReport, task: Task) -> str:
    """The warning of a draft dose; empty where the label is confirmed."""
    return "Draft: label not confirmed, compare it with the leaflet first." if unconfirmed(report, task) else ""
