from datetime import UTC, datetime, timedelta
from itertools import pairwise

import pytest

from shop.calc.stock_curve import HEIGHT, WIDTH, Amount, curve
from shop.calc.versions import line_changes, spec_changes

NOW = datetime(2026, 11, 25, tzinfo=UTC)


def ago(*changes):
    return [(NOW - timedelta(days=days), quantity) for days, quantity in changes]


def drawn(on_hand, *moves, held=0, holds=()):
    promised = Amount(held, ago(*holds))
    return curve(Amount(on_hand, ago(*moves)), held=promised, now=NOW, days=90, unit="bag")


def points(path):
    pairs = [pair.split() for pair in path.replace("M", "").split("L")]
    return [(float(x), float(y)) for x, y in pairs]


def test_levels_are_worked_out_backwards_from_what_is_there():
    found = drawn(5, (10, -3), (20, 2))
    assert found.sentence == "Stock over the last 90 days: from 6 to 5 bag, at least 5, at most 8."
    assert found.highest == 8


def test_a_change_before_the_window_is_left_out():
    assert drawn(5, (91, 5)).sentence.endswith("from 5 to 5 bag, at least 5, at most 5.")


def test_the_line_goes_in_steps_from_edge_to_edge_and_stays_inside():
    line = points(drawn(5, (10, -3), (20, 2)).step)
    assert (line[0][0], line[-1][0]) == (0, WIDTH)
    assert all(a[0] == b[0] or a[1] == b[1] for a, b in pairwise(line))
    assert all(0 <= y <= HEIGHT for _, y in line)


def test_nothing_at_all_is_a_line_on_the_ground():
    assert {y for _, y in points(drawn(0).step)} == {98.0}


def test_an_item_that_came_lately_is_drawn_from_when_it_came():
    young, old = drawn(4, (20, 4)), drawn(4, (20, -4))
    assert (young.first, young.days) == (NOW - timedelta(days=21), None)
    assert (old.first, old.days) == (NOW - timedelta(days=90), 90)
    assert young.middle == NOW - timedelta(days=10.5)
    assert "since the first came" in young.sentence


@pytest.mark.parametrize(("days", "is_by_the_hour"), [(0.1, True), (3, True), (5, False)])
def test_a_drawing_of_a_few_days_names_times(days, is_by_the_hour):
    assert drawn(4, (days, 4)).is_by_the_hour is is_by_the_hour


def test_what_is_held_is_an_area_under_the_stock():
    found = drawn(8, (40, 8), held=2, holds=[(30, 4), (10, -2)])
    heights = {y for _, y in points(found.held.removesuffix(" Z"))}
    assert heights == {98.0, 51.0, 74.5}
    assert found.sentence.endswith("at most 8; 2 are held now.")


def test_where_nothing_was_held_nothing_is_drawn_of_it():
    assert drawn(8, (40, 8), held=0).held == ""


def test_more_held_than_is_there_stays_inside():
    found = drawn(2, (40, 2), held=5, holds=[(30, 5)])
    assert found.highest == 5
    assert all(0 <= y <= HEIGHT for _, y in points(found.held.removesuffix(" Z")))


def test_an_item_on_two_lines_is_compared_as_one():
    line = {"item": "BAG", "name": "bag", "quantity": 2, "total": "9.00"}
    assert line_changes({"lines": [line, line]}, {"lines": [{**line, "quantity": 4, "total": "18.00"}]}) == []


def test_what_the_spec_says_anew_changed_and_no_more_is_told():
    before = {"style": "desert", "animals": [{"species": "a", "count": 1}], "own": ["hide"]}
    after = {"animals": [{"species": "a", "count": 2}], "own": ["hide"], "planting": "sparse"}
    assert spec_changes(before, after) == [
        ("style", "desert", ""),
        ("animals 1, count", "1", "2"),
        ("planting", "", "sparse"),
    ]


def test_goods_that_come_at_this_very_moment_are_a_step_and_no_failure():
    found = drawn(6, (0, 6))
    assert (found.highest, found.first) == (6, NOW)
