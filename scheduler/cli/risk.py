"""season risk: the level of each target over the season, how sure it is, and weather brought in from other files."""

from datetime import date
from pathlib import Path

import click
from msgspec.structs import replace

from scheduler.cli.clock import elapsed
from scheduler.cli.shared import farm_argument, json_option, load, refuse, today_option, write
from scheduler.cli.terminal import say, tell, tell_json, width

MOVES_SECONDS = 20
"""What planning twice, with this year's weather and without, may take."""
REQUIRED, OPTIONAL = ("date", "tmin", "tmax"), ("rain",)


def _columns(context: click.Context, parameter: click.Parameter, given: str | None) -> dict[str, str]:
    """The file's own names by the columns of weather.csv; those not named are called as there."""
    pairs = [pair.partition("=") for pair in given.split(",")] if given else []
    named = {name.strip(): own.strip() for name, _, own in pairs}
    if any(name not in REQUIRED + OPTIONAL or not own for name, own in named.items()) or len(named) < len(pairs):
        raise click.BadParameter("write, for example, date=DATE,tmin=TN,tmax=TX, with rain=RR where there is rain.")
    return {name: named.get(name, name) for name in REQUIRED + OPTIONAL if name in REQUIRED or name in named}


@click.command(
    epilog="""\b
Examples:
  season risk my-farm
  season risk my-farm --today 2027-05-01 --json
  season risk my-farm --png risk.png
  season risk my-farm --from station.csv --columns date=Date,tmin=Tn,tmax=Tx

Levels come from risk.csv for a target that has rows there, else from weather.csv, else from normals.csv, else from a
built-in table. They are levels out of doors: housing, days away and findings are looked at in the plan.
"""
)
@farm_argument
@click.option("--from", "station", type=click.Path(path_type=Path), metavar="FILE",
              help="First write weather.csv from a file of daily weather in degrees Celsius.")  # fmt: skip
@click.option("--columns", callback=_columns, metavar="date=...,tmin=...,tmax=...",
              help="The names that FILE gives to the columns; rain=... may be added.")  # fmt: skip
@click.option("--yes", "may_replace", is_flag=True, help="Write over a weather.csv that is there already.")
@click.option("--png", type=click.Path(path_type=Path), metavar="FILE", help="Draw it into this PNG file too.")
@today_option
@json_option
def risk(
    farm: Path,
    station: Path | None,
    columns: dict[str, str],
    may_replace: bool,
    png: Path | None,
    day: date,
    as_json: bool,
) -> None:
    """Show the risk of each target on the farm in folder FARM: when it begins and ends, and how far years differ."""
    from scheduler.outputs import risk_json, risk_png, risk_text
    from scheduler.plan import moves_of_this_year
    from scheduler.report import risk_report
    from scheduler.season import Season

    if station is not None:
        said = _bring_in(farm, station, columns, may_replace, day, as_json)
        if not as_json:
            say(said)
            tell("\n")
    read, earlier = load(farm, farm / "plan", day, as_json)
    report = risk_report(Season(read, day))
    if not as_json:
        since = elapsed()
        moves = moves_of_this_year(read, day, None, earlier, lambda: since() >= MOVES_SECONDS)
        report = replace(report, moves=moves)
    if png is not None:
        write(png.parent, {png.name: risk_png(report)})
    if as_json:
        tell_json(risk_json(report))
    else:
        tell(risk_text(report, width()))


def _bring_in(farm: Path, station: Path, columns: dict[str, str], may_replace: bool, day: date, as_json: bool) -> str:
    """Writes weather.csv from the station's file, and says what stands in it; tells every fault and ends."""
    from scheduler.cli.disk import read_bytes, read_folder
    from scheduler.farm import WORKBOOK, read_farm, read_station, weather_csv
    from scheduler.words import Fault, Faults, Where, say_day, say_days

    texts = read_folder(farm)
    if WORKBOOK in texts:
        raise click.UsageError(f"The farm stands in {WORKBOOK}: copy the rows into its sheet weather.")
    if "weather.csv" in texts and not may_replace:
        raise click.UsageError(f"{farm / 'weather.csv'} is there already; --yes writes over it.")
    read = read_farm({name: content for name, content in texts.items() if name != "weather.csv"}, day)
    if isinstance(read, Faults):
        refuse(read, as_json)
    content = read_bytes(station)
    if content is None:
        content = Fault(Where(str(station)), "found no such file", "expected daily weather", "check its name")
    if isinstance(content, Fault):
        refuse(Faults((content,)), as_json)
    dates = read.settings.dates
    found = read_station(station.name, content, columns, dates)
    if isinstance(found, Faults):
        refuse(found, as_json)
    write(farm, {"weather.csv": weather_csv(found.days, dates)})
    span = f"{say_day(found.days[0].day)} to {say_day(found.days[-1].day)}"
    left = f"; {say_days(found.without)} without both readings left out" if found.without else ""
    return f"Wrote {say_days(len(found.days))} of weather, {span}, to {farm / 'weather.csv'}{left}."
