"""Season reports built by hand: a rich one, an empty one, one with hostile names, one of ten groups. All invented."""

from datetime import date, timedelta
from decimal import Decimal

from msgspec.structs import replace

from scheduler.report import (
    GapLine,
    PackCount,
    Run,
    Score,
    SeasonReport,
    Shopping,
    SourceLine,
    State,
    Task,
)
from tests.outputs.pieces import (
    START,
    cohort,
    conflict_of_sale,
    day,
    dose,
    other_conflicts,
    other_tasks,
    plan,
    report,
    runs,
    scenery,
)

HOSTILE = "Ütz \"Öl\" <script>alert('x')</script>, & Söhne"
FORMULA = "=SUM(A1:A9)"


def empty_report() -> SeasonReport:
    """A farm with nothing to do and nothing at risk."""
    return report(plan())


def rich_report() -> SeasonReport:
    """A hill farm in May: every kind and status of task, conflicts of each severity, shopping, a draft label."""
    ewes = cohort("Ewes", 180)
    drafts = cohort("Top lambs", 60, "Autumn draft", day(8, 20))
    keepers = cohort("Top lambs", 35)
    done = dose(ewes, day(5, 3), "tick-dip", ("ticks",), status="done")
    first = dose(drafts, day(5, 27), targets=("blowfly-strike", "ticks"))
    again = dose(drafts, day(6, 17), targets=("blowfly-strike", "ticks"), repeat_of=first.uid)
    late = dose(ewes, day(7, 22), meat=None)
    missed = dose(keepers, day(5, 10), status="missed")
    off = dose(keepers, day(9, 2), status="cancelled")
    strike: tuple[tuple[date, str, State], ...] = ((START, "0", "low"), (day(5, 25), "0.22", "low"))
    tasks = (done, missed, first, again, late, off, *other_tasks(ewes, drafts))
    days = [
        *runs(ewes, "blowfly-strike", *strike, (day(6, 10), "0.62", "exposed"), (day(7, 22), "0.9", "covered"),
              (day(9, 2), "0.5", "fading"), (day(9, 16), "0.2", "low")),
        *runs(ewes, "ticks", (START, "0.1", "low"), (day(4, 3), "0.45", "exposed"), (day(5, 3), "0.5", "covered"),
              (day(6, 14), "0.12", "low")),
        *runs(drafts, "blowfly-strike", *strike, (day(5, 27), "0.62", "covered"), (day(7, 29), "0.9", "fading"),
              (day(8, 12), "0.9", "exposed"), (day(8, 20), "0", "away")),
        *runs(drafts, "ticks", (START, "0", "away"), (day(4, 10), "0.45", "exposed"), (day(5, 27), "0.5", "covered"),
              (day(6, 14), "0.12", "low"), (day(8, 20), "0", "away")),
        *runs(keepers, "blowfly-strike", (START, "0", "low")),
        *runs(keepers, "ticks", (START, "0", "low")),
    ]  # fmt: skip
    made = plan(
        draft=True,
        gap=GapLine(0, 1250),
        score=Score(1234, 18450, "GBP", 3, 2),
        cohorts=(ewes, drafts, keepers),
        tasks=tuple(sorted(tasks, key=lambda task: (task.day, task.uid))),
        days=tuple(days),
        conflicts=(conflict_of_sale(drafts), *other_conflicts(missed)),
        shopping=(
            Shopping(
                label="hill-pour-on",
                ml=Decimal("3420.5"),
                in_stock_ml=Decimal(0),
                packs=(PackCount(Decimal(2500), 1), PackCount(Decimal(1000), 1)),
                money_minor=13400,
                order_by=day(5, 20),
            ),
        ),
        sources=(SourceLine("demo", "Demo source, section 1"),),
        notes=("weights.csv, row 5: dated after 20 May 2027, left out.",),
    )
    return report(made, **scenery(drafts))


def hostile_report() -> SeasonReport:
    """Names with umlauts, quotes, tags, commas, line breaks and formulas, in a currency without minor unit."""
    whose = cohort(HOSTILE, 7, FORMULA, day(9, 1), mob="@mob")
    task = replace(dose(whose, day(6, 1), "=label"), text=f"+1 {HOSTILE}\nsecond line; with, signs \\ and {'ö' * 90}")
    made = plan(
        farm_name=HOSTILE,
        cohorts=(whose,),
        tasks=(task, Task(uid="-minus", kind="sale", day=day(9, 1), cohort=whose.id, group="@group", text="-1")),
        days=tuple(runs(whose, "ticks", (START, "0.6", "exposed"))),
        score=Score(1, 1061, "JPY", 1, 1),
        notes=(HOSTILE,),
    )
    return report(made, exponent=0, cautions=(HOSTILE,))


def large_report() -> SeasonReport:
    """Ten groups in twenty cohorts, levels that change every three days, a dose every six weeks."""
    cohorts = [
        cohort(f"Group number {n}", 40 + n, sale, leaves)
        for n in range(10)
        for sale, leaves in ((None, None), ("Late summer draft", day(9, 20)))
    ]
    tasks: list[Task] = []
    days: list[Run] = []
    for line in cohorts:
        tasks += [dose(line, day(5, 10) + timedelta(days=43 * n)) for n in range(4)]
        for target in ("blowfly-strike", "ticks", "head-fly"):
            steps: list[tuple[date, str, State]] = []
            for n in range(0, 275, 3):
                state: State = "low" if n % 60 < 20 else "covered" if n % 60 < 50 else "exposed"
                steps.append((START + timedelta(days=n), str(Decimal(n % 90) / 100), state))
            days += runs(line, target, *steps)
    looks = [
        Task(uid=f"look-{g}-{n}", kind="recheck", day=day(5, 1) + timedelta(days=7 * n), group=f"Group number {g}")
        for g in range(10)
        for n in range(22)
    ]
    made = plan(cohorts=tuple(cohorts), tasks=(*tasks, *looks), days=tuple(days))
    return report(made, **scenery(cohorts[1]))


REPORTS = {"rich": rich_report, "empty": empty_report, "hostile": hostile_report, "large": large_report}
