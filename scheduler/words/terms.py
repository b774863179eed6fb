"""The word lists of the trade that several tables share."""

from typing import Literal

Target = Literal["blowfly-strike", "ticks", "head-fly", "lice", "scab"]
TARGETS: tuple[Target, ...] = ("blowfly-strike", "ticks", "head-fly", "lice", "scab")

Kind = Literal["ewe", "ram", "hogg", "lamb", "store"]
KINDS: tuple[Kind, ...] = ("ewe", "ram", "hogg", "lamb", "store")

EventKind = Literal[
    "lambing", "shearing", "crutching", "weaning", "turnout", "housing", "dipping", "gather", "away", "arrival"
]
EVENT_KINDS: tuple[EventKind, ...] = (
    "lambing", "shearing", "crutching", "weaning", "turnout", "housing", "dipping", "gather", "away", "arrival",
)  # fmt: skip

Form = Literal["pour-on", "spray-on", "dip", "injection", "drench", "other"]
FORMS: tuple[Form, ...] = ("pour-on", "spray-on", "dip", "injection", "drench", "other")

Purpose = Literal["slaughter", "store", "breeding", "export"]
PURPOSES: tuple[Purpose, ...] = ("slaughter", "store", "breeding", "export")

Severity = Literal["stop", "warn", "note"]
