"""Contrast worked out from the stylesheets' own properties (WCAG 2.2, 1.4.3 and 1.4.11)."""

import re
from pathlib import Path

import pytest

FOLDER = Path(__file__).resolve().parents[2] / "shop" / "static" / "shop"
SHEETS = {path.name: path.read_text(encoding="utf-8") for path in sorted(FOLDER.glob("*.css"))}
TEXT, GRAPHICS = 4.5, 3.0
STATES = ("free", "short", "none")
# The inks that stand on each ground; a rule that sets both says so by itself.
ON = {
    "paper": ("ink", "soft", "accent"),
    "sheet": ("ink", "soft", "accent", *STATES),
    "hover": ("ink", "soft", "accent", *STATES),
    "lit": ("ink", "soft", "accent", *STATES),
    "accent-soft": ("ink", "soft", "accent", *STATES),
    "short-soft": ("ink", "soft", "accent", "short"),
    "none-soft": ("ink", "soft", "none"),
    "ink": ("sheet",),
    "accent": ("sheet",),
}
# What shows where something is or what state it is in; on the two grounds that fields and buttons stand on.
DRAWN = {"ink", "accent", "line", "short", "none", "soft"}
# Rules and hairlines part what is parted by space and words as well, and a shadow says nothing.
ORNAMENT = {"rule", "hair", "shadow", "shade", "accent-soft"}


def tokens():
    root = re.search(r":root \{(.*?)\}", SHEETS["sheet.css"], re.DOTALL).group(1)
    return dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6}|rgb\([^)]*\));", root))


def rules():
    """Selector and declarations of every rule of all stylesheets, those inside @media too."""
    for text in SHEETS.values():
        bare = re.sub(r"/\*.*?\*/", "", text, flags=re.DOTALL)
        for selector, body in re.findall(r"([^{}]+)\{([^{}]*)\}", bare):
            yield selector.strip(), dict(re.findall(r"([\w-]+)\s*:\s*([^;]+)", body))


def named(value):
    return set(re.findall(r"var\(--([\w-]+)\)", value)) & set(tokens())


def used(*names):
    """The colours that any rule gives to one of these properties."""
    return {token for _, body in rules() for name in names for token in named(body.get(name, ""))}


def luminance(colour):
    """Relative luminance as WCAG 2.2 defines it."""
    shares = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    red, green, blue = (s / 12.92 if s <= 0.04045 else ((s + 0.055) / 1.055) ** 2.4 for s in shares)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one, other):
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def pairs_of_rules():
    """Ink and ground of every rule that sets both."""
    found = {(ink, ground) for _, body in rules() for ink in named(body.get("color", ""))
             for ground in named(body.get("background", ""))}  # fmt: skip
    return sorted(found)


def too_faint(pairs, needed, colours):
    return [(a, b) for a, b in pairs if contrast(colours[a], colours[b]) < needed]


@pytest.mark.parametrize(("grey", "ratio"), [("#767676", 4.542), ("#777777", 4.478), ("#949494", 3.034)])
def test_the_formula_gives_known_ratios_on_white(grey, ratio):
    """Values of the WCAG formula on white: 4.54, 4.48 and 3.03 are the well-known border cases."""
    assert contrast(grey, "#ffffff") == pytest.approx(ratio, abs=0.001)


@pytest.mark.parametrize("ground", ON)
def test_what_is_written_can_be_read(ground):
    assert too_faint([(ink, ground) for ink in ON[ground]], TEXT, tokens()) == []


def test_a_rule_that_sets_ink_and_ground_can_be_read():
    assert len(pairs_of_rules()) >= 4
    assert too_faint(pairs_of_rules(), TEXT, tokens()) == []


def test_every_ink_and_every_ground_of_the_stylesheets_is_in_the_table():
    """A new ink or ground is caught here until somebody says what stands on what."""
    assert used("background", "background-color") - {"shade"} == set(ON)
    assert used("color") - {"accent-soft"} == {ink for inks in ON.values() for ink in inks}


@pytest.mark.parametrize("ground", ["paper", "sheet"])
def test_lines_and_marks_that_say_something_can_be_seen(ground):
    """Fields, frames, the ring around what has the focus, the marks of states: 3 to 1 (1.4.11)."""
    assert too_faint([(mark, ground) for mark in DRAWN], GRAPHICS, tokens()) == []


def test_every_colour_of_a_line_is_a_mark_or_an_ornament():
    sides = [
        f"border{side}" for side in ("", "-top", "-right", "-bottom", "-left", "-color", "-bottom-color")
    ]
    drawn = used(*sides, "outline", "outline-color", "stroke", "fill", "box-shadow", "filter", "accent-color")
    assert drawn - DRAWN - ORNAMENT <= {"sheet"}  # the frame of a button on an ink ground


def test_a_token_too_faint_for_its_ground_is_found():
    """The colour of hairlines as an ink would be 1.3 to 1."""
    faint = tokens() | {"soft": tokens()["hair"]}
    assert too_faint([("soft", "sheet"), ("ink", "sheet")], TEXT, faint) == [("soft", "sheet")]


@pytest.mark.parametrize("sheet", SHEETS)
def test_no_colour_stands_outside_the_properties(sheet):
    """A colour of a rule would escape the tests above."""
    rules_only = re.sub(r":root \{.*?\}", "", SHEETS[sheet], count=1, flags=re.DOTALL)
    found = r"#[0-9a-fA-F]{3,8}\b(?![^;{}]*\{)|\b(?:rgba?|hsla?|oklch|oklab|lab|lch|color|color-mix)\([^)]*\)"
    assert re.findall(found, rules_only) == []
    assert (
        re.findall(r"(?:color|background|fill|stroke): *(?!var|transparent|none|inherit)[a-z]+\b", rules_only)
        == []
    )
