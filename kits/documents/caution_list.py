"""Cautions on paper: stops first, then warnings, those of one sign together beside it."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from inventory.documents import glyphs
from inventory.documents.flow import Drawn, Flow
from kits.documents import signs
from kits.documents.content import CautionRow
from kits.terms.typesetting import typeset

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
                texts.setdefault(signs.sign_for(level, caution.about), []).append(typeset(caution.text))
        for sign, found in texts.items():
            meaning = signs.WORDS[sign].lower()
            yield Group(sign, f"{word}: {meaning}" if meaning else word, tuple(found))


def parted(groups: Iterable[Group], count: int) -> tuple[tuple[Group, ...], tuple[Group, ...]]:
    """The groups with so many texts, and those with the rest; a group in both has its sign in both."""
    before: list[Group] = []
    after: list[Group] = []
    for group in groups:
        for part, texts in ((before, group.texts[:count]), (after, group.texts[count:])):
            if texts:
                part.append(replace(group, texts=texts))
        count = max(0, count - len(group.texts))
    return tuple(before), tuple(after)


def draw(flow: Flow, groups: Iterable[Group]) -> None:
    """Each group beside its sign; the sign stands again where a group runs on in another column."""
    for group in groups:
        _group(flow, group)


def height(flow: Flow, groups: Iterable[Group], *, columns: int) -> float:
    """How high the groups are below each other in one of so many columns."""
    width = flow.width_of(columns)
    return sum(_group_height(flow, group, width) for group in groups)


def _group(flow: Flow, group: Group) -> None:
    low = _begin(flow, group, group.texts[0])
    for number, text in enumerate(group.texts):
        if number and flow.need(_height(flow, text, flow.width)):
            low = _begin(flow, group, text)
        flow.paragraph(text, indent=INDENT, gap=GAP)
    flow.y = min(flow.y, low) - GAP


def _begin(flow: Flow, group: Group, text: str) -> float:
    """The sign and its words, with room for a text; returns how far down the sign reaches."""
    flow.need(max(SIDE, _height(flow, text, flow.width) + bool(group.head) * flow.body.leading))
    corner = (flow.left, flow.y - SIDE)
    flow.draw(_sign(group.sign, corner))
    if group.head:
        flow.text(flow.left + INDENT, flow.y - flow.type_pt, group.head, flow.strong)
        flow.y -= flow.body.leading
    return corner[1]


def _group_height(flow: Flow, group: Group, width: float) -> float:
    texts = sum(_height(flow, text, width) + GAP for text in group.texts)
    return max(SIDE, bool(group.head) * flow.body.leading + texts) + GAP


def _height(flow: Flow, text: str, width: float) -> float:
    return len(glyphs.wrapped(text, within=width - INDENT, size=flow.type_pt)) * flow.body.leading


def _sign(sign: str, corner: tuple[float, float]) -> Drawn:
    return lambda pen: signs.draw(pen.canvas, sign, corner, side=SIDE)
