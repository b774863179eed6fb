"""Degree-days as they were printed: tables, worked examples, and a year of a public service.

Sources, each beside its figures in tests/outside/data: Zalom and others 1983, table 7, and McMaster and Wilhelm 1997,
table 1 (both by the test data of the R package degday); the output of the University of California's calculator for
station Esparto.A, 2020 (public degree-day-challenge set); worked examples of agencies and open libraries (handbook);
the four-case rule of Met Éireann, with numbers derived from it. Tolerances: half a unit of the last printed digit,
0.01 for the cutoffs vertical and intermediate.
"""

from typing import cast

import numpy as np
import pytest

from scheduler.risk import Cutoff, Method, degree_days
from tests.outside.tables import Row, rows

FOUR: tuple[Method, ...] = ("single_triangle", "double_triangle", "single_sine", "double_sine")
ZALOM = rows("degree_days_zalom_1983.csv")
ESPARTO = rows("degree_days_esparto_2020.csv")
HANDBOOK = rows("degree_days_handbook.csv")
HALF_A_CENT = 0.006


def column(table: list[Row], name: str) -> list[float]:
    """A column as numbers."""
    return [float(row[name]) for row in table]


def limit_of(row: Row) -> float | None:
    """The upper threshold of a worked example, None where it has none."""
    return float(row["upper"]) if row["upper"] else None


@pytest.mark.parametrize("method", FOUR)
@pytest.mark.parametrize("row", ZALOM, ids=lambda row: f"row {row['row']}")
def test_zalom_1983_table_7_with_its_misprint_mended(row: Row, method: Method) -> None:
    tmin, tmax = [float(row["tmin_f"]), float(row["next_tmin_f"])], [float(row["tmax_f"]), 200.0]
    day, _ = degree_days(tmin, tmax, float(row["lower_f"]), float(row["upper_f"]), method)
    assert day == pytest.approx(float(row[method]), abs=HALF_A_CENT)


@pytest.mark.parametrize("row", rows("degree_days_mcmaster_wilhelm_1997.csv"), ids=lambda row: f"row {row['row']}")
def test_both_readings_of_mcmaster_and_wilhelm_1997(row: Row) -> None:
    tmin, tmax, base = float(row["tmin_c"]), float(row["tmax_c"]), float(row["base_c"])
    assert degree_days(tmin, tmax, base, method="average") == float(row["method1_gdd"])
    assert degree_days(max(tmin, base), max(tmax, base), base, method="average") == float(row["method2_gdd"])


@pytest.mark.parametrize("cutoff", ["horizontal", "vertical", "intermediate"])
@pytest.mark.parametrize("method", FOUR)
def test_a_year_at_esparto_as_the_service_printed_it(method: Method, cutoff: Cutoff) -> None:
    got = degree_days(column(ESPARTO, "tmin_f"), column(ESPARTO, "tmax_f"), 50, 70, method, cutoff)
    most = HALF_A_CENT if cutoff == "horizontal" else 0.01
    np.testing.assert_allclose(got, column(ESPARTO, f"{method}_{cutoff}"), rtol=0, atol=most)


@pytest.mark.parametrize("row", [row for row in HANDBOOK if row["tmin"]], ids=lambda row: f"row {row['row']}")
def test_a_worked_example(row: Row) -> None:
    tmin, tmax, lower, upper = float(row["tmin"]), float(row["tmax"]), float(row["lower"]), limit_of(row)
    method = cast("Method", row["method"])
    if row["method"] == "substitution":  # both readings are lifted to the lower threshold first
        tmin, tmax, method = max(tmin, lower), max(tmax, lower), "average"
    elif row["method"] == "average_tmax_capped":
        method = "average"
    got = degree_days(tmin, tmax, lower, upper, method)
    assert got == pytest.approx(float(row["expected"]), abs=HALF_A_CENT)


@pytest.mark.parametrize("row", [row for row in HANDBOOK if not row["tmin"]], ids=lambda row: f"row {row['row']}")
def test_a_worked_example_of_a_mean(row: Row) -> None:
    mean, base = float(row["mean"]), float(row["lower"])
    above = degree_days(mean, mean, base)
    assert {"mean_above": above, "mean_below": above - (mean - base)}[row["method"]] == float(row["expected"])


@pytest.mark.parametrize("row", rows("degree_days_conditional.csv"), ids=lambda row: f"case {row['case']}")
def test_the_four_case_rule(row: Row) -> None:
    tmin, tmax, base = float(row["tmin_c"]), float(row["tmax_c"]), float(row["base_c"])
    above = degree_days(tmin, tmax, base, method="conditional")
    assert above == pytest.approx(float(row["above"]), abs=0.00005)
    assert above - ((tmin + tmax) / 2 - base) == pytest.approx(float(row["below"]), abs=0.00005)
