"""Labels: every code is read back from the dots of the printer that it is printed on."""

from dataclasses import replace

import pytest

from inventory.documents import codes
from inventory.documents.codes import Density
from inventory.documents.labels import SIZE, ShelfLabel, shelf_label, shelf_labels
from inventory.documents.marks import CareMark
from inventory.documents.paper import dots
from inventory.documents.pen import About, pdf
from inventory.errors import BadInput
from shop.documents import kit_label as kits
from shop.documents.kit_label import KitLabel, kit_label
from tests.documents.papers import opened, page_count, picture, read_codes, text_of

SOIL = ShelfLabel(
    code="DRIPSHADE-17L6",
    name="Dripshade rainforest soil, 17.6 L",
    price="36.50 USD",
    unit="bag",
    shop="Saltmoss Vivaria",
    content="17.6 L (15.98 dry qt)",
    place="B-3-2",
    lot="L204",
    best_before="2027-03-01",
)
KIT = KitLabel(
    number="1042K",
    kit="Crested gecko, humid forest",
    enclosure="Casement 45 x 45 x 60 cm",
    shop="Saltmoss Vivaria",
    town="Quillhaven",
    date="2026-11-25",
    customer="Wren Oddfellow",
    contents=("1 x bag", "2 x lamp"),
    marks=(
        CareMark("this_way_up", "this way up"),
        CareMark("fragile", "fragile"),
        CareMark("temperature", "keep between", "10 °C", "30 °C"),
        CareMark("live_plant", "live plants"),
        CareMark("live_animal", "live animals"),
    ),
)
CODES = ("A", "HIDE", "1042K", "SUB-000123", "DRIPSHADE-17L6", "PEPEROMIA-OBTUSIFOLIA-90", "x" * 64)


@pytest.mark.parametrize("dpi", [203, 300])
@pytest.mark.parametrize("code", CODES)
def test_every_shelf_label_is_read_back_at_the_density_it_was_made_for(code, dpi):
    label = ShelfLabel(code, "Thing " * 40, "1137.50 USD", "piece", "Saltmoss Vivaria")
    (found,) = read_codes(shelf_label(label, dpi=dpi), dpi)
    assert found[0] == code
    assert found[1] in {"]C0", "]Q1"}


@pytest.mark.parametrize("dpi", [203, 300])
@pytest.mark.parametrize("code", [("AB-9" * 16)[:n] for n in (17, 18, 24, 33, 48, 64)] + ["W" * 64])
def test_a_code_too_long_for_bars_stands_as_a_square_beside_its_whole_text(code, dpi):
    page = shelf_label(replace(SOIL, code=code, name="Thing " * 40), dpi=dpi)
    assert read_codes(page, dpi) == [(code, "]Q1")]
    assert code in text_of(page).replace(" ", "")


@pytest.mark.parametrize("dpi", [203, 300])
def test_letters_stand_as_bars_up_to_15_of_them(dpi):
    """As many as fit 57 mm in whole dots with their quiet zones."""
    kinds = [
        read_codes(shelf_label(replace(SOIL, code="SHELFMOSSGREENSX"[:n]), dpi=dpi), dpi) for n in (15, 16)
    ]
    assert [kind for ((_, kind),) in kinds] == ["]C0", "]Q1"]


@pytest.mark.parametrize("dpi", [203, 300])
@pytest.mark.parametrize("code", ["SUB-000123", "AB-9" * 6, "W" * 64])
def test_nothing_on_a_shelf_label_lies_over_anything_else(code, dpi):
    with opened(shelf_label(replace(SOIL, code=code, name="Thing " * 40), dpi=dpi)) as document:
        page = document.pages[0]
        words, modules = (
            page.extract_words(),
            [one for one in page.rects if one["non_stroking_color"] != (1, 1, 1)],
        )
    top, bottom = min(one["top"] for one in modules), max(one["bottom"] for one in modules)
    left, right = min(one["x0"] for one in modules), max(one["x1"] for one in modules)
    over = [
        w for w in words if w["x0"] < right and w["x1"] > left and w["bottom"] > top and w["top"] < bottom
    ]
    assert [w["text"] for w in over] == []
    assert all(w["x0"] >= 0 and w["x1"] <= page.width and w["bottom"] <= page.height for w in words)


@pytest.mark.parametrize("dpi", [203, 300])
@pytest.mark.parametrize("number", ["1A", "1042K", "104217H", "999999999999999Z"])
def test_every_kit_label_is_read_back_at_the_density_it_was_made_for(number, dpi):
    label = KitLabel(number, "Kit", "Box", "Shop", "", "2026-11-25", marks=KIT.marks)
    assert read_codes(kit_label(label, dpi=dpi), dpi) == [(number, "]C0")]


@pytest.mark.parametrize("dpi", [203, 300])
def test_a_kit_label_carries_a_square_code_only_where_the_shop_has_a_page(dpi):
    address = "https://shop.example/kit/1042K"
    label = KitLabel("1042K", "Kit", "Box", "Shop", "", "2026-11-25", address=address)
    assert read_codes(kit_label(label, dpi=dpi), dpi) == [("1042K", "]C0"), (address, "]Q1")]
    assert read_codes(kit_label(KIT, dpi=dpi), dpi) == [("1042K", "]C0")]


@pytest.mark.parametrize("dpi", [203, 300])
def test_every_bar_is_whole_dots_wide_with_ten_modules_of_quiet(dpi):
    """GS1 General Specifications R18, p. 262: a quiet zone of 10X each side."""
    with opened(shelf_label(SOIL, dpi=dpi)) as document:
        page = document.pages[0]
        bars = [rect for rect in page.rects if rect["height"] > 20]
    dot = dots(1, dpi=dpi)
    widths = [bar["width"] / dot for bar in bars]
    assert all(width == pytest.approx(round(width), abs=0.02) and width > 1 for width in widths)
    module = min(widths) * dot
    left, right = min(bar["x0"] for bar in bars), max(bar["x1"] for bar in bars)
    assert left >= 10 * module - 0.1
    assert float(page.width) - right >= 10 * module - 0.1


@pytest.mark.parametrize(
    ("dpi", "shelf", "kit"), [(203, (457, 254), (812, 1218)), (300, (675, 375), (1200, 1800))]
)
def test_a_page_is_exactly_the_label_in_dots(dpi, shelf, kit):
    """Thermal stock of 2.25 x 1.25 and 4 x 6 inch, dots by arithmetic: common practice, no source."""
    assert [round(side / 72 * dpi) for side in SIZE] == [pytest.approx(side, abs=1) for side in shelf]
    assert [round(side / 72 * dpi) for side in kits.SIZE] == list(kit)
    with opened(kit_label(KIT, dpi=dpi)) as document:
        assert (document.pages[0].width, document.pages[0].height) == kits.SIZE


def test_a_density_that_no_printer_has_is_refused_by_name():
    with pytest.raises(BadInput, match="dpi must be 203 or 300, not 204"):
        kit_label(KIT, dpi=204)


def test_the_least_module_is_a_quarter_of_a_millimetre_in_whole_dots():
    """10 mil for codes read inside a shop: common practice, no source."""
    assert (codes.least_dots(203), codes.least_dots(300)) == (2, 3)


def test_code_128_symbol_values_are_those_of_the_standard():
    """ISO/IEC 15417 values of SUB-000123, as the standard's rule gives them."""
    symbol = codes._symbol("SUB-000123", 1, 1)
    symbol.validate()
    assert symbol.encode() == [104, 51, 53, 34, 13, 99, 0, 1, 23, 71, 106]


@pytest.mark.parametrize("dpi", [203, 300])
def test_no_digit_is_lost_after_a_separator_in_the_middle(dpi):
    """reportlab 5.1.0's plain Code128 loses the 2 of 2112345 with a valid check character; this must not."""
    text = f"{codes.FNC1}010952123454321310ABC123{codes.FNC1}2112345"
    page = pdf((400, 100), About("code", "shop"), lambda pen: codes.code_128(
        pen, (0, 20), text, height=40, density=Density(dpi, 2 if dpi == 203 else 3)))  # fmt: skip
    ((found, symbology),) = read_codes(page, dpi)
    assert (found, symbology) == ("010952123454321310ABC123\x1d2112345", "]C1")


def test_what_a_scanner_reads_a_person_can_read_too():
    assert "DRIPSHADE-17L6" in text_of(shelf_label(SOIL))
    assert "1042K" in text_of(kit_label(KIT))


def test_lot_place_and_content_stand_on_the_shelf_label():
    text = text_of(shelf_label(SOIL))
    assert "17.6 L (15.98 dry qt) · lot L204" in text
    assert "B-3-2" in text


def test_a_long_name_in_a_kit_keeps_the_size_that_it_ends_in():
    names = [f"1 x Broadshade magnolia leaves of the {n}th harvest, {n}.8 L" for n in range(40)]
    text = text_of(kit_label(replace(KIT, contents=tuple(names))))
    assert all(f", {n}.8 L" in text for n in range(30))


def test_what_has_no_price_says_none_and_a_vowel_asks_for_an():
    assert "a mL" not in text_of(shelf_label(replace(SOIL, price="", unit="mL")))
    assert "an emitter" in text_of(shelf_label(replace(SOIL, unit="emitter")))


def test_a_kit_label_says_what_it_leaves_out():
    label = KitLabel(
        "1042K", "Kit", "Box", "Shop", "", "2026-11-25", contents=tuple(f"1 x {n}" for n in range(80))
    )
    text = text_of(kit_label(label))
    shown = sum(1 for n in range(80) if f"1 x {n} " in text)
    assert f"and {80 - shown} more: see the build sheet" in text


def test_care_marks_are_drawn_with_their_words():
    text = text_of(kit_label(KIT))
    assert all(mark.words in text for mark in KIT.marks)
    assert "10 °C" in text
    dark = sum(
        1
        for value in picture(kit_label(KIT), 100).crop((10, 500, 400, 590)).get_flattened_data()
        if value < 90
    )
    assert dark > 2000  # five marks of heavy black art


def test_labels_are_the_same_to_the_byte_and_one_a_page():
    assert shelf_label(SOIL) == shelf_label(SOIL)
    assert kit_label(KIT) == kit_label(KIT)
    assert page_count(shelf_labels([SOIL] * 7)) == 7


def test_long_names_of_a_kit_stand_whole_while_the_label_has_lines_for_them():
    names = tuple(f"{n} x a name too long for half the width of a label, size {n}" for n in range(1, 21))
    text = " ".join(text_of(kit_label(replace(KIT, contents=names))).split())
    assert all(f"size {n}" in text for n in range(1, 21))
    assert "…" not in text


def test_names_are_shortened_once_no_line_is_left_for_the_rest_of_them():
    names = tuple(f"{n} x a name too long for half the width of a label, size {n}" for n in range(1, 61))
    with opened(kit_label(replace(KIT, contents=names))) as document:
        page = document.pages[0]
        words = page.extract_words()
    assert any("…" in word["text"] for word in words)
    assert max(word["x1"] for word in words) <= page.width - 10
    assert "more:" in [word["text"] for word in words]


def test_a_care_mark_tells_its_limits_in_both_scales_inside_its_square():
    mark = CareMark("temperature", "keep between", "56 °F\n13 °C", "80 °F\n27 °C")
    text = text_of(kit_label(replace(KIT, marks=(mark,))))
    assert [limit for limit in ("56 °F", "13 °C", "80 °F", "27 °C") if limit not in text] == []
