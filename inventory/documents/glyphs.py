"""Text as the typeface can show it: nothing a person typed makes a page fail."""

import re
import unicodedata
from functools import lru_cache

from arabic_reshaper import ArabicReshaper
from bidi import get_display
from reportlab.pdfbase import pdfmetrics

from inventory.documents import typeface

MISSING = "\u25a1"  # a box for a sign that the typeface does not have
INVISIBLE = frozenset("\u034f\u200b\u200c\u200d\u2060\ufeff\ufe0e\ufe0f")
# Lam with alef is the one ligature that Arabic demands; vowel signs stay as they were typed.
_JOINER = ArabicReshaper({"delete_harakat": False, "ARABIC LIGATURE ALLAH": False})
_ARABIC = re.compile(r"[\u0600-\u06ff\u0750-\u077f]")
_PAIRS = "()[]{}<>\u00ab\u00bb\u2039\u203a"
_MIRRORED = {sign: _PAIRS[place ^ 1] for place, sign in enumerate(_PAIRS)}
_PAIRED = re.compile(f"([{re.escape(_PAIRS)}])")
_TAIL = (
    "\u034f"  # A sign without a look that stays with the one before it, so it shows which way a word runs.
)
_TIED = "\u00a0"
_FIGURE = r"[\d\u00bc-\u00be\u215b-\u215e]"
_UNITS = r"mm|cm|m|in|ft|kg|g|lb|oz|fl|dry|liquid|qt|mL|L|W|V|A|mA|h|K|%|\u00b0[CF]"
_BEHIND = rf"(?:{_UNITS})(?![A-Za-z])|x {_FIGURE}"
_TIES = re.compile(f"(?<={_FIGURE}) (?={_BEHIND})|(?<={_FIGURE} x) (?={_FIGURE})")
_TURNED = re.compile(f"{_TAIL}([{re.escape(_PAIRS)}])")


@lru_cache(maxsize=4096)
def printable(text: str, font: str = "Sans") -> str:
    """One line of text with white space for control signs, and names or boxes for signs that are missing.

    Arabic letters take the forms in which they join, before anything is measured or broken into lines.
    """
    known = _known(font)
    joined = _JOINER.reshape(text) if _ARABIC.search(text) else text
    return "".join(_sign(sign, known) for sign in joined if sign not in INVISIBLE)


@lru_cache(maxsize=4096)
def in_reading_order(line: str) -> str:
    """A finished line from left to right, with right-to-left words turned as they are read.

    Brackets among right-to-left words are mirrored (rule L4 of Unicode Annex 9), which `get_display` leaves
    to its caller.
    """
    if line.isascii() or not any(unicodedata.bidirectional(sign) in {"R", "AL"} for sign in line):
        return line
    turned = str(get_display(_PAIRED.sub(rf"\1{_TAIL}", line)))
    return _TURNED.sub(lambda found: _MIRRORED[found[1]], turned).replace(_TAIL, "")


def width(text: str, *, size: float, font: str = "Sans") -> float:
    """How wide the text is in points."""
    return typeface.text_width(text, size, font)


def wrapped(
    text: str, *, within: float, size: float, font: str = "Sans", first_indent: float = 0.0
) -> list[str]:
    """The text in lines that fit, the first one shorter by its indent; too wide a word is broken.

    A number stays with its unit, and the sides of a size stay together, where a line has room for them.
    """
    return list(_wrapped(text, within, size, font, first_indent))


@lru_cache(maxsize=1024)  # A sheet is laid out several times to see how it fits, with the same words.
def _wrapped(text: str, within: float, size: float, font: str, first_indent: float) -> tuple[str, ...]:
    lines: list[str] = []
    for paragraph in text.split("\n"):
        room = within if lines else within - first_indent
        words = _words(_tied(paragraph, font), within, size, font)
        lines += _filled(words, (room, within), size, font)
    return tuple(line.replace(_TIED, " ") for line in lines)


@lru_cache(maxsize=1024)
def _tied(paragraph: str, font: str) -> str:
    return _TIES.sub(_TIED, " ".join(printable(paragraph, font).split()))


def _words(text: str, within: float, size: float, font: str) -> list[str]:
    """What is not parted at the end of a line, unless a whole line is too short for it."""
    if _TIED not in text:
        return text.split(" ")
    words: list[str] = []
    for word in text.split(" "):
        fits = _TIED not in word or width(word, size=size, font=font) <= within
        words += [word] if fits else word.split(_TIED)
    return words


def cut(text: str, *, within: float, size: float, font: str = "Sans") -> str:
    """The text on one line, its end replaced by an ellipsis where it does not fit."""
    shown = printable(text, font)
    if width(shown, size=size, font=font) <= within:
        return shown
    while shown and width(f"{shown}\u2026", size=size, font=font) > within:
        shown = shown[:-1]
    return f"{shown.rstrip()}\u2026"


def shortened(text: str, *, within: float, size: float, font: str = "Sans") -> str:
    """The text on one line, its middle left out where it does not fit: a name often ends in a size."""
    shown = printable(text, font)
    if width(shown, size=size, font=font) <= within:
        return shown
    for count in range(len(shown) - 1, 0, -1):
        end = count * 2 // 5
        found = f"{shown[: count - end].rstrip()}\u2026{shown[len(shown) - end :].lstrip()}"
        if width(found, size=size, font=font) <= within:
            return found
    return "\u2026"


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
    if ord(sign) in known:
        return sign
    plain = unicodedata.normalize("NFKC", sign)  # A form that the typeface lacks is shown as its letter.
    return plain if plain and all(ord(part) in known for part in plain) else _named(sign)


def _named(sign: str) -> str:
    """What stands for a sign that the typeface lacks: the name of a picture, a box for anything else."""
    kind, name = unicodedata.category(sign), unicodedata.name(sign, "")
    if kind == "Sk" and name.startswith("EMOJI MODIFIER"):
        return ""  # The tone of a skin says nothing without the picture.
    return f"[{name.lower()}]" if kind == "So" and name else MISSING


def _filled(words: list[str], within: tuple[float, float], size: float, font: str) -> list[str]:
    """Words in lines; `within` is the room of the first line and of every other one.

    Nothing is kerned, so a line is as wide as its words and spaces, and a word is measured once.
    """
    lines: list[str] = []
    line, used, space = "", 0.0, width(" ", size=size, font=font)
    for word in words:
        wide = width(word, size=size, font=font)
        longer = used + space + wide if line else wide
        if longer <= within[bool(lines)]:
            line, used = f"{line} {word}" if line else word, longer
            continue
        if line or within[0] < within[1]:
            lines.append(line)
        *full, line = _broken(word, within[1], size, font)
        lines, used = lines + full, width(line, size=size, font=font)
    return [*lines, line]


def _broken(word: str, within: float, size: float, font: str) -> list[str]:
    """A word that is wider than a line in parts, behind its hyphens where it has any."""
    if width(word, size=size, font=font) <= within:
        return [word]
    parts, part = [], ""
    for sign in word:
        if part and width(part + sign, size=size, font=font) > within:
            end = part.rfind("-") + 1 or len(part)
            parts.append(part[:end])
            part = part[end:]
        part += sign
    return [*parts, part]
