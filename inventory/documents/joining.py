"""Many PDFs made here joined into one, a part at a time, so that a long print takes no more memory.

It reads only what this house's own pen writes: an ordinary cross-reference table, no object streams, no
encryption. Nothing of a part is kept but the number of its page tree.
"""

import re
from array import array
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import BinaryIO

from inventory.documents.pen import About

HEADER = b"%PDF-1.4\n%\xe2\xe3\xcf\xd3\n"
CATALOG, TREE, INFO = 1, 2, 3
_REFERENCE = re.compile(rb"\b(\d+) 0 R\b")
_ROOT = re.compile(rb"/Root (\d+) 0 R")
_PAGES = re.compile(rb"/Pages (\d+) 0 R")
_COUNT = re.compile(rb"/Count (\d+)")


def join(parts: Iterable[Path], out: BinaryIO, about: About) -> int:
    """Write the pages of all parts in their order as one document; returns how many pages it has."""
    writer = _Writer(out)
    writer.raw(HEADER)
    trees, pages = array("Q"), 0
    for part in parts:
        tree, count = _append(writer, part.read_bytes())
        trees.append(tree)
        pages += count
    kids = b" ".join(b"%d 0 R" % tree for tree in trees)
    writer.place(TREE, b"<< /Type /Pages /Count %d /Kids [ %s ] >>" % (pages, kids))
    writer.place(CATALOG, _catalog(about))
    writer.place(INFO, _info(about))
    writer.finish()
    return pages


class _Writer:
    """Numbers and places objects; keeps eight bytes for each."""

    def __init__(self, out: BinaryIO) -> None:
        self.out, self.at = out, 0
        self.offsets = array("Q", [0, 0, 0, 0])

    def raw(self, data: bytes) -> None:
        self.at += self.out.write(data)

    def reserve(self) -> int:
        self.offsets.append(0)
        return len(self.offsets) - 1

    def place(self, number: int, *body: bytes) -> None:
        self.offsets[number] = self.at
        self.raw(b"%d 0 obj\n" % number)
        for piece in body:
            self.raw(piece)
        self.raw(b"\nendobj\n")

    def finish(self) -> None:
        begins, size = self.at, len(self.offsets)
        self.raw(b"xref\n0 %d\n0000000000 65535 f \n" % size)
        for offset in self.offsets[1:]:
            self.raw(b"%010d 00000 n \n" % offset)
        root = b"trailer\n<< /Size %d /Root %d 0 R /Info %d 0 R >>\n" % (size, CATALOG, INFO)
        self.raw(root + b"startxref\n%d\n%%%%EOF\n" % begins)


def _append(writer: _Writer, data: bytes) -> tuple[int, int]:
    """Copy the objects of a part under new numbers; returns the number of its page tree and its pages."""
    begins = int(data[data.rindex(b"startxref") :].split()[1])
    offsets = _offsets(data, begins)
    root = int(_found(_ROOT, data[begins:]))
    tree = int(_found(_PAGES, _body(data, offsets, root, begins)))
    numbers = {old: writer.reserve() for old in offsets if old != root}
    pages = 0
    for old, new in numbers.items():
        body = _body(data, offsets, old, begins)
        if old == tree:
            pages = int(_found(_COUNT, body))
            body = body.replace(b"/Type /Pages", b"/Type /Pages /Parent %d 0 R" % TREE)
        writer.place(new, *_renumbered(body, numbers))
    return numbers[tree], pages


def _offsets(data: bytes, begins: int) -> dict[int, int]:
    _, counts, *entries = data[begins:].splitlines()
    first, count = (int(word) for word in counts.split())
    rows = enumerate(entries[:count], start=first)
    return {number: int(entry[:10]) for number, entry in rows if entry[17:18] == b"n"}


def _body(data: bytes, offsets: dict[int, int], number: int, end: int) -> bytes:
    start = offsets[number]
    stop = min((offset for offset in offsets.values() if offset > start), default=end)
    body = data[start:stop]
    return body[body.index(b"obj") + 3 : body.rindex(b"endobj")].strip(b"\r\n")


def _renumbered(body: bytes, numbers: dict[int, int]) -> Iterator[bytes]:
    """References outside a stream point at the new numbers; what is in a stream stays as it is."""
    head, keyword, stream = body.partition(b"stream")

    def moved(found: re.Match[bytes]) -> bytes:
        number = int(found[1])
        return b"%d 0 R" % numbers[number] if number in numbers else found[0]

    yield _REFERENCE.sub(moved, head)
    yield keyword
    yield stream


def _found(pattern: re.Pattern[bytes], data: bytes) -> bytes:
    found = pattern.search(data)
    if found is None:
        raise ValueError("This is not a PDF that the pen of this house wrote.")
    return found[1]


def _catalog(about: About) -> bytes:
    return b"<< /Type /Catalog /Pages %d 0 R /Lang (%s) /ViewerPreferences << /DisplayDocTitle true >> >>" % (
        TREE,
        about.language.encode("ascii"),
    )


def _info(about: About) -> bytes:
    pairs = (("Title", about.title), ("Author", about.author), ("Producer", "Kitwright"))
    return b"<< %s >>" % b" ".join(b"/%s %s" % (name.encode(), _text(value)) for name, value in pairs)


def _text(value: str) -> bytes:
    return b"<feff%s>" % value.encode("utf-16-be").hex().encode()
