"""The quick way through the checks of numbers lets nothing through that the whole rule refuses."""

import math
from decimal import Decimal

import pytest

from inventory.calc.checks import finite, not_negative, positive
from inventory.calc.errors import Impossible

NO_NUMBERS = (math.nan, math.inf, -math.inf, True, False, None, "1", Decimal(1), 1j)


@pytest.mark.parametrize("value", NO_NUMBERS)
@pytest.mark.parametrize("check", [finite, positive, not_negative])
def test_what_is_no_finite_number_is_refused_by_its_name(check, value):
    with pytest.raises(Impossible) as refused:
        check(good=1.0, bad=value)
    assert (refused.value.argument, "finite" in str(refused.value)) == ("bad", True)


@pytest.mark.parametrize("value", [-1, -1.0, 0, 0.0, 1, 1.0, 5e-324, -5e-324, 1e308])
def test_the_sign_is_told_by_whole_numbers_as_by_others(value):
    finite(value=value)
    for check, keeps in ((positive, value > 0), (not_negative, value >= 0)):
        if keeps:
            check(first=2.0, value=value)
        else:
            with pytest.raises(Impossible):
                check(first=2.0, value=value)
