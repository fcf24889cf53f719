"""Small parts of paper: amounts in words, care marks, lines that fit, code sizes by the standards."""

import doctest
import importlib

import pytest

from inventory.documents import codes, glyphs, typeface
from inventory.documents.codes import Density
from kits.documents.first_days import steps
from kits.documents.signs import sign_for
from shop.calc.care import Goods, needed

WITH_EXAMPLES = (
    "inventory.documents.paper",
    "inventory.documents.codes",
    "kits.documents.amounts",
    "kits.documents.filling",
    "shop.calc.care",
    "shop.calc.calendar",
)


@pytest.mark.parametrize("name", WITH_EXAMPLES)
def test_the_examples_of_the_docstrings_hold(name):
    found = doctest.testmod(importlib.import_module(name))
    assert found.attempted > 0
    assert found.failed == 0


@pytest.mark.parametrize(
    ("text", "modules", "check"),
    [
        (
            "\xf100106141411234567897",
            156,
            34,
        ),  # ISO/IEC 15417 rule: sum 3639; SSCC symbol without quiet zones
        ("\xf10160000116030603", 134, 71),  # sum 586, a barcode font maker's support page
        ("HI345678", 101, 68),  # Start B 104,40,41,99,34,56,78: sum by the standard's rule
    ],
)
def test_code_128_has_the_modules_and_check_character_of_the_standard(text, modules, check):
    symbol = codes._symbol(text, 1, 1)
    symbol.validate()
    assert symbol.encode()[-2] == check
    assert codes.code_128_modules(text) == modules


def test_a_square_code_of_a_quote_address_is_version_3_with_four_modules_of_quiet():
    """ISO/IEC 18004: 29 modules, 37 with the quiet zone; error level M, no micro symbol."""
    density = Density(300, 6)
    width = codes.qr_width("https://example.com/q/Q-2026-000123", density)
    assert width == pytest.approx(37 * density.module_pt)


def test_lines_fit_and_lose_nothing():
    typeface.register()
    text = "Ghostwood branch of very great length " * 3 + "x" * 300
    lines = glyphs.wrapped(text, within=120, size=8)
    assert all(glyphs.width(line, size=8) <= 120 for line in lines)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")


def test_cut_text_ends_in_an_ellipsis():
    assert glyphs.cut("short", within=100, size=8) == "short"
    assert glyphs.cut("a long name of a thing", within=40, size=8).endswith("…")


def test_signs_that_the_typeface_lacks_show_as_a_box_and_control_signs_as_space():
    assert glyphs.printable("a\x00b\u6f22c\u200d") == "a b□c"


def test_a_picture_that_the_typeface_lacks_is_told_by_its_unicode_name():
    assert glyphs.printable("Wren \U0001f98e") == "Wren [lizard]"
    assert glyphs.printable("\U0001f469\U0001f3fd\u200d\U0001f52c") == "[woman][microscope]"
    assert glyphs.printable("\u2605") == "\u2605"  # the typeface has this star


def test_goods_whose_limits_do_not_meet_are_to_be_packed_apart():
    cold, warm = Goods("", False, False, 2, 8), Goods("plant", False, False, 15, 28)
    (mark,) = [mark for mark in needed([cold, warm]) if mark.kind == "temperature"]
    assert (mark.words, mark.low, mark.high) == ("pack apart", "", "")


def test_the_strictest_limits_count():
    goods = [Goods("invertebrate", False, False, 10, 27), Goods("plant", False, True, 13, 30)]
    (mark,) = [mark for mark in needed(goods) if mark.kind == "temperature"]
    assert (mark.low, mark.high) == ("13 °C", "27 °C")


def test_a_box_for_the_us_tells_limits_in_both_scales_rounded_to_the_safe_side():
    goods = [Goods("plant", False, False, 13, 27)]
    (_, mark, _) = needed(goods, units="us")
    assert (mark.low, mark.high) == ("56 °F\n13 °C", "80 °F\n27 °C")


@pytest.mark.parametrize(
    ("level", "about", "sign"),
    [
        ("stop", "lamp_holder", "stop"),
        ("warning", "residual_current_device", "electricity"),
        ("warning", "animals", "wash"),
        ("warning", "something new", "general"),
        ("note", "animals", ""),
    ],
)
def test_every_warning_has_a_sign_and_no_note_has_one(level, about, sign):
    assert sign_for(level, about) == sign


def test_the_first_days_leave_out_what_the_kit_does_not_have():
    bare = " ".join(step.text for step in steps(frozenset(), installed="", has_animals=False))
    assert "siphon" not in bare
    assert "animal" not in bare
    full = " ".join(step.text for step in steps(frozenset({"drainage"}), installed="20 kg", has_animals=True))
    assert "on a stand that carries 20 kg" in full
    assert "siphon" in full
