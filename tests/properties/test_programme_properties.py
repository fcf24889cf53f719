"""The search finds what the solver finds."""

from hypothesis import given
from hypothesis import strategies as st

from kits.planning.programme import NoAnswer, Programme, Solution


@given(data=st.data())
def test_the_search_finds_what_the_solver_finds(data):
    made = Programme()
    cost = st.tuples(*[st.integers(0, 3)] * 3)
    groups = data.draw(st.lists(st.lists(cost, min_size=1, max_size=4), min_size=1, max_size=4))
    for costs in groups:
        made.exactly_one([made.column(one) for one in costs])
    weights = st.dictionaries(st.integers(0, sum(map(len, groups)) - 1), st.integers(-2, 3), min_size=1)
    for terms in data.draw(st.lists(weights, max_size=4)):
        made.row({at: float(weight) for at, weight in terms.items()}, upper=1.0)
    searched, solved = (answer_of(way) for way in (made._searched, lambda: made._solved(10.0)))
    assert searched is not None
    assert searched.costs == solved.costs


def answer_of(way):
    try:
        return way()
    except NoAnswer:
        return Solution((), ())
