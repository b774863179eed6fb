"""The last plan of a farm, with its calendar and what was sent of it, for the commands that speak to a calendar."""

import sys
from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

from msgspec import Struct
from msgspec.structs import replace

from scheduler.cli.disk import read_bytes, read_folder
from scheduler.cli.shared import WRONG_INPUT, read_all, refuse, write
from scheduler.cli.terminal import complain

if TYPE_CHECKING:
    from scheduler.exchange import Event, Known, State
    from scheduler.farm import Farm
    from scheduler.plan import EarlierPlan, Task
    from scheduler.words import Fault


class LastPlan(Struct, frozen=True):
    """A farm, the plan last made for it, its bytes and events, and what is known of calendars that it was sent to."""

    farm: "Farm"
    texts: "Mapping[str, bytes | Fault]"
    folder: Path
    plan: "EarlierPlan"
    plan_json: bytes
    events: "dict[str, Event]"
    state: "State"

    @property
    def tasks(self) -> "dict[str, Task]":
        """The tasks by uid."""
        return {task.uid: task for task in self.plan.tasks}

    @property
    def calendar_segment(self) -> str:
        """The last part of the address of the farm's calendar in a home of calendars: letters and digits of its id."""
        letters = "".join(one if one.isascii() and one.isalnum() else "-" for one in self.plan.farm_id.casefold())
        return "-".join(["season", *filter(None, letters.split("-"))])

    @property
    def calendar_name(self) -> str:
        """The name of the farm's calendar."""
        return f"Season: {self.farm.settings.name}"

    def note(self, address: str, known: "Mapping[str, Known]") -> None:
        """Writes down what is known of a calendar now, where it is anything else than before."""
        calendars = {**self.state.calendars, address: dict(known)}
        self.keep(replace(self.state, calendars=calendars))

    def keep(self, state: "State") -> None:
        """Writes pushed.json, where it differs."""
        from scheduler.exchange import STATE_FILE, state_json

        if state != self.state:
            write(self.folder, {STATE_FILE: state_json(state).encode()})


def last_plan(farm: Path, folder: Path, day: date, as_json: bool) -> LastPlan:
    """The last plan; tells every fault and ends with exit code 2, as where nothing has been planned yet."""
    from scheduler.exchange import STATE_FILE, planned_events, read_state
    from scheduler.words import Fault, Faults

    texts = read_folder(farm)
    read = read_all(texts, folder, day)
    if isinstance(read, Faults):
        refuse(read, as_json)
    found, earlier = read
    plan_json, calendar, kept = (read_bytes(folder / name) for name in ("plan.json", "calendar.ics", STATE_FILE))
    if earlier is None or not isinstance(plan_json, bytes) or calendar is None:
        _nothing_planned(folder)
    if isinstance(calendar, Fault):
        refuse(Faults((calendar,)), as_json)
    events = planned_events(calendar, earlier, found.settings.timezone)
    state = kept if isinstance(kept, Fault) else read_state(kept)
    if isinstance(events, Fault):
        refuse(Faults((events,)), as_json)
    if isinstance(state, Fault):
        refuse(Faults((state,)), as_json)
    return LastPlan(found, texts, folder, earlier, plan_json, events, state)


def _nothing_planned(folder: Path) -> NoReturn:
    complain(f"There is no plan in {folder} yet: make one with `season plan`, or name its folder with --out.")
    sys.exit(WRONG_INPUT)
