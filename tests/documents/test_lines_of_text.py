"""Where text is broken into lines: nothing is parted that is read as one."""

import pytest

from inventory.documents import glyphs

WITHIN = 60.0


@pytest.mark.parametrize(
    ("text", "kept"),
    [
        ("Chalkdust calcium, 60 g", "60 g"),
        ("Grassy sweet flag, 9 cm pot", "9 cm"),
        ("at night 64 °F (18 °C)", "(18 °C)"),
        ("enclosure 90 x 45 x 60 cm", "90 x 45 x 60 cm"),
        ("it is 17⅜ in deep", "17⅜ in"),
    ],
)
def test_a_number_stays_with_its_unit_wherever_the_line_ends(text, kept):
    for within in range(66, 160):
        lines = glyphs.wrapped(text, within=within, size=7)
        assert " ".join(lines) == text
        assert any(kept in line for line in lines)


def test_a_line_too_short_for_a_size_parts_it_between_words():
    assert glyphs.wrapped("90 x 45 x 60 cm", within=24, size=7) == ["90 x", "45 x", "60 cm"]


def test_a_code_too_wide_for_a_line_is_broken_behind_a_hyphen():
    lines = glyphs.wrapped("ARMADILLIDIUM-MACULATUM-40", within=WITHIN * 1.5, size=7)
    assert lines == ["ARMADILLIDIUM-", "MACULATUM-40"]


def test_no_line_is_wider_than_its_room():
    text = "Makers' instructions and local codes come before this sheet of 90 x 45 x 60 cm at 21 °C."
    for within in range(30, 200, 7):
        lines = glyphs.wrapped(text, within=within, size=8.5)
        assert all(glyphs.width(line, size=8.5) <= within + 0.01 for line in lines)


def test_white_space_that_was_typed_to_tie_words_shows_as_a_space():
    assert glyphs.wrapped("60\u00a0g of it", within=200, size=7) == ["60 g of it"]
