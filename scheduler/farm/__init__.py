"""The farm folder: its frozen model and the one gate through which it is read."""

from scheduler.farm.doses import PlannedFirst
from scheduler.farm.files import LABEL_FOLDER, TABLES, WHOLE_FOLDER, most_bytes
from scheduler.farm.model import (
    Caution,
    ClosedDays,
    Direction,
    Event,
    Farm,
    Finding,
    Group,
    Mob,
    NormalMonth,
    RecordRow,
    RiskRow,
    Sale,
    Settings,
    StockRow,
    WeatherDay,
    Weighing,
    Wish,
)
from scheduler.farm.places import minor_decimals
from scheduler.farm.read import Texts, read_farm

__all__ = [
    "LABEL_FOLDER",
    "TABLES",
    "WHOLE_FOLDER",
    "Caution",
    "ClosedDays",
    "Direction",
    "Event",
    "Farm",
    "Finding",
    "Group",
    "Mob",
    "NormalMonth",
    "PlannedFirst",
    "RecordRow",
    "RiskRow",
    "Sale",
    "Settings",
    "StockRow",
    "Texts",
    "WeatherDay",
    "Weighing",
    "Wish",
    "minor_decimals",
    "most_bytes",
    "read_farm",
]
