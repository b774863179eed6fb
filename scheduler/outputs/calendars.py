"""Calendars beside calendar.ics: one a group, one a kind of task, or one of some kinds only.

What is for several groups stands in the file of each, with the same UID and SEQUENCE; what is for none (orders, the
opening of a season) is for the whole farm, and stands in every group's. Each group and each kind has its file even
where nothing is in it, so that a subscription to it stays alive.
"""

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Sequence
from hashlib import sha256
from typing import Literal, get_args
from unicodedata import normalize

from scheduler.outputs.calendar import LAST_SAFE_DAY, Entry, calendar_of, entries_of
from scheduler.report import SeasonReport, TaskKind

CalendarSet = Literal["one", "groups", "kinds"]
TASK_KINDS: tuple[TaskKind, ...] = get_args(TaskKind)
WHOLE = "calendar.ics"
ONLY = "only"
"""Ends the name of the one further file that holds some kinds only."""

MOST_LETTERS = 40
DIGEST_LETTERS = 8


def calendar_files(
    report: SeasonReport, calendars: CalendarSet = "one", only: Sequence[TaskKind] = (), last_safe_days: bool = False
) -> dict[str, bytes]:
    """Every calendar by its file name: calendar.ics whole, and calendar-NAME.ics as asked for.

    only: kinds of task that the further files hold, where not all; last safe days are no tasks and then not in them.
    """
    entries = entries_of(report, last_safe_days)
    kept = [entry for entry in entries if not only or entry.kind in only]
    files = {WHOLE: calendar_of(report, entries)}
    for name, own in _parts(report, calendars, kept, only):
        files[f"calendar-{name}.ics"] = calendar_of(report, own)
    return files


def _parts(
    report: SeasonReport, calendars: CalendarSet, kept: Sequence[Entry], only: Collection[TaskKind]
) -> Iterator[tuple[str, list[Entry]]]:
    """The name of each further file, and its events."""
    if calendars == "groups":
        named = [cohort.group for cohort in report.plan.cohorts] + [g for entry in kept for g in entry.groups]
        for group, name in file_names(named).items():
            yield name, [entry for entry in kept if not entry.groups or group in entry.groups]
    elif calendars == "kinds":
        kinds = [kind for kind in TASK_KINDS if not only or kind in only]
        for kind in [*kinds, *sorted({entry.kind for entry in kept} & {LAST_SAFE_DAY})]:
            yield kind, [entry for entry in kept if entry.kind == kind]
    elif only:
        yield ONLY, list(kept)


def file_names(names: Iterable[str]) -> dict[str, str]:
    """A name safe for files for each name: letters, digits and hyphens, told apart whatever the disk makes of case.

    Where several names would give the same, each ends in digits of its own, so that none takes another's file later.
    """
    safe = {name: _safe(name) for name in names}
    counts = Counter(one.casefold() for one in safe.values())
    alone = {name: one for name, one in safe.items() if one and counts[one.casefold()] == 1}
    taken = {one.casefold() for one in alone.values()}
    found: dict[str, str] = {}
    for name, one in safe.items():
        found[name] = alone[name] if name in alone else _told_apart(name, one, taken)
        taken.add(found[name].casefold())
    return found


def _safe(name: str) -> str:
    """Letters and digits of any script as they are, all else as single hyphens; at most so many letters."""
    letters = "".join(letter if letter.isalnum() else "-" for letter in normalize("NFKC", name))
    return "-".join(filter(None, letters.split("-")))[:MOST_LETTERS].strip("-")


def _told_apart(name: str, safe: str, taken: Collection[str]) -> str:
    digits = sha256(name.encode()).hexdigest()
    found = "-".join(filter(None, (safe, digits[:DIGEST_LETTERS])))
    return found if found.casefold() not in taken else "-".join(filter(None, (safe, digits)))
