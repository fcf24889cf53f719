import pytest

from inventory.calc.errors import Impossible
from inventory.calc.packs import Pack, cheapest_cover, cover


def test_with_nothing_free_the_cheapest_bags_are_taken():
    assert cover(15_000, [Pack("small", 5000, 900, 0), Pack("big", 20_000, 1500, 0)]).counts == {"big": 1}


def test_free_bags_that_a_bought_one_makes_needless_stay_on_the_shelf():
    assert cover(15_000, [Pack("small", 5000, 900, 1), Pack("big", 20_000, 1500, 0)]).counts == {"big": 1}


def test_keys_too_large_for_machine_integers_are_still_exact():
    dear = [Pack("a", 3, 10**15, 0), Pack("b", 5, 10**15 + 1, 0)]
    assert cover(1000, dear).counts == {"b": 200}


def test_what_is_free_is_used_before_a_cheaper_bag_that_is_not():
    assert cover(20_000, [Pack("small", 5000, 900, 4), Pack("big", 20_000, 1500, 0)]).counts == {"small": 4}


def test_a_need_of_nothing_takes_nothing():
    assert cover(0, [Pack("a", 4000, 649, 1)]).counts == {}


def test_five_thousand_litres_of_one_litre_bags_are_covered():
    found = cover(5_000_000, [Pack("a", 1000, 649, 100)])
    assert (found.counts, found.missing_millilitres) == ({"a": 5000}, 4_900_000)


def test_litres_and_prices_are_taken_as_written_not_as_binary_fractions():
    found = cheapest_cover(0.3, [{"code": "a", "litres": 0.1, "price": 0.1}])
    assert found == {"cost": "0.30", "litres": 0.3, "counts": {"a": 3}}


@pytest.mark.parametrize(
    ("need", "packs", "argument"),
    [
        (-1, [{"code": "a", "litres": 1, "price": 1}], "need_l"),
        (1e9, [{"code": "a", "litres": 0.001, "price": 1}], "need_l"),
        (1, [], "packs"),
        (1, [{"code": "a", "litres": 0, "price": 1}], "packs"),
        (1, [{"code": "a", "litres": 1, "price": "cheap"}], "packs"),
        (1, [{"code": "a", "litres": 1, "price": -1}], "packs"),
        (1, [{"code": "a", "litres": 1, "price": "1E-20"}], "packs"),
        (1, [{"code": "a", "litres": 1, "price": 1, "stock": -1}], "packs"),
        (1, [{"code": "a", "litres": 1, "price": 1}, {"code": "a", "litres": 2, "price": 1}], "packs"),
    ],
)
def test_impossible_packs_and_needs_are_refused_by_name(need, packs, argument):
    with pytest.raises(Impossible) as refusal:
        cheapest_cover(need, packs)
    assert refusal.value.argument == argument
