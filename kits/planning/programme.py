"""The exact integer programme: few columns, costs that are compared level by level, an honest gap."""

import math
from collections.abc import Hashable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from operator import mul
from typing import Any

from inventory.calc.quiet_solver import quiet_solver
from kits.planning.latest import Latest
from kits.planning.one_of_each import Bounded, TooManySteps, best_of_each

SECONDS = 0.1  # what one programme may take before the best answer so far is used
LONGEST_WAIT_S = 1.0  # for the first answer of any kind, on a machine too busy to give one in time
# Columns may be off a whole number by the solver's tolerance; a weight must not turn that into a cent.
SAFE_WEIGHT = 10**8
TOLERANCE = 1e-9

Costs = tuple[int, ...]


class NoAnswerInTime(Exception):
    """The solver found nothing at all, not even a poor answer, in the longest time that a plan may wait."""


class NoAnswer(Exception):
    """No values of the columns keep all rows, however long one looks."""


@dataclass(frozen=True, slots=True)
class Solution:
    """Whole values of all columns; `gap` is 0 when the answer is proved to be the best."""

    values: tuple[int, ...]
    costs: Costs
    gap: float = 0.0

    @property
    def proved(self) -> bool:
        """Whether no better answer exists."""
        return self.gap == 0.0


@dataclass(slots=True)
class _Row:
    terms: Mapping[int, float]
    lower: float
    upper: float


@dataclass(slots=True)
class Programme:
    """Whole-numbered columns with costs, rows that bound sums of them; `solve` makes the costs least.

    Every cost is a tuple of whole numbers: a lower first number wins whatever the second ones are.
    """

    _costs: list[Costs] = field(default_factory=list)
    _upper: list[int] = field(default_factory=list)
    _rows: list[_Row] = field(default_factory=list)
    _grouped: list[Sequence[int]] = field(default_factory=list)

    def column(self, costs: Costs, *, upper: int = 1) -> int:
        """Add a column from 0 to `upper` and return its number."""
        self._costs.append(costs)
        self._upper.append(upper)
        return len(self._costs) - 1

    def row(self, terms: Mapping[int, float], *, lower: float = -math.inf, upper: float = math.inf) -> None:
        """Bound a sum of columns."""
        self._rows.append(_Row(terms, lower, upper))

    def exactly_one(self, columns: Sequence[int]) -> None:
        """Make exactly one of these columns 1."""
        self.row(dict.fromkeys(columns, 1.0), lower=1.0, upper=1.0)
        self._grouped.append(columns)

    def solve(self, *, seconds: float | None = None) -> Solution:
        """The best answer: proved, or the best found in the time (SECONDS) with the gap that is left.

        A programme of one column from each group is searched; others, and large ones, are the solver's.

        Raises: NoAnswerInTime when not even a poor answer was found, NoAnswer when there is none.
        A programme that was solved before has the answer that was proved then.
        """
        name = self._named()
        if (known := _PROVED.get(name)) is not None:
            return known
        found = self._searched() or self._solved(SECONDS if seconds is None else seconds)
        if found.proved:
            _PROVED.keep(name, found)
        return found

    def _named(self) -> Hashable:
        """Equal for programmes that have the same answers."""
        rows = tuple((tuple(row.terms.items()), row.lower, row.upper) for row in self._rows)
        return tuple(self._costs), tuple(self._upper), rows

    def _searched(self) -> Solution | None:
        """The proved answer of a programme that takes one column of each group; None where it is another."""
        grouped = sorted(column for columns in self._grouped for column in columns)
        if not grouped or grouped != list(range(len(self._costs))) or max(self._upper) > 1:
            return None
        weights = self._exact_weights()
        costs = [sum(map(mul, weights, of_column)) if any(of_column) else 0 for of_column in self._costs]
        try:
            found = best_of_each(self._grouped, costs, [*self._bounds()])
        except TooManySteps:
            return None
        if found is None:
            raise NoAnswer(f"No set of {len(costs)} columns keeps all {len(self._rows)} rows.")
        chosen = frozenset(found)
        answer = tuple(int(column in chosen) for column in range(len(costs)))
        return Solution(answer, tuple(map(sum, zip(*(self._costs[column] for column in found), strict=True))))

    def _exact_weights(self) -> list[int]:
        """One number for each level, so that no sum of a later level outweighs an earlier one."""
        weights, heavier = list[int](), 1
        for of_level in reversed(list(zip(*self._costs, strict=True))):
            weights.insert(0, heavier)
            if any(of_level):
                own = ([of_level[column] for column in columns] for columns in self._grouped)
                heavier *= sum(max(costs) - min(costs) for costs in own) + 1
        return weights

    def _bounds(self) -> Iterator[Bounded]:
        for row in self._rows:
            if row.upper < math.inf:
                yield row.terms, row.upper
            if row.lower > -math.inf:
                yield {column: -weight for column, weight in row.terms.items()}, -row.lower

    def _solved(self, limit: float) -> Solution:
        rows = list(self._rows)
        stages = self._stages()
        answer: Sequence[int] = ()
        gap = 0.0
        for levels, weights in stages:
            costs = [sum(w * c[level] for level, w in zip(levels, weights, strict=True)) for c in self._costs]
            try:
                answer, stage_gap = _run(costs, self._upper, rows, seconds=limit / len(stages))
            except NoAnswerInTime:
                if not answer:
                    raise
                gap = 1.0  # the levels before this one are settled, nothing is known of the rest
                break
            gap = max(gap, stage_gap)
            rows = rows + [self._no_worse(level, answer) for level in levels]
        return Solution(tuple(answer), self._total(answer), gap)

    def _no_worse(self, level: int, answer: Sequence[int]) -> _Row:
        terms = {column: float(costs[level]) for column, costs in enumerate(self._costs) if costs[level]}
        reached = sum(costs[level] * value for costs, value in zip(self._costs, answer, strict=True))
        return _Row(terms, -math.inf, reached + 0.5)

    def _total(self, answer: Sequence[int]) -> Costs:
        depth = len(self._costs[0]) if self._costs else 0
        pairs = list(zip(self._costs, answer, strict=True))
        return tuple(sum(costs[level] * value for costs, value in pairs) for level in range(depth))

    def _stages(self) -> list[tuple[list[int], list[float]]]:
        """Levels that can share one solve without losing a cent; nearly always all of them."""
        depth = len(self._costs[0]) if self._costs else 0
        spans = [self._span(level) for level in range(depth)]
        stages: list[list[int]] = [[]]
        for level in range(depth):
            if stages[-1] and math.prod(spans[at] + 1 for at in (*stages[-1], level)) > SAFE_WEIGHT:
                stages.append([])
            stages[-1].append(level)
        return [(levels, self._weights(levels, spans)) for levels in stages]

    def _weights(self, levels: Sequence[int], spans: Sequence[int]) -> list[float]:
        weights: list[float] = []
        heavier = 1
        for level in reversed(levels):
            weights.insert(0, heavier / self._step(level))
            heavier *= spans[level] + 1
        return weights

    def _step(self, level: int) -> int:
        """The greatest common divisor of a level's costs."""
        return math.gcd(*(costs[level] for costs in self._costs)) or 1

    def _span(self, level: int) -> int:
        """How far the total of a level can move, in its own steps."""
        grouped = {column for columns in self._grouped for column in columns}
        span = sum(
            max(self._costs[c][level] for c in columns) - min(self._costs[c][level] for c in columns)
            for columns in self._grouped
        )
        loose = (column for column in range(len(self._costs)) if column not in grouped)
        span += sum(abs(self._costs[column][level]) * self._upper[column] for column in loose)
        return span // self._step(level)


_PROVED = Latest[Hashable, Solution](256)  # changed builds mostly leave the coupled items as they were


def _run(
    costs: Sequence[float], upper: Sequence[int], rows: Sequence[_Row], *, seconds: float
) -> tuple[list[int], float]:
    """Solve once; when the time was too short for any answer, once more with patience."""
    for limit in (seconds, LONGEST_WAIT_S):
        solver = _loaded(costs, upper, rows, seconds=limit)
        solver.run()
        if _is_impossible(solver):
            raise NoAnswer(f"Nothing keeps all {len(rows)} rows of a programme of {len(costs)} columns.")
        gap = _gap(solver)
        if gap is not None:
            return [round(value) for value in solver.getSolution().col_value], gap
    raise NoAnswerInTime(f"No answer in {LONGEST_WAIT_S:g} s for a programme of {len(costs)} columns.")


def _is_impossible(solver: Any) -> bool:
    """Whether it is proved that nothing keeps the rows; all columns are bounded, so nothing is unbounded."""
    import highspy  # costs 90 ms, and most commands never solve anything

    status = highspy.HighsModelStatus
    return solver.getModelStatus() in {status.kInfeasible, status.kUnboundedOrInfeasible}


def _gap(solver: Any) -> float | None:
    """0 for a proved answer, the relative gap for a found one, None for nothing."""
    import highspy  # costs 90 ms, and most commands never solve anything

    if solver.getModelStatus() == highspy.HighsModelStatus.kOptimal:
        return 0.0
    info = solver.getInfo()
    found = info.primal_solution_status == int(highspy.SolutionStatus.kSolutionStatusFeasible)
    return max(float(info.mip_gap), TOLERANCE) if found else None


def _loaded(costs: Sequence[float], upper: Sequence[int], rows: Sequence[_Row], *, seconds: float) -> Any:
    import highspy  # costs 90 ms, and most commands never solve anything

    solver = quiet_solver()
    for name, value in (
        ("output_flag", False), ("threads", 1), ("time_limit", seconds),
        ("mip_rel_gap", 0.0), ("mip_abs_gap", 0.0),
        ("mip_feasibility_tolerance", TOLERANCE), ("primal_feasibility_tolerance", TOLERANCE),
    ):  # fmt: skip
        solver.setOptionValue(name, value)
    model = highspy.HighsLp()
    model.num_col_, model.num_row_ = len(costs), len(rows)
    model.col_cost_ = list(costs)
    model.col_lower_, model.col_upper_ = [0.0] * len(costs), [float(bound) for bound in upper]
    model.row_lower_ = [row.lower for row in rows]
    model.row_upper_ = [row.upper for row in rows]
    model.integrality_ = [highspy.HighsVarType.kInteger] * len(costs)
    _fill(model.a_matrix_, rows, highspy.MatrixFormat.kRowwise)
    solver.passModel(model)
    return solver


def _fill(matrix: Any, rows: Sequence[_Row], row_wise: Any) -> None:
    starts, index, values = [0], list[int](), list[float]()
    for row in rows:
        index.extend(row.terms)
        values.extend(float(value) for value in row.terms.values())
        starts.append(len(index))
    matrix.format_ = row_wise
    matrix.start_, matrix.index_, matrix.value_ = starts, index, values
