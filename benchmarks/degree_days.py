"""How many farm-days of degree-days a second on one core; wanted: 5 million by single sine.

`python -m benchmarks.degree_days` prints a line for each method. The aim is this program's own, without source.
"""

import time
from typing import get_args

import numpy as np

from scheduler.risk import Method, degree_days

FARMS, DAYS, RUNS = 300, 10_950, 5
WANTED = 5e6


def main() -> None:
    """Measures every method, with and without an upper threshold: the best of some runs."""
    draw = np.random.default_rng(2027)
    low = draw.normal(7, 6, (FARMS, DAYS))
    high = low + draw.gamma(4, 2, low.shape)
    methods: tuple[Method, ...] = get_args(Method)
    for method in methods:
        for upper in (None, 30.0):
            seconds = min(_seconds(low, high, upper, method) for _ in range(RUNS))
            slow = "  slow" if method == "single_sine" and low.size / seconds < WANTED else ""
            print(f"{method:16} upper {upper!s:5} {low.size / seconds / 1e6:7.1f} million days a second{slow}")


def _seconds(low: "np.ndarray", high: "np.ndarray", upper: float | None, method: Method) -> float:
    start = time.perf_counter()
    degree_days(low, high, 9.07, upper, method)
    return time.perf_counter() - start


if __name__ == "__main__":
    main()
