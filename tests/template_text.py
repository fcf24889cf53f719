"""What a template says outside gettext: its text nodes and the attributes that people see or hear."""

import re

from django.template.base import Lexer, TokenType

SPOKEN = ("title", "aria-label", "placeholder", "alt", "data-key-label", "data-prompt", "data-name")
SAME_EVERYWHERE = {"Kitwright", "mm", "kg", "CO2", "Enter", "Esc", "PDF"}
_TAG = re.compile(r"<[^<>]*>", re.DOTALL)
_ATTRIBUTE = re.compile(rf'\b({"|".join(SPOKEN)})="([^"]*)"')
_CODE = re.compile(r"<(kbd|code)\b[^>]*>.*?</\1>", re.DOTALL)
_VARIABLE, _BLOCK = "\ue000", "\ue001"
_SAID = re.compile(r'(?:(?:default|default_if_none|yesno):|\{% state "\w+" )"([^"]*)"')
_LETTERS = re.compile(r"[^\W\d_]{2,}")


def unwrapped(source):
    """Every piece of text in a template that gettext never sees."""
    flat = _CODE.sub(_BLOCK, _flattened(source))
    spoken = [found[2] for tag in _TAG.findall(flat) for found in _ATTRIBUTE.finditer(tag)]
    said = [found[1] for found in _SAID.finditer(source)]
    pieces = [piece for text in (*_TAG.split(flat), *spoken, *said) for piece in text.split(_BLOCK)]
    return [" ".join(piece.split()) for piece in pieces if _is_text(piece)]


def _flattened(source):
    """The template with a mark for each variable and tag, without comments and what is translated."""
    kept, until = [], ""
    for token in Lexer(source).tokenize():
        name = token.contents.split(" ")[0] if token.token_type == TokenType.BLOCK else ""
        if until:
            until = "" if name == until else until
        elif name in {"blocktranslate", "comment"}:
            until = f"end{name}"
            kept.append(_BLOCK)
        else:
            kept.append(_mark(token))
    return "".join(kept)


def _mark(token):
    if token.token_type == TokenType.TEXT:
        return token.contents
    return {TokenType.VAR: _VARIABLE, TokenType.BLOCK: _BLOCK}.get(token.token_type, "")


def _is_text(piece):
    words = _LETTERS.findall(re.sub(r"&\w+;", " ", piece))
    return any(word not in SAME_EVERYWHERE for word in words)
