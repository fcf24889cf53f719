"""Text as the typeface can show it: nothing a person typed makes a page fail."""

import unicodedata
from functools import lru_cache

from bidi import get_display
from reportlab.pdfbase import pdfmetrics

from inventory.documents import typeface

MISSING = "\u25a1"  # a box for a sign that the typeface does not have
INVISIBLE = frozenset("\u200b\u200c\u200d\u2060\ufeff\ufe0e\ufe0f")


@lru_cache(maxsize=4096)
def printable(text: str, font: str = "Sans") -> str:
    """One line of text with white space for control signs and a visible box for every missing sign."""
    known = _known(font)
    return "".join(_sign(sign, known) for sign in text if sign not in INVISIBLE)


@lru_cache(maxsize=4096)
def in_reading_order(line: str) -> str:
    """A finished line from left to right, with right-to-left words turned as they are read."""
    if line.isascii() or not any(unicodedata.bidirectional(sign) in {"R", "AL"} for sign in line):
        return line
    return str(get_display(line))


def width(text: str, *, size: float, font: str = "Sans") -> float:
    """How wide the text is in points."""
    return float(pdfmetrics.stringWidth(text, font, size))


def wrapped(text: str, *, within: float, size: float, font: str = "Sans") -> list[str]:
    """The text in lines that fit; a word that is wider than a line is broken."""
    lines: list[str] = []
    for paragraph in text.split("\n"):
        lines += _filled(printable(paragraph, font).split(), within, size, font)
    return lines


def cut(text: str, *, within: float, size: float, font: str = "Sans") -> str:
    """The text on one line, its end replaced by an ellipsis where it does not fit."""
    shown = printable(text, font)
    if width(shown, size=size, font=font) <= within:
        return shown
    while shown and width(f"{shown}\u2026", size=size, font=font) > within:
        shown = shown[:-1]
    return f"{shown.rstrip()}\u2026"


def at_most(most: int, text: str, *, within: float, size: float, font: str = "Sans") -> list[str]:
    """The text in so many lines at most; the last one ends in an ellipsis where more would follow."""
    lines = wrapped(text, within=within, size=size, font=font)
    if len(lines) <= most:
        return lines
    rest = " ".join(lines[most - 1 :])
    return [*lines[: most - 1], cut(rest, within=within, size=size, font=font)]


@lru_cache(maxsize=4)
def _known(font: str) -> frozenset[int]:
    typeface.register()
    return frozenset(pdfmetrics.getFont(font).face.charToGlyph)


def _sign(sign: str, known: frozenset[int]) -> str:
    if unicodedata.category(sign) in {"Cc", "Cf", "Zl", "Zp"}:
        return " " if unicodedata.category(sign) != "Cf" else ""
    return sign if ord(sign) in known else MISSING


def _filled(words: list[str], within: float, size: float, font: str) -> list[str]:
    lines, line = [], ""
    for word in words:
        longer = f"{line} {word}" if line else word
        if width(longer, size=size, font=font) <= within:
            line = longer
            continue
        if line:
            lines.append(line)
        *full, line = _broken(word, within, size, font)
        lines += full
    return [*lines, line]


def _broken(word: str, within: float, size: float, font: str) -> list[str]:
    if width(word, size=size, font=font) <= within:
        return [word]
    parts, part = [], ""
    for sign in word:
        if part and width(part + sign, size=size, font=font) > within:
            parts.append(part)
            part = ""
        part += sign
    return [*parts, part]
