"""What the tags in brackets beside a figure stand for."""

import csv
import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

KEY = Path(__file__).resolve().parents[1] / "data" / "sources.csv"
BRACKETS = re.compile(r"\[([^\]]+)\]")


@dataclass(frozen=True, slots=True)
class Source:
    """One place that figures were taken from; the address says so where it is withheld or was not kept."""

    tag: str
    words: str
    address: str


@cache
def sources() -> Mapping[str, Source]:
    """All sources by tag; the file is read once."""
    with KEY.open(encoding="utf-8", newline="") as handle:
        return {row["tag"]: Source(**row) for row in csv.DictReader(handle)}


def sources_in(text: str) -> tuple[Source, ...]:
    """The sources that a figure's source text names, in order and each once; other words are left out."""
    parts = [part.split() for inside in BRACKETS.findall(text) for part in inside.split(",")]
    tags = dict.fromkeys(words[0] for words in parts if words)
    return tuple(sources()[tag] for tag in tags if tag in sources())
