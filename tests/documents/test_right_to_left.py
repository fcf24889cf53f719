"""Arabic and Hebrew on paper: joined, turned as they are read, brackets the right way round."""

import io
import unicodedata

import pypdf
import pytest

from inventory.documents import glyphs
from inventory.documents.labels import ShelfLabel, shelf_label
from inventory.documents.pen import About, Pen, Style, pdf
from tests.documents.papers import picture, text_of

# Forms by the Unicode chart of Arabic Presentation Forms-B: initial, medial and final of the letters.
JOINED = [
    ("مريم", "\ufee3\ufeae\ufef3\ufee2"),
    ("حسن", "\ufea3\ufeb4\ufee6"),
    ("لا", "\ufefb"),
    ("بيت", "\ufe91\ufef4\ufe96"),
]
LETTERS = [chr(code) for code in (*range(0x0621, 0x063B), *range(0x0641, 0x064B))]
PERSIAN_AND_URDU = list("پچژکگیٹڈڑ")  # Urdu's last letter, U+06D2, is not in the typeface


def page(text, *, joined=True):
    shown = glyphs.in_reading_order(glyphs.printable(text)) if joined else text[::-1]

    def draw(pen: Pen) -> None:
        pen.canvas.setFont("Sans", 40)
        pen.canvas.drawString(20, 30, shown)

    return pdf((300, 90), About("words", "shop"), draw)


def inked_columns(pdf_bytes):
    """Runs of columns with ink: letters that join are one run."""
    sheet = picture(pdf_bytes, 144)
    dark = [
        min(sheet.crop((x, 0, x + 1, sheet.height)).get_flattened_data()) < 128 for x in range(sheet.width)
    ]
    return sum(1 for before, now in zip([False, *dark], dark, strict=False) if now and not before)


@pytest.mark.parametrize(("typed", "forms"), JOINED)
def test_arabic_letters_take_the_forms_in_which_they_join(typed, forms):
    assert glyphs.printable(typed) == forms
    assert glyphs.in_reading_order(forms) == forms[::-1]


@pytest.mark.parametrize("font", ["Sans", "Sans-Bold"])
@pytest.mark.parametrize("letter", LETTERS + PERSIAN_AND_URDU)
def test_every_letter_is_in_the_typeface_in_every_place(letter, font):
    typed = f"{letter} {letter * 3} ب{letter} {letter}ب ب{letter}ب"
    shown = glyphs.printable(typed, font)
    assert glyphs.MISSING not in shown
    assert unicodedata.normalize("NFKC", shown) == unicodedata.normalize("NFKC", typed)


def test_joined_letters_touch_on_paper_and_letters_side_by_side_do_not():
    assert inked_columns(page("بيتس")) == 1
    assert inked_columns(page("بيتس", joined=False)) == 4


@pytest.mark.parametrize(
    ("typed", "drawn"),
    [
        ("שלום (45) Bo", "Bo (45) םולש"),
        ("Bo (שלום) 45", "Bo (םולש) 45"),
        ("שלום <אב>", "<בא> םולש"),
        ("a (b) שלום", "a (b) םולש"),
        ("Bo & Co (x) [y]", "Bo & Co (x) [y]"),
    ],
)
def test_brackets_open_towards_their_words(typed, drawn):
    """Rules N0 and L4 of Unicode Annex 9, worked out by hand."""
    assert glyphs.in_reading_order(typed) == drawn


def test_vowel_signs_stay_with_their_letters():
    assert glyphs.in_reading_order(glyphs.printable("בָ")) == "\u05b8ב"
    assert "\u064e" in glyphs.printable("بَيت")


def test_a_line_that_is_prepared_twice_is_the_same():
    once = glyphs.printable("لا محمد شَدّة")
    assert glyphs.printable(once) == once


def test_an_arabic_name_on_a_label_reads_back_as_it_was_typed():
    name = "طحلب رطب للبيوت"
    label = shelf_label(ShelfLabel("MOSS-1", name, "6.50 USD", "bag", "محل"))
    read = pypdf.PdfReader(io.BytesIO(label)).pages[0].extract_text()
    words = [unicodedata.normalize("NFKC", word) for word in read.split()]
    assert all(word[::-1] in words or word in words for word in name.split())
    assert glyphs.MISSING not in text_of(label)


def test_a_long_name_is_measured_as_it_is_drawn():
    name = "محمد " * 30
    lines = glyphs.wrapped(name, within=120, size=8)
    assert all(glyphs.width(glyphs.in_reading_order(line), size=8) <= 120 for line in lines)
    assert sum(unicodedata.normalize("NFKC", line).count("محمد") for line in lines) == 30


def test_the_pen_draws_a_line_once_prepared_and_returns_its_width():
    widths = []
    pdf((300, 90), About("a", "b"), lambda pen: widths.append(pen.text(0, 0, "مريم", Style(10))))
    assert widths == [glyphs.width(glyphs.printable("مريم"), size=10)]
