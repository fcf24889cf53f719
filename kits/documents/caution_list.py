"""Cautions on paper: stops first, then warnings, those of one sign together beside it."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from inventory.documents import glyphs
from inventory.documents.flow import Drawn, Flow
from kits.documents import signs
from kits.documents.content import CautionRow

SIDE = 17.0
INDENT = SIDE + 5
GAP = 1.5
LEVEL_WORDS = {"stop": "STOP", "warning": "WARNING"}  # notes have no sign and stand elsewhere


@dataclass(frozen=True, slots=True)
class Group:
    """What stands beside one sign."""

    sign: str
    head: str
    texts: tuple[str, ...]


def grouped(cautions: Iterable[CautionRow]) -> Iterator[Group]:
    """Stops, then warnings; the signs of a level in the order in which they first come."""
    told = list(cautions)
    for level, word in LEVEL_WORDS.items():
        texts: dict[str, list[str]] = {}
        for caution in told:
            if caution.level == level:
                texts.setdefault(signs.sign_for(level, caution.about), []).append(caution.text)
        for sign, found in texts.items():
            meaning = signs.WORDS[sign].lower()
            yield Group(sign, f"{word}: {meaning}" if meaning else word, tuple(found))


def draw(flow: Flow, groups: Iterable[Group]) -> None:
    """Each group beside its sign; the sign stands again where a group runs on in another column."""
    for group in groups:
        _group(flow, group)


def height(flow: Flow, groups: Iterable[Group]) -> float:
    """How high the groups are in one column."""
    return sum(_group_height(flow, group) for group in groups)


def _group(flow: Flow, group: Group) -> None:
    low = _begin(flow, group, group.texts[0])
    for number, text in enumerate(group.texts):
        if number and flow.need(_height(flow, text)):
            low = _begin(flow, group, text)
        flow.paragraph(text, indent=INDENT, gap=GAP)
    flow.y = min(flow.y, low) - GAP


def _begin(flow: Flow, group: Group, text: str) -> float:
    """The sign and its words, with room for a text; returns how far down the sign reaches."""
    flow.need(max(SIDE, _height(flow, text) + bool(group.head) * flow.body.leading))
    corner = (flow.left, flow.y - SIDE)
    flow.draw(_sign(group.sign, corner))
    if group.head:
        flow.text(flow.left + INDENT, flow.y - flow.type_pt, group.head, flow.strong)
        flow.y -= flow.body.leading
    return corner[1]


def _group_height(flow: Flow, group: Group) -> float:
    texts = sum(_height(flow, text) + GAP for text in group.texts)
    return max(SIDE, bool(group.head) * flow.body.leading + texts) + GAP


def _height(flow: Flow, text: str) -> float:
    return len(glyphs.wrapped(text, within=flow.width - INDENT, size=flow.type_pt)) * flow.body.leading


def _sign(sign: str, corner: tuple[float, float]) -> Drawn:
    return lambda pen: signs.draw(pen.canvas, sign, corner, side=SIDE)
