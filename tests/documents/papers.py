"""Documents made without a database, and eyes to read them with."""

import io
from dataclasses import replace
from functools import cache

import pdfplumber
import pypdfium2
import zxingcpp

from inventory.documents.flow import BLOCK_HEIGHT, MARGIN
from kits.documents import filling
from kits.documents.build_sheet import build_sheet
from kits.documents.content import Heading
from kits.drawings.scene import from_json
from kits.planning.build import draft_build
from kits.planning.requirements import owned_figures
from shop.documents.quote import QuoteLine, QuoteSheet, TaxRow
from tests.full_shelf import CRESTED, SHELF, plan_of, spec_of
from tests.known_facts import known_facts

HEADING = Heading("Saltmoss Vivaria", "Quillhaven", "1042K", 3, "2026-11-25", "Wren Oddfellow")


@cache
def plan():
    return plan_of(CRESTED).as_json()


def sheet_of(data=CRESTED, *, heading=HEADING):
    """The build sheet of a spec and its scene."""
    made, spec = plan_of(data), spec_of(data)
    owned, _ = owned_figures(spec, SHELF)
    build = draft_build(spec, facts=known_facts(), owned=owned).build
    return filling.fill(made.as_json(), build, filling.Told(heading)), from_json(made.scene)


@cache
def crested():
    return sheet_of()


@cache
def crested_pdf(paper="letter"):
    return build_sheet(*crested(), paper=paper)


def many_parts(count):
    """The crested sheet with so many lines, each with a name of its own."""
    sheet, scene = crested()
    first = sheet.parts[0]
    parts = tuple(
        replace(first, number=n, item=f"ITEM-{n}", name=f"Thing number {n}") for n in range(1, count + 1)
    )
    return replace(sheet, parts=parts), scene


def quote_sheet(**changes):
    lines = tuple(
        QuoteLine(n, line["item"], line["name"], line["quantity"], line["unit"], line["each"], line["total"])
        for n, line in enumerate(plan()["lines"], start=1)
    )
    sheet = QuoteSheet(
        shop="Saltmoss Vivaria", town="Quillhaven", number="1042K", version=3, date="2026-11-25",
        title="Crested gecko, humid forest", valid_until="2026-12-09", lines=lines, sum_before="400.00",
        discount="40.00", net="360.00", taxes=(TaxRow("6.25", "360.00", "22.50"),), gross="382.50",
        currency="USD", prices_include_tax=False,
    )  # fmt: skip
    return replace(sheet, **changes)


def opened(pdf):
    return pdfplumber.open(io.BytesIO(pdf))


def text_of(pdf):
    """The words of all pages, one space between them."""
    with opened(pdf) as document:
        return " ".join(" ".join((page.extract_text() or "").split()) for page in document.pages)


def text_of_columns(pdf):
    """All words without white space, column by column, so that a sentence stays together."""
    found = []
    with opened(pdf) as document:
        for page in document.pages:
            middle, floor = page.width / 2, page.height - MARGIN - BLOCK_HEIGHT
            for left, right in ((0, middle), (middle, page.width)):
                found += (page.crop((left, MARGIN, right, floor)).extract_text() or "").split()
    return "".join(found)


def page_count(pdf):
    return len(pypdfium2.PdfDocument(pdf))


def picture(pdf, dpi, page=0):
    """A page as a printer of this density sees it: one pixel is one dot."""
    return pypdfium2.PdfDocument(pdf)[page].render(scale=dpi / 72).to_pil().convert("L")


def read_codes(pdf, dpi, page=0):
    """Text and symbology of every code on a page, read from its dots."""
    found = zxingcpp.read_barcodes(picture(pdf, dpi, page))
    return sorted((code.bytes.decode("utf-8"), code.symbology_identifier) for code in found)
