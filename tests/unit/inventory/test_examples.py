from datetime import date
from decimal import Decimal

from inventory.calc import workings
from inventory.calc.examples import example
from inventory.calc.packs import cheapest_cover


def doubled(amount: Decimal, since: date, names: list[str]) -> Decimal:
    """Twice as much.

    Example:
        >>> day = date(2026, 5, 1)
        >>> print(2 * doubled(Decimal("1.5"), names=["a"], since=day))
        6.0
        >>> doubled(Decimal("9"), day, [])
        Decimal('18')
    """
    return 2 * amount


def idle(amount: float) -> float:
    """Show nothing.

    Example:
        >>> round(2.5)
        2
    """
    return amount


def test_the_first_call_of_an_example_is_taken_with_names_and_as_plain_values():
    assert example(workings.of(doubled)) == {"amount": 1.5, "since": "2026-05-01", "names": ["a"]}


def test_the_example_of_a_calculation_of_the_house_gives_its_arguments():
    taken = example(workings.of(cheapest_cover))
    assert (taken["need_l"], [pack["litres"] for pack in taken["packs"]]) == (47, [4, 8, 20])


def test_an_example_that_never_calls_its_calculation_gives_nothing():
    assert example(workings.of(idle)) == {}
