import pytest

from inventory.calc.codes import CHECK_LETTERS, numbered, parse_number
from inventory.calc.errors import Impossible
from inventory.calc.gtin import gtin14
from inventory.calc.lines import Line, merged


def test_the_check_letters_leave_out_what_looks_like_a_digit():
    assert len(CHECK_LETTERS) == len(set(CHECK_LETTERS)) == 23
    assert not set("IOQ") & set(CHECK_LETTERS)


@pytest.mark.parametrize(
    "text", ["", "K", "1042", "K1042", "01042H", "1042K", "-3D", "10 42H", "\u0661\u0660H"]
)
def test_what_is_not_a_number_is_refused(text):
    with pytest.raises(Impossible):
        parse_number(text)


def test_a_counter_below_one_has_no_number():
    with pytest.raises(Impossible):
        numbered(0)


@pytest.mark.parametrize("text", ["bag-12", "123", "", "12345678901234567890"])
def test_a_code_that_is_no_trade_item_number_has_no_fourteen_digits(text):
    assert gtin14(text) == ""


def test_a_trade_item_number_with_a_wrong_check_digit_is_refused():
    with pytest.raises(Impossible):
        gtin14("6291041500214")


def test_lines_of_one_item_add_up_in_order_of_first_appearance():
    lines = [Line("bag", 1), Line("lamp", 2), Line("bag", 3)]
    assert merged(lines) == (Line("bag", 4), Line("lamp", 2))
