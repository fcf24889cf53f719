"""The best pick of one column from each group, by a search that tries the cheapest first and proves the rest.

Most programmes of a plan are of this kind: for every need one of its items, or none. What is dear in them is
the solver itself, so they are searched here; few of their sets are ever looked at.
"""

from collections.abc import Mapping, Sequence

ROUNDING = 1e-9  # by which a sum may go beyond its bound
MOST_STEPS = 20_000  # columns that are tried, some 10 ms; beyond it the solver is asked

Columns = tuple[int, ...]
Bounded = tuple[Mapping[int, float], float]  # the terms of a sum, and the most that it may be


class TooManySteps(Exception):
    """The search was given up: there are too many sets to look at."""


class _Search:
    """Columns of each group by what they cost beyond its cheapest, and what each takes of every bound."""

    def __init__(
        self, groups: Sequence[Sequence[int]], costs: Sequence[int], rows: Sequence[Bounded]
    ) -> None:
        self.least = sum(min(costs[column] for column in group) for group in groups)
        self.by_cost = [_by_cost(group, costs) for group in groups]
        self.takes: list[list[tuple[int, float]]] = [[] for _ in costs]
        group_of = {column: group for group in groups for column in group}
        self.room = [self._bound(number, row, group_of) for number, row in enumerate(rows)]
        self.chosen = [0] * len(groups)
        self.best: Columns | None = None
        self.best_cost = 0
        self.steps = 0

    def _bound(self, number: int, row: Bounded, group_of: Mapping[int, Sequence[int]]) -> float:
        """What is left of a bound when every group takes as little of it as it can."""
        terms, room = row
        met = {group_of[column][0]: group_of[column] for column in terms}
        for group in met.values():
            weights = [terms.get(column, 0.0) for column in group]
            least = min(weights)
            room -= least
            for column, weight in zip(group, weights, strict=True):
                if weight > least:
                    self.takes[column].append((number, weight - least))
        return room + ROUNDING

    def go(self, at: int, cost: int, room: list[float]) -> None:
        """Look at all sets that begin with what is chosen before this group."""
        if at == len(self.by_cost):
            self.best, self.best_cost = tuple(self.chosen), cost
            return
        for more, column in self.by_cost[at]:
            if self.best is not None and cost + more > self.best_cost:
                return
            self.steps += 1
            if self.steps > MOST_STEPS:
                raise TooManySteps
            takes = self.takes[column]
            if all(room[row] >= weight for row, weight in takes):
                self.chosen[at] = column
                self.go(at + 1, cost + more, _less(room, takes) if takes else room)


def best_of_each(
    groups: Sequence[Sequence[int]], costs: Sequence[int], rows: Sequence[Bounded]
) -> Columns | None:
    """One column of each group at the least total cost that keeps all bounds; None where no set keeps them.

    Of sets at equal cost it is the last in the order of their columns by cost, the first group first: an
    earlier need gives way to a later one.

    Raises: TooManySteps when that could not be proved in MOST_STEPS.

    Example:
        >>> best_of_each([(0, 1), (2, 3)], [1, 2, 1, 4], [({0: 1.0, 2: 1.0}, 1.0)])
        (1, 2)
        >>> best_of_each([(0,)], [1], [({0: 1.0}, 0.0)]) is None
        True
    """
    search = _Search(groups, costs, rows)
    if all(left >= 0 for left in search.room):
        search.go(0, search.least, search.room)
    return search.best


def _by_cost(group: Sequence[int], costs: Sequence[int]) -> list[tuple[int, int]]:
    least = min(costs[column] for column in group)
    return sorted((costs[column] - least, column) for column in group)


def _less(room: list[float], takes: Sequence[tuple[int, float]]) -> list[float]:
    left = room.copy()
    for row, weight in takes:
        left[row] -= weight
    return left
