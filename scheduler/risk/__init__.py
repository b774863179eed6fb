"""Levels of risk, 0 to 1, of each target on each day."""

from scheduler.risk.default import default_level
from scheduler.risk.heat import Cutoff, Method, degree_days
from scheduler.risk.outlook import Dates, Outlook, ends_of, least_steps, starts_of
from scheduler.risk.sheep import Modifier, Sheep
from scheduler.risk.spread import SHARES, rank
from scheduler.risk.this_year import ThisYear
from scheduler.risk.weather_risk import WeatherRisk, weather_risk
from scheduler.risk.years import years_text

__all__ = [
    "SHARES",
    "Cutoff",
    "Dates",
    "Method",
    "Modifier",
    "Outlook",
    "Sheep",
    "ThisYear",
    "WeatherRisk",
    "default_level",
    "degree_days",
    "ends_of",
    "least_steps",
    "rank",
    "starts_of",
    "weather_risk",
    "years_text",
]
