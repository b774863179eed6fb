"""The only module that knows HiGHS: linear and integer programmes, solved with one thread and a fixed seed."""

import math
from array import array
from collections.abc import Callable, Iterable, Sequence
from typing import Any

from msgspec import Struct, field

from scheduler.planner.bitgrid import ones_of

INFINITE = float("inf")
SETTINGS: tuple[tuple[str, Any], ...] = (("output_flag", False), ("threads", 1), ("random_seed", 0))
LINEAR: tuple[tuple[str, Any], ...] = (("presolve", "off"), ("simplex_dual_edge_weight_strategy", 1))
"""A linear run of a cohort or a component takes less time than its own presolve (devex prices for large ones)."""
WATCHED = 5_000
"""Columns: a smaller linear run ends sooner than a keeper could stop it, and asking takes longer than its steps."""


class Programme(Struct):
    """Minimise cost over columns >= 0 under two-sided rows; `whole` columns are whole numbers in integer runs."""

    cost: "array[float]" = field(default_factory=lambda: array("d"))
    high: "array[float]" = field(default_factory=lambda: array("d"))
    whole: list[bool] = field(default_factory=list)
    row_low: "array[float]" = field(default_factory=lambda: array("d"))
    row_high: "array[float]" = field(default_factory=lambda: array("d"))
    starts: "array[int]" = field(default_factory=lambda: array("i", [0]))
    indices: "array[int]" = field(default_factory=lambda: array("i"))
    values: "array[float]" = field(default_factory=lambda: array("d"))

    def column(self, cost: float = 0, high: float = INFINITE, whole: bool = False) -> int:
        """Adds a column and gives its number."""
        self.cost.append(cost)
        self.high.append(high)
        self.whole.append(whole)
        return len(self.cost) - 1

    def row(self, entries: Iterable[tuple[int, float]], low: float = -INFINITE, high: float = INFINITE) -> int:
        """Adds a row of (column, factor) and gives its number."""
        for index, value in entries:
            self.indices.append(index)
            self.values.append(value)
        self.starts.append(len(self.indices))
        self.row_low.append(low)
        self.row_high.append(high)
        return len(self.row_low) - 1

    def sums(
        self,
        masks: Sequence[int],
        first: int,
        low: float = -INFINITE,
        high: float | Sequence[float] = INFINITE,
        also: Sequence[int] = (),
        factor: float = 1.0,
    ) -> range:
        """Adds for each mask a row: the sum of the columns from `first` on at its ones; gives the numbers of the rows.

        also: by row one more column, with a factor. high: of all rows, or of each.
        """
        import numpy as np

        lengths, ones = ones_of(masks)
        values = np.ones(len(ones))
        if also:
            ends = np.cumsum(lengths)
            ones, values = np.insert(ones, ends, np.array(also) - first), np.insert(values, ends, factor)
            lengths = lengths + 1
        number, start = len(self.row_low), len(self.indices)
        self.indices.frombytes((ones + first).astype(np.int32).tobytes())
        self.values.frombytes(values.tobytes())
        self.starts.frombytes((np.cumsum(lengths) + start).astype(np.int32).tobytes())
        self.row_low.extend([low] * len(masks))
        self.row_high.extend(high if isinstance(high, Sequence) else [high] * len(masks))
        return range(number, len(self.row_low))


class Outcome(Struct, frozen=True):
    """What a run gave. values empty: no point found. bound: no point costs less. duals: of rows, linear runs only."""

    infeasible: bool
    optimal: bool
    values: list[float]
    duals: list[float]
    bound: float


def run(
    programme: Programme,
    out_of_time: Callable[[], bool],
    whole: bool = True,
    absolute_gap: float = 0.5,
) -> Outcome:
    """Solves a programme; `whole` False leaves out that columns are whole.

    absolute_gap: upper less lower at which an integer run ends. Ends early where out_of_time says so. No start is
    given: HiGHS completes one by a programme of its own, and then tells the sums and bounds of that one.
    """
    if out_of_time():
        return Outcome(False, False, [], [], -INFINITE)
    import highspy

    solver = highspy._core._Highs()  # highspy.Highs prints its banner before it can be told not to
    for option, value in [*SETTINGS, *(_whole(absolute_gap) if whole else LINEAR)]:
        solver.setOptionValue(option, value)
    solver.passModel(_model(programme, whole))
    if whole or len(programme.cost) > WATCHED:
        _watch(solver, out_of_time)
    solver.run()
    return _outcome(solver, whole)


def _whole(absolute_gap: float) -> list[tuple[str, Any]]:
    """Settings of an integer run; no programmes within it, since good plans are known before it is asked."""
    return [
        ("mip_rel_gap", 0.0),
        ("mip_abs_gap", absolute_gap),
        *((f"mip_heuristic_run_{name}", False) for name in ("root_reduced_cost", "rins", "rens")),
    ]


def _model(programme: Programme, whole: bool) -> Any:
    import highspy
    import numpy as np

    model = highspy.HighsLp()
    model.num_col_ = len(programme.cost)
    model.num_row_ = len(programme.row_low)
    model.col_cost_ = np.frombuffer(programme.cost)
    model.col_lower_ = np.zeros(len(programme.cost))
    model.col_upper_ = np.frombuffer(programme.high)
    model.row_lower_ = np.frombuffer(programme.row_low)
    model.row_upper_ = np.frombuffer(programme.row_high)
    model.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    model.a_matrix_.start_ = np.frombuffer(programme.starts, dtype=np.int32)
    model.a_matrix_.index_ = np.frombuffer(programme.indices, dtype=np.int32)
    model.a_matrix_.value_ = np.frombuffer(programme.values)
    if whole:
        kinds = highspy.HighsVarType
        model.integrality_ = [kinds.kInteger if w else kinds.kContinuous for w in programme.whole]
    return model


def _watch(solver: Any, out_of_time: Callable[[], bool]) -> None:
    """Has HiGHS stop where the time is up."""
    from highspy import cb

    def stop(kind: Any, message: str, given: Any, wanted: Any, data: Any) -> None:
        if wanted is not None and out_of_time():
            wanted.user_interrupt = True

    solver.setCallback(stop, None)
    solver.startCallback(cb.HighsCallbackType.kCallbackMipInterrupt)
    solver.startCallback(cb.HighsCallbackType.kCallbackSimplexInterrupt)


def _outcome(solver: Any, whole: bool) -> Outcome:
    import highspy

    status = solver.getModelStatus()
    states = highspy.HighsModelStatus
    optimal = status == states.kOptimal
    info = solver.getInfo()
    solution = solver.getSolution()
    has_point = info.primal_solution_status == 2 and bool(solution.value_valid)
    values = list(solution.col_value) if has_point else []
    bound = info.objective_function_value if optimal else (info.mip_dual_bound if whole else -INFINITE)
    return Outcome(
        infeasible=status in (states.kInfeasible, states.kUnboundedOrInfeasible),
        optimal=optimal,
        values=values,
        duals=list(solution.row_dual) if optimal and not whole else [],
        bound=bound,
    )


def lowest(bound: float) -> int:
    """The least whole number that a whole cost bounded so can have."""
    return math.ceil(bound - 1e-4)
