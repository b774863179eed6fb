"""default-risk: levels of risk that are not the farm's own."""

from collections.abc import Iterable

from scheduler.rules.contract import Breach, Rule
from scheduler.season import Doses, Season

SLUG = "default-risk"


def check(season: Season, doses: Doses) -> Iterable[Breach]:
    """Targets without a row in risk.csv, whose levels weather does not give either."""
    has_weather = bool(season.farm.weather or season.farm.normals)
    unused = "they do not follow the weather" if season.levels.weather.source else "it has no whole year of weather"
    for target in season.targets:
        if season.levels.source(target) == "default":
            text = f"{target}: levels come from the built-in monthly table for the latitude, not from this farm"
            yield Breach(rule=SLUG, text=f"{text}; {unused}" if has_weather else text)


RULE = Rule(
    slug=SLUG,
    title="Levels from the built-in table are a guess for the latitude: write your own days at risk.",
    why="A cold hill and a warm valley at one latitude can differ by a month.",
    severity="warn",
    family="cover",
    sources=("own-threshold",),
    whole=check,
)
