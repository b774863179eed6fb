"""Days, money and amounts in words, and the one line that says what a task is. English, whatever the locale."""

from collections.abc import Sequence
from datetime import date
from decimal import Decimal

from msgspec.structs import replace

from scheduler.labels import Days
from scheduler.plan import Change, Choice, CohortLine, Conflict, Task
from scheduler.report.view import SeasonReport
from scheduler.words import say_day

MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip
WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
VERBS = {
    "dose": "Dose",
    "recheck": "Look over",
    "clear": "Clear date of",
    "prepare": "Prepare for",
    "order": "Order",
    "sale": "Sell",
    "season-opens": "Watch for",
}


def day_month(day: date) -> str:
    """The day as `21 Aug`."""
    return f"{day.day} {MONTHS[day.month - 1][:3]}"


def weekday_text(day: date) -> str:
    """The day as `Sat 21 Aug 2027`."""
    return f"{WEEKDAYS[day.weekday()]} {say_day(day)}"


def month_text(day: date) -> str:
    """The month as `August 2027`."""
    return f"{MONTHS[day.month - 1]} {day.year}"


def span_text(first: date, last: date) -> str:
    """Days from first to last, as `3 to 9 Aug`, `3 Aug to 9 Sep` or one day; the year where they differ in it."""
    if first == last:
        return day_month(first)
    if first.year != last.year:
        return f"{say_day(first)} to {say_day(last)}"
    if first.month == last.month:
        return f"{first.day} to {day_month(last)}"
    return f"{day_month(first)} to {day_month(last)}"


def number_text(value: Decimal | int) -> str:
    """A number with thousands parted by commas and no idle zeros, as `3,420.5`."""
    text = f"{value:,f}" if isinstance(value, Decimal) else f"{value:,}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def money_text(minor: int, currency: str, exponent: int) -> str:
    """An amount of minor units with the code of its currency, as `GBP 1,061.50`; negative amounts as `-GBP 5.00`."""
    amount = Decimal(abs(minor)).scaleb(-exponent)
    return f"{'-' if minor < 0 else ''}{currency} {amount:,.{exponent}f}"


def count_text(count: int, one: str, many: str) -> str:
    """A count with its noun, as `1 head` or `1,140 sheep-days`."""
    return f"{count:,} {one if count == 1 else many}"


def words_of(slug: str) -> str:
    """A target, rule or event as words, without the hyphens."""
    return slug.replace("-", " ")


def list_text(items: tuple[str, ...] | list[str]) -> str:
    """Items as `a, b and c`."""
    return " and ".join(filter(None, (", ".join(items[:-1]), *items[-1:])))


def days_words(days: Days) -> str:
    """A withdrawal period as its label file states it."""
    if days is None:
        return "not stated"
    return days.replace("-", " ") if isinstance(days, str) else count_text(days, "day", "days")


def cohort_words(cohort: CohortLine, in_several: bool) -> str:
    """Which part of its group a cohort is: its sale, `found apart` or `those that stay`; empty for the whole group."""
    part = cohort.id.removeprefix(f"{cohort.group}/")
    found = "found apart" if part.startswith("found-") else ""
    if cohort.sale is not None:
        return f"{found}, for {cohort.sale}".removeprefix(", ")
    return found or ("those that stay" if in_several else "")


def who_text(report: SeasonReport, task: Task) -> str:
    """Whom a task is for: group, head, and the part of the group where only a part is meant."""
    head = "" if task.head is None else f", {task.head:,} head"
    cohort = report.cohort(task.cohort)
    part = "" if cohort is None else cohort_words(cohort, len(report.cohorts_of(cohort.group)) > 1)
    return f"{task.group or ''}{head}" + (f" ({part})" if part and task.kind != "sale" else "")


def whose_text(report: SeasonReport, task: Task) -> str:
    """Whom a task is for, without the head: group, and the part of the group where only a part is meant."""
    return who_text(report, replace(task, head=None))


def conflict_who(conflict: Conflict, cohorts: Sequence[CohortLine] = ()) -> str:
    """Whom a conflict is about, as the beginning of its sentence; empty where its text begins with them already.

    cohorts: those of the plan, where there is one; they tell whether a group has more than one part.
    """
    if not conflict.group or conflict.text.startswith(conflict.group):
        return ""
    own = [cohort for cohort in cohorts if cohort.group == conflict.group]
    line = next((cohort for cohort in own if cohort.id == conflict.cohort), None)
    part = cohort_words(line, len(own) > 1) if line else ""
    return f"{conflict.group} ({part}): " if part else f"{conflict.group}: "


def label_name(report: SeasonReport, label_id: str | None) -> str:
    """The label's full name, or the name of its file where the farm no longer has it."""
    label = report.label(label_id)
    return label.name if label else label_id or ""


def targets_words(task: Task) -> str:
    """The task's targets as `blowfly strike and ticks`."""
    return list_text([words_of(target) for target in task.targets or ()])


def headline(report: SeasonReport, task: Task) -> str:
    """One line that begins with what to do, group and head."""
    verb = "Repeat dose" if task.repeat_of else VERBS[task.kind]
    if task.kind == "order" and task.label:
        return f"{verb} {label_name(report, task.label)}"
    if task.kind == "season-opens" and task.targets:
        who = f" on {task.group}" if task.group else ""
        return f"{verb} {targets_words(task)}{who}: its season opens"
    who = who_text(report, task) or "the work"
    detail = _detail(report, task)
    return f"{verb} {who}" + (f": {detail}" if detail else "")


def dose_line(report: SeasonReport, task: Task) -> str:
    """A dose under the name of its label: whom, millilitres a head and in all."""
    verb = "Repeat dose" if task.repeat_of else VERBS["dose"]
    amounts = ((task.dose_ml, "ml a head"), (task.task_ml, "ml in all"))
    told = ", ".join(f"{number_text(ml)} {words}" for ml, words in amounts if ml is not None)
    return f"{verb} {who_text(report, task)}" + (f": {told}" if told else "")


def _detail(report: SeasonReport, task: Task) -> str:
    name = label_name(report, task.label)
    if task.kind == "dose":
        return f"{number_text(task.dose_ml)} ml a head of {name}" if task.dose_ml is not None else name
    if task.kind == "clear":
        return f"meat withdrawal of {name} is over" if name else "meat withdrawal is over"
    if task.kind == "prepare":
        return name
    cohort = report.cohort(task.cohort)
    return cohort.sale or "" if task.kind == "sale" and cohort else ""


def price_words(choice: Choice | Change, currency: str, exponent: int) -> tuple[str, str, str]:
    """What a choice or another plan changes: exposed sheep-days, money, handlings; `more` or `less` where not zero."""
    money = money_text(abs(choice.money_minor), currency, exponent)
    return (
        _change(count_text(abs(choice.exposed_sheep_days), "exposed sheep-day", "exposed sheep-days"),
                choice.exposed_sheep_days, "fewer"),
        _change(money, choice.money_minor, "less"),
        _change(count_text(abs(choice.handlings), "handling", "handlings"), choice.handlings, "fewer"),
    )  # fmt: skip


def _change(amount: str, change: int, down: str) -> str:
    return amount if change == 0 else f"{amount} {'more' if change > 0 else down}"
