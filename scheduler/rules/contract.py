"""What a rule is. Each rule is one frozen value in one file, named after its slug."""

from collections.abc import Callable, Iterable, Sequence
from datetime import date
from typing import Literal

from msgspec import Struct

from scheduler.labels import Label
from scheduler.season import Course, Dose, Doses, Run, Season
from scheduler.words import Severity, Where

Family = Literal["dose", "sales", "work", "cover", "records"]


class Breach(Struct, frozen=True, kw_only=True):
    """A rule broken, or something that must be said.

    dose: the one judged, the later of two. where: what it meets. run: the days in question, for rules of cover.
    """

    rule: str
    text: str
    dose: Dose | None = None
    cohort: str | None = None
    group: str | None = None
    day: date | None = None
    where: Where | None = None
    run: Run | None = None


class Apart(Struct, frozen=True):
    """Least days between the first doses of two courses, and between any doses of theirs; 0 = no limit."""

    firsts: int = 0
    doses: int = 0


class Count(Struct, frozen=True):
    """Courses of one cohort with the same key, first dose in the season: at most the least `most` among them."""

    key: str
    most: int


DoseCheck = Callable[[Season, Dose, Sequence[Dose]], Breach | None]
CourseCheck = Callable[[Season, Course], Breach | None]
MayGive = Callable[[Dose, Sequence[Dose]], bool]
"""Whether a first dose might be given beside these doses of its cohort without breaking a stop rule."""


class Rule(Struct, frozen=True, kw_only=True):
    """One rule. Of the six ways to state it one is filled; planner, audit and text all use that one.

    dose: may this dose stand, given the other doses of its cohort? course: may this first dose with this repeat?
    apart: how far apart must two labels stand in one cohort? count: how many courses may there be?
    whole: what is to be said of the whole list of doses? instead: the same, where that asks what else might be given.
    sets_aside: whether a vet's written direction may set the rule aside.
    """

    slug: str
    title: str
    why: str
    severity: Severity
    family: Family
    sources: tuple[str, ...]
    dose: DoseCheck | None = None
    course: CourseCheck | None = None
    apart: Callable[[Season, Label, Label], Apart] | None = None
    count: Callable[[Season, Label], Count | None] | None = None
    whole: Callable[[Season, Doses], Iterable[Breach]] | None = None
    instead: Callable[[Season, Doses, MayGive], Iterable[Breach]] | None = None
    sets_aside: bool = False


def of_dose(slug: str, dose: Dose, text: str, where: Where | None = None) -> Breach:
    """A breach of a rule by a dose; `text` follows who, what and when."""
    return Breach(rule=slug, text=text, dose=dose, cohort=dose.cohort.id, group=dose.cohort.group.name,
                  day=dose.day, where=where)  # fmt: skip
