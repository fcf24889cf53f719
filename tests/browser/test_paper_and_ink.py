"""Contrast worked out from the stylesheet's own properties (WCAG 2.2, 1.4.3 and 1.4.11)."""

import re
from pathlib import Path

import pytest

SHEET = Path(__file__).resolve().parents[2] / "shop" / "static" / "shop" / "sheet.css"
# What is written in which colour on which ground, and how much contrast it needs.
WRITTEN = [
    (ink, ground, 4.5)
    for ink in ("ink", "soft", "accent", "free", "short", "none")
    for ground in ("sheet", "paper", "hover")
] + [
    ("ink", "accent-soft", 4.5),
    ("accent", "accent-soft", 4.5),
    ("soft", "accent-soft", 4.5),
    ("ink", "short-soft", 4.5),
    ("short", "short-soft", 4.5),
    ("soft", "short-soft", 4.5),
    ("ink", "none-soft", 4.5),
    ("none", "none-soft", 4.5),
    ("sheet", "ink", 4.5),
    ("line", "sheet", 3),
    ("accent", "paper", 3),
]


def properties():
    root = re.search(r":root \{(.*?)\}", SHEET.read_text(), re.DOTALL).group(1)
    return dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6});", root))


def luminance(colour):
    """Relative luminance as WCAG 2.2 defines it."""
    shares = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    red, green, blue = (s / 12.92 if s <= 0.04045 else ((s + 0.055) / 1.055) ** 2.4 for s in shares)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one, other):
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize(("grey", "ratio"), [("#767676", 4.542), ("#777777", 4.478), ("#949494", 3.034)])
def test_the_formula_gives_known_ratios_on_white(grey, ratio):
    """Values of the WCAG formula on white: 4.54, 4.48 and 3.03 are the well-known border cases."""
    assert contrast(grey, "#ffffff") == pytest.approx(ratio, abs=0.001)


@pytest.mark.parametrize(("ink", "ground", "needed"), WRITTEN)
def test_what_is_written_can_be_read(ink, ground, needed):
    colours = properties()
    assert contrast(colours[ink], colours[ground]) >= needed


def test_no_colour_stands_outside_the_properties():
    """A colour of a rule would escape the test above; only the shade behind a dialog is see-through."""
    rules = SHEET.read_text().split("@media (pointer: coarse)", 1)[1]
    assert re.findall(r"#[0-9a-fA-F]{3,8}\b(?!\s*\{)", rules) == []
    assert re.findall(r"rgba?\([^)]*\)", rules) == ["rgb(29 40 36 / 0.35)"]
