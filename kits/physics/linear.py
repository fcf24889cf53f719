"""Small linear programmes: the least cost of non-negative columns under upper limits on sums of them."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from inventory.calc.quiet_solver import quiet_solver

TOLERANCE = 1e-9
NO_LIMIT = 1e30  # what the solver takes for infinite


@dataclass(frozen=True, slots=True)
class Limit:
    """A sum of columns that must not exceed a number, or must equal it."""

    terms: tuple[float, ...]
    most: float
    exact: bool = False


class LeastCost:
    """A solver kept for many small programmes; not shared between threads."""

    def __init__(self) -> None:
        self._solver = quiet_solver()
        for option, value in (
            ("output_flag", False), ("threads", 1), ("presolve", "off"),
            ("primal_feasibility_tolerance", TOLERANCE), ("dual_feasibility_tolerance", TOLERANCE),
        ):  # fmt: skip
            self._solver.setOptionValue(option, value)

    def solve(
        self, costs: Sequence[float], limits: Sequence[Limit], bounds: Sequence[tuple[float, float]]
    ) -> tuple[float, ...] | None:
        """Values of the columns with the least cost; None where nothing keeps the limits."""
        import highspy  # costs 90 ms, and most commands never solve anything

        if any(low > high for low, high in bounds):
            return None
        self._solver.passModel(_model(costs, limits, bounds))
        self._solver.run()
        if self._solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            return None
        return tuple(self._solver.getSolution().col_value)


def _model(costs: Sequence[float], limits: Sequence[Limit], bounds: Sequence[tuple[float, float]]) -> Any:
    import highspy  # costs 90 ms, and most commands never solve anything

    model = highspy.HighsLp()
    model.num_col_, model.num_row_ = len(costs), len(limits)
    model.col_cost_ = [float(cost) for cost in costs]
    model.col_lower_ = [low for low, _ in bounds]
    model.col_upper_ = [min(high, NO_LIMIT) for _, high in bounds]
    model.row_lower_ = [limit.most if limit.exact else -NO_LIMIT for limit in limits]
    model.row_upper_ = [limit.most for limit in limits]
    matrix = model.a_matrix_
    matrix.format_ = highspy.MatrixFormat.kRowwise
    matrix.start_ = [row * len(costs) for row in range(len(limits) + 1)]
    matrix.index_ = [column for _ in limits for column in range(len(costs))]
    matrix.value_ = [float(term) for limit in limits for term in limit.terms]
    return model
