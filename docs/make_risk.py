"""Makes docs/risk.md, the page on risk from weather, and its pictures, from the figures of the models.

`python docs/make_risk.py` writes them anew; a test fails where the page is not the one that the figures make.
"""

import csv
from collections.abc import Callable, Iterator
from datetime import date, timedelta
from pathlib import Path

import numpy as np
from msgspec.structs import replace
from numpy.typing import NDArray

from scheduler.facts import FlyFigures, HeadFlyFigures, Measure, SheepFigures, TickFigures, biology, facts
from scheduler.risk.daylight import daylight_hours
from scheduler.risk.models import Course, head_fly, strike, ticks
from scheduler.risk.normals import daily_curve

PAGE = Path(__file__).parent / "risk.md"
DATA = Path(__file__).parent.parent / "tests" / "outside" / "data"
LATITUDE, ACT = 52.9, 0.3
HALF_RANGE = (2.7, 3.0, 3.6, 4.3, 4.8, 5.0, 5.0, 4.8, 4.3, 3.5, 2.8, 2.6)
PLACES = (("a hill 2.5 °C colder", -2.5), ("Nottingham 1920 to 1939", 0.0), ("a place 1.5 °C warmer", 1.5))

Grid = NDArray[np.float64]
Figures = FlyFigures | HeadFlyFigures | TickFigures

HEAD = """# Risk from weather

Made by `python docs/make_risk.py` from the figures of the models; change those, not this page.
A level is what is likely, never a promise: look at the sheep as often as before. Your vet and local advice come first.

## Where levels come from

For each target the first of these that the farm has:

1. its rows in `risk.csv`, used alone;
2. `weather.csv`: every whole year is run through the target's model, and the plan reckons with the level that was
   reached in 1 year of 5 (`caution = "high"`), in half of them (`"middle"`) or in 4 of 5 (`"low"`);
3. `normals.csv`: one usual year through the monthly means, with nothing known of how years differ;
4. a built-in table by month and latitude: a guess, and said with a warning.

Lice and scab do not follow the weather: without rows in `risk.csv` they come from the table. Housing, days away and
findings are looked at in the plan, after this.

## The scale

Levels run from 0 to 1 on one scale for every farm, so that a cold hill has a later, shorter and lower season than a
warm lowland:

| level | means |
|---|---|
| 0 | nothing about, or too cold for it |
| 0.3 | it begins to matter: from here the plan acts on blowfly strike and ticks, unless `act_level` says otherwise |
| 0.5 | half of full: from here the plan acts on head fly |
| 1 | as many, and as active, as ever matters |

A year's levels are means of 15 days, in steps of 0.05: more would claim more than is known. The scale is our own,
without a source; what stands behind each figure is told below.

## Weather

- A year is whole from January to December, in the south from July to June. Gaps up to 3 days are filled in a
  straight line, and said; a year with a longer gap is not used, and said. Fewer than 5 years are said too.
- Days after `--today` are left out: a past day can be planned again as it was.
- The season's own year up to `--today` is compared with the years by the warmth built up so far: so many days early
  or late. Each past year is then foretold from the others in the same way, on the same date. Only where that comes
  nearer to its true start than the median start does, by a day or more on average, with 5 years or more, and before
  the median start, are levels moved.
- What that moves in the plan, `season risk` and the page name task by task: the plan of this year's levels beside that
  of the usual ones.
- `season plan --years` gives the doses of the plan to every past year, and sets plans made on an early, a middle and a
  late year beside it.
- Southern farms are reckoned as northern ones with the same weather half a year on.
"""

NOT_IN_IT = """## Not in it

- Horns, and heads without wool, which the head fly seeks: the tables do not hold them.
- Ticks of a ewe, a hogg and a lamb stood as 8 : 6 : 1 on a hill (Milne, abstract), by the size of the sheep. Lambs are
  not counted for less all the same: it is they who fall ill.
- Days hotter than the best do no harm here: upper limits of flies in the field are hardly known, and do not bind in
  the climates that the figures come from. In hot, dry summers levels are too high.
- Soil temperature is not asked for; air stands in for it.
- How far the opening moves within the range of one figure is shown above; several at once can move it further.
  Figures from memory, or our own, are marked: of these trust the dates least.
"""


SHEEP = """## The sheep and the rain

For blowfly strike the level of a group may differ from that of its place. This holds for levels from weather, monthly
means and the built-in table; rows of `risk.csv` are used as they stand. No figure with a source was found for how much:
that it is so is common practice, how much is our own, and small.

- **Dirt**: while `dags` of findings.csv stand (28 days at most, until crutching, shearing or `cleared`).
- **Fleece length**: wooled sheep other than lambs are in full wool before a shearing of events.csv, where none is known
  for half a year before.
- **Shearing**: newly shorn sheep are struck less. This alone lowers a level, so with `caution = "high"`, the usual, it
  is not used: a figure without a source must not leave sheep without cover. Who plans with less caution takes it.
- **Kind of sheep**: ewes are struck first, in the wool before shearing; lambs later in the season, once grown.
- **Rain**, where weather.csv has it: a wet fortnight raises the level of the place in that year. A day without a
  reading counts as dry.

Of several that hold for a group, the one that raises most is used; they are not multiplied together. A level of 0 stays
0, and none is over 1. A season begins and ends with the first and the last group that reaches the act level.

The last three columns: the days by which the median year at Nottingham reaches {act} sooner (-) or later (+) for such
sheep, or in such rain all year, with the figure, its low and its high end.

| figure | | range | source | seen | as it is | low | high |
|---|---|---|---|---|---|---|---|"""
NOT_ON_A_FACTOR = ("full_wool_days", "older_lamb_days", "shorn_days", "wet_from", "wet_to")


def nottingham() -> Grid:
    """Daily means of twenty years, through the means of their months."""
    with (DATA / "nottingham_monthly_1920_1939.csv").open(encoding="utf-8") as table:
        means = [float(row["mean_c"]) for row in csv.DictReader(table)]
    return np.stack([daily_curve(means[n : n + 12]) for n in range(0, len(means), 12)])


def run(figures: Figures, warmer: float = 0.0) -> Grid:
    """Levels of the years at Nottingham, so much warmer (°C)."""
    hours = daylight_hours(LATITUDE, np.arange(365) + 1)
    mean, half = nottingham() + warmer, daily_curve(HALF_RANGE)
    return _course(figures, mean - half, mean + half, hours).levels


def _course(figures: Figures, tmin: Grid, tmax: Grid, hours: Grid) -> Course:
    if isinstance(figures, FlyFigures):
        return strike(figures, tmin, tmax, hours)
    return head_fly(figures, tmin, tmax) if isinstance(figures, HeadFlyFigures) else ticks(figures, tmax, hours)


def opening(figures: Figures, times: float = 1.0) -> int | None:
    """Day of the year on which the median year opens, levels taken so many times; None where it does not."""
    median = np.median(run(figures), axis=0) * times
    return int(np.argmax(median >= ACT)) if (median >= ACT).any() else None


MODELS: tuple[tuple[str, str, str, Callable[[], Figures]], ...] = (
    (
        "blowfly-strike", "Blowfly strike",
        "The northern fly, *Lucilia sericata*. Larvae that overwintered develop again once a fortnight is warm "
        "enough and the year far enough on; with so much heat the first flies are out. Those out of winter are "
        "half the number; the next generation, one development later, makes it full. The level is that number, "
        "times how warm it is for the adults, times what the shortening day leaves in autumn. When larvae develop "
        "again in spring is the least certain.",
        lambda: biology().sericata,
    ),
    (
        "blowfly-strike-australia", "Blowfly strike in Australia, New Zealand and South Africa",
        "*Lucilia cuprina*, by the farm's country: the same model with other figures, and no end by day length. "
        "The picture and the days show it under the weather of Nottingham, to compare.",
        lambda: biology().cuprina,
    ),
    (
        "head-fly", "Head fly",
        "One generation a year comes and goes by heat from the start of the year; the level is its number, times "
        "how warm it is. Dates are those of the south of England, turned into heat by us.",
        lambda: biology().head_fly,
    ),
    (
        "ticks", "Ticks",
        "*Ixodes ricinus*. The level falls where a week's maxima are too cold or too warm and where days are "
        "short, and has two waves: the larger in spring, the lesser in autumn. Some hills have one wave only, and "
        "some none in autumn.",
        lambda: biology().ticks,
    ),
)  # fmt: skip


def page() -> str:
    """The page as Markdown."""
    models = (line for model in MODELS for line in _section(*model))
    return "\n".join([HEAD, *models, SHEEP.format(act=ACT), *_sheep_rows(), "", NOT_IN_IT])


def _sheep_rows() -> Iterator[str]:
    for name in SheepFigures.__struct_fields__:
        measure = getattr(biology().sheep, name)
        values = () if name in NOT_ON_A_FACTOR else (measure.value, measure.low, measure.high)
        moves = [_days(opening(biology().sericata, times=value)) for value in values] or [""] * 3
        yield f"| {_figure(measure)} | {' | '.join(moves)} |"


def _section(name: str, title: str, text: str, figures: Callable[[], Figures]) -> Iterator[str]:
    yield f"## {title}\n\n{text}\n\n![Level over the year at three places](risk-{name}.svg)\n"
    yield f"The last two columns: the days by which the median year at Nottingham reaches {ACT} sooner (-) or later (+)"
    yield "with the low and the high end of the figure's range.\n"
    yield "| figure | | range | source | seen | low | high |\n|---|---|---|---|---|---|---|"
    chosen = figures()
    for field in chosen.__struct_fields__:
        measure = getattr(chosen, field)
        if measure is not None:
            yield _row(chosen, field, measure)
    yield ""


def _row(figures: Figures, name: str, measure: Measure) -> str:
    moves = [_moves(figures, name, replace(measure, value=value)) for value in (measure.low, measure.high)]
    return f"| {_figure(measure)} | {' | '.join(moves)} |"


def _figure(measure: Measure) -> str:
    span = f"{measure.low:g} to {measure.high:g}"
    source = facts().source(measure.source).text
    return f"{measure.value:g} | {measure.unit} | {span} | {source} | {measure.seen}"


def _moves(figures: Figures, name: str, measure: Measure) -> str:
    return _days(opening(replace(figures, **{name: measure})), opening(figures))


def _days(moved: int | None, usual: int | None = None) -> str:
    usual = opening(biology().sericata) if usual is None else usual
    if usual is None or moved is None:
        return "not at all"
    return f"{moved - usual:+d}" if moved != usual else "0"


def draw(name: str, title: str, figures: Figures) -> None:
    """The picture of one target: the median of the years at three places, and their spread at Nottingham."""
    import matplotlib
    from matplotlib.figure import Figure

    matplotlib.rcParams |= {"svg.hashsalt": name, "svg.fonttype": "none"}
    figure = Figure(figsize=(8, 3), layout="constrained")
    axes = figure.subplots()
    days = np.arange(365)
    low, high = np.quantile(run(figures), [0.2, 0.8], axis=0)
    axes.fill_between(days, low, high, color="#c9d8c5", label="Nottingham, 4 years of 5 to 1 year of 5")
    for (place, warmer), dashes in zip(PLACES, (":", "-", "--"), strict=True):
        axes.plot(days, np.median(run(figures, warmer), axis=0), ls=dashes, color="#1d2b3a", label=place)
    firsts = [date(2027, month, 1) for month in range(1, 13)]
    axes.set_xticks([(first - firsts[0]) // timedelta(days=1) for first in firsts], [f"{one:%b}" for one in firsts])
    axes.set(xlim=(0, 364), ylim=(0, 1.05), ylabel="level", title=title)
    axes.legend(fontsize=7)
    figure.savefig(PAGE.with_name(f"risk-{name}.svg"), metadata={"Date": None, "Creator": None})


def main() -> None:
    """Writes the page and its pictures."""
    PAGE.write_text(page(), encoding="utf-8")
    for name, title, _, figures in MODELS:
        draw(name, title, figures())


if __name__ == "__main__":
    main()
