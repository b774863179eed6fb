"""The farm folder: its frozen model and the one gate through which it is read."""

from scheduler.farm.dags import standing_dags
from scheduler.farm.dose_rows import with_dose_rows
from scheduler.farm.doses import PlannedFirst
from scheduler.farm.files import LABEL_FOLDER, TABLES, WHOLE_FOLDER, WORKBOOK, is_label_file, most_bytes
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
from scheduler.farm.station import StationDays, read_station, weather_csv
from scheduler.farm.write_workbook import workbook_of

__all__ = [
    "LABEL_FOLDER",
    "TABLES",
    "WHOLE_FOLDER",
    "WORKBOOK",
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
    "StationDays",
    "StockRow",
    "Texts",
    "WeatherDay",
    "Weighing",
    "Wish",
    "is_label_file",
    "minor_decimals",
    "most_bytes",
    "read_farm",
    "read_station",
    "standing_dags",
    "weather_csv",
    "with_dose_rows",
    "workbook_of",
]
