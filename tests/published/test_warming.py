"""The steady air of a box against a balance done by hand."""

import doctest

import pytest

from inventory.calc.errors import Impossible
from kits.physics import warming

# By hand: the worked glass set-up of the heat tests loses 5.52313 W/K (ISO 6946); 40 W above 22 C.
LOSS_W_K, HEAT_W, ROOM_C, AIR_C = 5.52313, 40.0, 22.0, 29.2423


def test_the_worked_set_up_with_40_w_of_lamps():
    assert warming.steady_air_c(ROOM_C, HEAT_W, LOSS_W_K) == pytest.approx(AIR_C, abs=5e-5)


def test_the_warmest_room_is_the_same_balance_turned_round():
    assert warming.warmest_room_c(AIR_C, HEAT_W, LOSS_W_K) == pytest.approx(ROOM_C, abs=5e-5)
    assert warming.warmest_room_c(30, 0, LOSS_W_K) == 30


@pytest.mark.parametrize(("heat_w", "loss_w_k", "named"), [(-1, 5, "heat_w"), (10, 0, "loss_w_k")])
def test_impossible_balances_are_refused_by_name(heat_w, loss_w_k, named):
    for balance in (warming.steady_air_c, warming.warmest_room_c):
        with pytest.raises(Impossible) as refused:
            balance(21, heat_w, loss_w_k)
        assert refused.value.argument == named


def test_the_examples_in_the_docstrings_run():
    assert doctest.testmod(warming).failed == 0
