"""Every word of the screens goes through gettext: read in templates, and seen in an invented language."""

import io
import re
from html.parser import HTMLParser
from pathlib import Path

import pytest
from babel.messages.catalog import Catalog
from babel.messages.extract import extract
from babel.messages.mofile import write_mo
from django.test import override_settings
from django.utils import translation
from django.utils.translation.template import templatize

from kits.planning.registry import ROLES
from shop.calc.words import words_of
from shop.services import drafts, quotes
from tests.shop.counter import actor, person, quoted, spec
from tests.shop.screens import signed_in
from tests.template_text import unwrapped

SHOP = Path(__file__).resolve().parents[2] / "shop"
TEMPLATES = sorted((SHOP / "templates").rglob("*.html"))
KEYWORDS = dict.fromkeys(("_", "gettext", "gettext_lazy", "gettext_noop", "lazy", "noop"))
PLURALS = {"ngettext": (1, 2)}
INVENTED = "ar"  # its code is that of a language from right to left; its words are English in brackets
SPOKEN = {"button", "label", "th", "dt", "h2", "h3", "legend", "caption"}
DATA = {"kbd", "bdi", "h1", "b", "option", "textarea"}
# Numbers with their unit, perhaps by a name.
FIGURE = re.compile(r"^\s*(\w+_\w+: )?[\d.,]+( . [\d.,]+)? \S+\s*$")
PAGES = ("/worktable/{draft}/", "/quotes/", "/quotes/{quote}/", "/orders/", "/orders/{order}/")
PAGES += ("/shelf/", "/shelf/BAG/", "/password/", "/find/?q=zzzz", "/mixes/")


@pytest.mark.parametrize("template", TEMPLATES, ids=lambda path: path.name)
def test_a_template_says_nothing_that_gettext_does_not_see(template):
    assert unwrapped(template.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize(
    ("source", "found"),
    [
        ("<p>Hold it</p>", ["Hold it"]),
        ("<p>{% translate 'Hold it' %} now</p>", ["now"]),
        ("<p>{% blocktranslate %}Held for {{ who }}{% endblocktranslate %}</p>", []),
        ('<a title="Go on" href="/go">{{ name }}</a>', ["Go on"]),
        ("{{ who|default:'x' }}{{ name|default:\"nobody\" }}", ["nobody"]),
        ('{% state "held" "open, held" %}', ["open, held"]),
        ("{# said to nobody #}<kbd>Ctrl</kbd> 12 mm", []),
        ("{% if a %}one of{% else %}two{% endif %}", ["one of", "two"]),
    ],
)
def test_the_reader_of_templates_finds_what_is_left(source, found):
    assert unwrapped(source) == found


def messages():
    """Every message of templates and Python, with its plural, and every role as words."""
    yield from map(words_of, ROLES)
    for path in (*TEMPLATES, *SHOP.rglob("*.py")):
        text = path.read_text(encoding="utf-8")
        code = templatize(text) if path.suffix == ".html" else text
        found = extract("python", io.BytesIO(code.encode()), KEYWORDS | PLURALS)
        yield from (message for _, message, _, _ in found)


@pytest.fixture(scope="module")
def invented(tmp_path_factory):
    """A folder with a language in which every English message stands in brackets."""
    catalogue = Catalog(locale=INVENTED)
    for message in messages():
        is_one = isinstance(message, str)
        said = f"[{message}]" if is_one else (f"[{message[0]}]",) * catalogue.num_plurals
        catalogue.add(message, said)
    folder = tmp_path_factory.mktemp("locale") / INVENTED / "LC_MESSAGES"
    folder.mkdir(parents=True)
    with (folder / "django.mo").open("wb") as file:
        write_mo(file, catalogue)
    return folder.parents[1]


@pytest.fixture
def browse(shop, invented):
    """A browser that asks for the invented language."""
    languages = [("en", "English"), (INVENTED, "Invented")]
    with override_settings(LOCALE_PATHS=[invented], LANGUAGES=languages):
        client = signed_in("Ada")
        yield lambda address: client.get(address, headers={"Accept-Language": INVENTED}).content.decode()
    translation.activate("en")


class Spoken(HTMLParser):
    """The texts of the elements in which only the house speaks, keys and data left out."""

    def __init__(self, html):
        super().__init__()
        self.open, self.texts = [], []
        self.feed(html)

    def handle_starttag(self, tag, attrs):
        if tag in SPOKEN | DATA:  # a row's heading names what the row holds
            self.open.append((tag, tag in SPOKEN and dict(attrs).get("scope") != "row"))

    def handle_endtag(self, tag):
        if self.open and self.open[-1][0] == tag:
            self.open.pop()

    def handle_data(self, data):
        is_text = any(letter.isalpha() for letter in data) and not FIGURE.search(data)
        if self.open and self.open[-1][1] and is_text:
            self.texts.append(" ".join(data.split()))


@pytest.fixture
def names(shop):
    draft = drafts.begin(person("Ada"), spec=spec(BAG=1), actor=actor("Ada"))
    number = drafts.save(draft, actor=actor("Ada")).number
    order = quotes.accept(quoted(BAG=1).number, actor=actor("Ada"))
    return {"draft": draft.pk, "quote": number, "order": order.number}


@pytest.mark.parametrize("address", PAGES)
def test_a_screen_in_an_invented_language_speaks_it_everywhere(names, browse, address):
    page = browse(address.format(**names))
    assert f'<html lang="{INVENTED}" dir="rtl"' in page
    spoken = Spoken(page).texts
    assert len(spoken) > 2
    left = [text for text in spoken if "[" not in text]
    assert left == []


@pytest.mark.parametrize("address", ["/password/", "/quotes/9Z/"])
def test_a_language_changes_words_and_no_look(browse, address):
    assert '<main class="sheet alone"' in browse(address)


def test_whoever_asks_for_a_language_that_is_not_there_gets_english(shop):
    page = signed_in("Ada").get("/quotes/", headers={"Accept-Language": "fr"}).content.decode()
    assert '<html lang="en" dir="ltr">' in page
