from datetime import UTC, datetime, timedelta
from itertools import pairwise

from shop.calc.stock_curve import HEIGHT, WIDTH, curve
from shop.calc.versions import line_changes, spec_changes

NOW = datetime(2026, 11, 25, tzinfo=UTC)


def drawn(on_hand, *moves):
    ago = [(NOW - timedelta(days=days), quantity) for days, quantity in moves]
    return curve(on_hand, ago, now=NOW, days=90, unit="bag")


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
    assert drawn(4, (20, 4)).first_day == NOW - timedelta(days=21)
    assert drawn(4, (20, -4)).first_day == NOW - timedelta(days=90)


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
    drawn = curve(6, [(NOW, 6)], now=NOW, days=90, unit="bag")
    assert (drawn.highest, drawn.first_day) == (6, NOW)
