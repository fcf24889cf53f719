from decimal import Decimal

import pytest

from inventory.calc.errors import Impossible
from inventory.calc.money import shared_out, sums


def test_shares_of_nothing_to_weigh_by_are_alike():
    assert shared_out(5, [0, 0]) == [3, 2]


@pytest.mark.parametrize(("total", "weights"), [(1, []), (1, [-1, 2])])
def test_shares_without_anybody_to_bear_them_are_refused(total, weights):
    with pytest.raises(Impossible):
        shared_out(total, weights)


def test_each_rate_is_taxed_once_on_its_own_base():
    found = sums([(149, "8.25"), (1000, "20"), (149, "8.25")])
    assert found.tax_by_rate == {Decimal("8.25"): 25, Decimal("20"): 200}
