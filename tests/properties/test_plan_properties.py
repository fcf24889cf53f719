"""Every valid spec has a plan: nothing negative, volumes add up, status and missing agree, plain JSON."""

import json
from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kits.planning.registry import ROLES
from tests.build_specs import ITEMS, specs
from tests.full_shelf import SHELF, plan_of

STOCKS = st.dictionaries(st.sampled_from(ITEMS), st.integers(0, 5)).map(
    lambda stock: dict.fromkeys(ITEMS, 3) | stock
)
SETTLE = {"drainage": 0.03, "substrate": 0.125, "litter": 0.40}


def checked(data, stock):
    plan = plan_of(data, stock=stock)
    _lines(plan, stock)
    _volumes(plan)
    _roles(plan, data)
    _json(plan, data)
    return plan


def _lines(plan, stock):
    left = Counter(stock)
    for line in plan.lines:
        assert line.quantity > 0
        assert line.total_cents == line.quantity * line.each_cents
        free = max(0, left[line.item])
        assert (line.free, line.missing) == (free, line.quantity - min(free, line.quantity))
        assert line.status == ("free" if not line.missing else "short" if line.free else "none")
        left[line.item] -= line.quantity
    assert plan.complete == (not plan.unmet and not any(line.missing for line in plan.lines))


def _volumes(plan):
    figures = plan.figures
    for layer, settle in SETTLE.items():
        to_buy = figures.get(f"{layer}_to_buy_l")
        bought = sum(
            line.quantity * SHELF.offer(layer, line.item).figures["litres"]
            for line in plan.lines
            if line.role == layer
        )
        if to_buy is None:
            assert bought == 0
            continue
        assert to_buy <= figures[f"{layer}_l"] * (1 + settle) + 0.001
        if bought:
            assert bought >= to_buy - 0.002
    amounts = {working.figure for working in plan.workings if working.unit != "C"}
    assert all(figures[name] >= 0 for name in amounts & figures.keys() if isinstance(figures[name], float))


def _roles(plan, data):
    kept_out = {*data["own"], *data["without"]}
    filled = {line.role for line in plan.lines} | {unmet.role for unmet in plan.unmet}
    assert not filled & kept_out
    order = [list(ROLES).index(line.role) for line in plan.lines if line.role != "extra"]
    assert order == sorted(order)


def _json(plan, data):
    as_json = plan.as_json()
    assert json.loads(json.dumps(as_json, allow_nan=False))["spec"] == json.loads(json.dumps(data))
    shown = {working["figure"]: working["value"] for working in as_json["workings"]}
    assert all(shown[figure] == value for figure, value in as_json["figures"].items())
    assert all(caution["level"] in ("stop", "warning", "note") for caution in as_json["cautions"])


@settings(max_examples=250, deadline=None)
@given(specs(), STOCKS)
def test_every_valid_spec_has_a_sound_plan(data, stock):
    checked(data, stock)


@settings(max_examples=40, deadline=None)
@given(specs(), STOCKS)
def test_the_same_question_has_the_same_answer(data, stock):
    assert plan_of(data, stock=stock).as_json() == plan_of(data, stock=stock).as_json()


@settings(max_examples=60, deadline=None)
@given(specs(), STOCKS, st.randoms(use_true_random=False))
def test_a_line_that_is_left_out_by_itself_is_gone_and_nothing_stands_in_for_it(data, stock, chance):
    whole = plan_of(data, stock=stock)
    lines = [line for line in whole.lines if line.role != "extra"]
    if not lines:
        return
    gone = chance.choice(lines)
    data = {**data, "without": [*data["without"], {"role": gone.role, "item": gone.item}]}
    plan = plan_of(data, stock=stock)
    assert (gone.role, gone.item) not in {(line.role, line.item) for line in plan.lines}
    of_role = [line for line in plan.lines if line.role == gone.role]
    assert all(gone.item not in dict(other.items) for line in of_role for other in line.substitutes)
    _lines(plan, stock)
    _json(plan, data)


@pytest.mark.long
@settings(max_examples=5000, deadline=None)
@given(specs(), STOCKS)
def test_thousands_of_valid_specs_have_sound_plans(data, stock):
    checked(data, stock)
