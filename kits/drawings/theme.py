"""The inks of a drawing: hexadecimal on paper, custom properties with the same fallback on screen."""

from dataclasses import dataclass, fields
from functools import cache

from reportlab.lib.colors import Color, HexColor


@dataclass(frozen=True, slots=True)
class Theme:
    """One colour for each job; all different, so that a colour can be traced back to its job."""

    paper: str = "#fffefb"
    ink: str = "#1d2724"  # outlines, numbers
    quiet: str = "#55605c"  # words beside the numbers
    hair: str = "#7f8985"  # leaders and dimension lines
    accent: str = "#0f5b55"  # barrier, water
    wall: str = "#36413d"
    drainage: str = "#ebe7de"
    drainage_mark: str = "#6f6a60"
    soil: str = "#dccdbb"
    soil_mark: str = "#7c6753"
    litter: str = "#f1e7cd"
    litter_mark: str = "#8c7437"
    leaf: str = "#e3ece0"
    leaf_edge: str = "#3b5e49"
    wood: str = "#d5c3ab"
    wood_edge: str = "#66503b"
    stone: str = "#dfe1de"
    stone_edge: str = "#4a5350"
    water: str = "#cfe2e0"
    lamp: str = "#f7f2e0"


PAPER = Theme()


@cache
def colour(hex_text: str) -> Color:
    """A reportlab colour, made once."""
    return HexColor(hex_text)


def css_colours(theme: Theme) -> dict[str, str]:
    """For each hexadecimal colour of a theme the CSS value that a page can change."""
    return {
        getattr(
            theme, field.name
        ): f"var(--drawing-{field.name.replace('_', '-')}, {getattr(theme, field.name)})"
        for field in fields(theme)
    }
