"""Lines of plain ASCII take a short way to the page and stand there as all others do."""

import pytest

from inventory.documents.paper import sheet_size
from inventory.documents.pen import About, Style, pdf
from tests.documents.papers import opened, picture

SIZE = sheet_size("letter")
ODD = r"a (b) c\d ((e) \n 100% ~{|}"


def page(line, style):
    return pdf(SIZE, About("t", "a"), lambda pen: pen.text(300, 300, line, style))


@pytest.mark.parametrize("bold", [False, True])
def test_brackets_and_backslashes_stand_on_the_page_as_they_were_typed(bold):
    with opened(page(ODD, Style(12, bold=bold))) as document:
        assert document.pages[0].extract_text() == ODD


@pytest.mark.parametrize("align", ["left", "right", "centre"])
def test_a_line_of_ascii_stands_where_one_with_other_signs_does(align):
    # The other line has a space outside ASCII, which is as wide and as blank as the usual one.
    style = Style(12, align=align)
    plain, other = page("Soil 60 mm", style), page("Soil\u00a060 mm", style)
    assert picture(plain, 150).tobytes() == picture(other, 150).tobytes()
