"""Worked cases of every rule: a small farm, doses, and what the rule says of them. They are tests and examples both."""

import tomllib
from datetime import date
from decimal import Decimal
from functools import cache
from typing import Any

from msgspec import Struct

from scheduler.rules.case_farm import Content, farm_of, merged
from scheduler.rules.catalogue import RULES
from scheduler.rules.contract import Breach, Rule
from scheduler.rules.engine import breaches, with_directions
from scheduler.season import Dose, Doses, Season, label_use, wished
from scheduler.words import package_text


class Expected(Struct, frozen=True, kw_only=True):
    """A breach that a case expects; what is not stated (None, or an empty text) is not compared."""

    day: date | None = None
    cohort: str | None = None
    group: str | None = None
    where: str | None = None
    text_has: str = ""

    def is_met(self, breach: Breach) -> bool:
        """Whether the breach is the one expected."""
        pairs = (
            (self.day, breach.day),
            (self.cohort, breach.cohort),
            (self.group, breach.group),
            (self.where, str(breach.where)),
        )
        return all(wanted in (None, found) for wanted, found in pairs) and self.text_has in breach.text


class Case(Struct, frozen=True, kw_only=True):
    """One claim about one rule. source: id in the facts of where it is taken from, None where it is our own.

    content: the farm by tables, `today`, and `doses` that are given beside those of record.csv and wishes.csv.
    """

    slug: str
    name: str
    content: Content
    expected: tuple[Expected, ...]
    source: str | None = None

    @property
    def rule(self) -> Rule:
        """The rule that the case is about."""
        return next(rule for rule in RULES if rule.slug == self.slug)

    @property
    def verdict(self) -> str:
        """What the rule has to say, in a word or two: a stop rule is kept or broken, all others speak or do not."""
        if self.rule.severity == "stop":
            return "breaks it" if self.expected else "keeps the rule"
        return "it is said" if self.expected else "nothing to say"

    def season(self) -> Season:
        """The season of the case's farm."""
        return Season(farm_of(self.content, self.content["today"]), self.content["today"])

    def doses(self, season: Season) -> Doses:
        """Recorded, wished and stated doses; those that a vet's direction carries are marked."""
        stated = [_dose(season, merged(self.content["dose"], row)) for row in self.content.get("doses", ())]
        wishes = [dose for wish in season.farm.wishes for dose in wished(season.farm, season.cohorts, wish)]
        return with_directions(season, Doses([*season.record, *wishes, *stated]))

    def found(self) -> tuple[Breach, ...]:
        """What the rule says of the case."""
        season = self.season()
        return tuple(breaches(season, self.doses(season), [self.rule]))


@cache
def cases(slug: str) -> tuple[Case, ...]:
    """The cases of a rule, in the order of its file."""
    file = _toml(f"{slug}.toml")
    given = merged(_toml("base.toml"), file.get("given", {}))
    return tuple(_case(slug, given, row) for row in file["case"])


def examples(slug: str) -> tuple[str, ...]:
    """The first case in which the rule is silent and the first in which it speaks, as plain sentences."""
    silent = next((f"{case.name}: {case.verdict}" for case in cases(slug) if not case.expected), None)
    spoken = next(
        (f"{case.name}: {case.verdict} — {case.found()[0].text}" for case in cases(slug) if case.expected), None
    )
    return tuple(sentence for sentence in (silent, spoken) if sentence is not None)


def _toml(name: str) -> dict[str, Any]:
    return tomllib.loads(package_text("scheduler.rules", f"cases/{name}"), parse_float=Decimal)


def _case(slug: str, given: Content, row: Content) -> Case:
    changes = {key: value for key, value in row.items() if key not in ("name", "source", "breaches")}
    return Case(
        slug=slug,
        name=row["name"],
        content=merged(given, changes),
        expected=tuple(Expected(**breach) for breach in row["breaches"]),
        source=row.get("source"),
    )


def _dose(season: Season, row: Content) -> Dose:
    label, use = label_use(season.farm, row["label"], row["use"])
    cohort = next(cohort for cohort in season.cohorts if cohort.id == row["cohort"])
    return Dose(day=row["day"], cohort=cohort, label=label, use=use, first_day=row.get("repeat_of"),
                origin=row.get("origin", "plan"))  # fmt: skip
