"""Leaves out what `today` cannot know yet, and wishes that are past, and says so."""

from collections.abc import Callable, Sequence
from datetime import date
from typing import Protocol, TypeVar

from msgspec.structs import replace

from scheduler.farm.model import Farm, Finding, Group, RecordRow, Wish
from scheduler.words import Where, say_days


class _Dated(Protocol):
    @property
    def day(self) -> date: ...

    @property
    def where(self) -> Where: ...


R = TypeVar("R", bound=_Dated)


def as_of(farm: Farm, today: date) -> Farm:
    """The farm as it was known on `today`: weather, weights, findings and record up to it, wishes from it on."""
    said: list[str] = []
    later = f"dated after {today}"
    weighings = _kept(farm.weighings, lambda row: row.day <= today, later, said)
    findings = _kept(farm.findings, lambda row: row.day <= today, later, said)
    record = _kept(farm.record, lambda row: row.day <= today, later, said)
    wishes = _kept(farm.wishes, lambda row: row.day >= today, f"dated before {today}", said)
    weather = tuple(day for day in farm.weather if day.day <= today)
    if len(weather) < len(farm.weather):
        left = len(farm.weather) - len(weather)
        said.append(f"Weather: {say_days(left)} {later} {'is' if left == 1 else 'are'} left out.")
    unknown = {f"{row.group}/found-{row.where.row}" for row in farm.findings} - _found_names(findings)
    not_found = "of animals not found yet"
    return replace(
        farm,
        groups=tuple(_group_as_of(group, today, said) for group in farm.groups),
        weather=weather,
        weighings=weighings,
        findings=findings,
        record=_kept(record, lambda row: not _names_one_of(row, unknown), not_found, said),
        wishes=_kept(wishes, lambda row: not _names_one_of(row, unknown), not_found, said),
        left_out=tuple(said),
    )


def _kept(rows: Sequence[R], keep: Callable[[R], bool], why: str, said: list[str]) -> tuple[R, ...]:
    out = [row for row in rows if not keep(row)]
    if out:
        numbers = ", ".join(str(row.where.row) for row in out[:10]) + (", …" if len(out) > 10 else "")
        rows_are = f"row {numbers} is" if len(out) == 1 else f"rows {numbers} are"
        table = Where(out[0].where.file, sheet=out[0].where.sheet)
        said.append(f"{table}: {rows_are} left out, {why}.")
    return tuple(row for row in rows if keep(row))


def _found_names(findings: Sequence[Finding]) -> set[str]:
    return {f"{row.group}/found-{row.where.row}" for row in findings}


def _names_one_of(row: RecordRow | Wish, cohorts: set[str]) -> bool:
    return row.cohort is not None and "/".join(row.cohort.split("/")[:2]) in cohorts


def _group_as_of(group: Group, today: date, said: list[str]) -> Group:
    if group.weighed_on is None or group.weighed_on <= today:
        return group
    said.append(f'{group.where}: the weights of "{group.name}" are left out, weighed after {today}.')
    return replace(group, heaviest_kg=None, lightest_kg=None, weighed_on=None)
