import pytest

from inventory.calc.gtin import read


@pytest.mark.parametrize(
    "scan",
    ["0 36000-24145 7", " 036000241457\n", "]E0036000241457", "0036000241457", "(01)00036000241457(10)AB",
     "]C10100036000241457" + "10AB12", "0100036000241457"],
)  # fmt: skip
def test_scanned_forms_of_one_number_are_read_alike(scan):
    assert read(scan).digits == "00036000241457"


@pytest.mark.parametrize(
    "text",
    ["", "soil-8", "12345", "1234567890", "\uff11\uff12\uff13\uff14\uff15\uff16\uff17\uff18", "SUB000123"],
)
def test_what_is_no_trade_item_number_is_none(text):
    assert read(text) is None


def test_the_scanned_form_is_kept():
    assert read("0 36000-24145 7").scanned == "0 36000-24145 7"
