"""Many PDFs joined into one without holding them in memory."""

import io
import tracemalloc

import pypdf
import pypdfium2

from inventory.documents.joining import join
from inventory.documents.labels import ShelfLabel, shelf_label
from inventory.documents.pen import About
from tests.documents.papers import crested_pdf, page_count, read_codes, text_of

ABOUT = About("Print 7: <two> & שלום", "Saltmoss Vivaria")


def label(n):
    return shelf_label(ShelfLabel(f"ITEM-{n}", f"Thing 1 0 R {n}", "1.00", "piece", "Shop"))


def joined(tmp_path, contents):
    paths = []
    for number, content in enumerate(contents):
        paths.append(tmp_path / f"{number:04}.pdf")
        paths[-1].write_bytes(content)
    out = io.BytesIO()
    return join(paths, out, ABOUT), out.getvalue()


def test_pages_follow_each_other_as_they_were(tmp_path):
    pages, pdf = joined(tmp_path, [crested_pdf(), label(1), crested_pdf("a4"), label(2)])
    sheets = [page_count(crested_pdf(paper)) for paper in ("letter", "a4")]
    assert pages == page_count(pdf) == sum(sheets) + 2
    whole = pypdfium2.PdfDocument(pdf)
    assert (
        whole[0].render(scale=1).to_pil() == pypdfium2.PdfDocument(crested_pdf())[0].render(scale=1).to_pil()
    )
    assert read_codes(pdf, 203, pages - 1) == [("ITEM-2", "]C0")]
    assert "Thing 1 0 R 2" in text_of(pdf)


def test_another_reader_finds_no_fault_and_the_particulars(tmp_path):
    _, pdf = joined(tmp_path, [label(1), label(2)])
    reader = pypdf.PdfReader(io.BytesIO(pdf), strict=True)
    assert len(reader.pages) == 2
    assert reader.metadata.title == ABOUT.title
    assert reader.trailer["/Root"]["/Lang"] == "en-US"
    assert [page.mediabox.width for page in reader.pages] == [162, 162]


def test_joining_200_parts_keeps_next_to_nothing_in_memory(tmp_path):
    parts = [tmp_path / "part.pdf"] * 200
    parts[0].write_bytes(crested_pdf())
    with (tmp_path / "whole.pdf").open("wb") as out:
        tracemalloc.start()
        join(parts, out, ABOUT)
        _, peak = tracemalloc.get_traced_memory()
        tracemalloc.stop()
    assert (tmp_path / "whole.pdf").stat().st_size > 10_000_000
    assert peak < 2_000_000
