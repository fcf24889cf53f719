import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from inventory.models import Barcode, Item, SupersededCode, TaxClass
from inventory.selectors import items

pytestmark = pytest.mark.django_db

WORDS = (
    *(
        "coarse",
        "fine",
        "washed",
        "dark",
        "pale",
        "forest",
        "desert",
        "river",
        "volcanic",
        "crushed",
        "milled",
    ),
    *(
        "woven",
        "sterile",
        "mineral",
        "humid",
        "deep",
        "oak",
        "beech",
        "cork",
        "bark",
        "moss",
        "litter",
        "sand",
    ),
    *(
        "gravel",
        "pumice",
        "clay",
        "coir",
        "charcoal",
        "fern",
        "leaf",
        "lamp",
        "tube",
        "holder",
        "dimmer",
        "mesh",
    ),
)
MANY = 50_000
TRIGRAMS = ["item_name_trigrams", "item_code_trigrams"]


@pytest.fixture
def tax():
    return TaxClass.objects.create(code="goods", name="Goods", rate=8)


@pytest.fixture
def shelf(tax):
    rows = {
        "MOSS-5": "Cushion moss, dried",
        "MOSS-20": "Cushion moss, dried, large",
        "LIT-OAK": "Oak leaf litter",
        "SUB-10": "Forest substrate",
        "OLD-1": "Cushion moss, last year's",
    }
    made = {code: Item.objects.create(code=code, name=name, tax_class=tax) for code, name in rows.items()}
    Item.objects.filter(code="OLD-1").update(active=False)
    Barcode.objects.create(item=made["LIT-OAK"], text="036000241457", gtin="00036000241457")
    SupersededCode.objects.create(item=made["SUB-10"], code="EARTH-10")
    return made


@pytest.fixture
def crowd(tax):
    """Fifty thousand items of three words each, tidied as autovacuum would; search needs no stock rows."""
    with connection.cursor() as cursor:
        cursor.execute("ALTER TABLE inventory_item DISABLE TRIGGER USER")
        cursor.execute(
            "INSERT INTO inventory_item (code, name, tax_class_id) "
            "SELECT upper(left(w[1 + i %% 35], 3)) || '-' || i, "
            "concat_ws(' ', w[1 + i %% 35], w[1 + i / 35 %% 35], w[1 + i / 1225 %% 35], i %% 97, 'L'), %s "
            "FROM generate_series(1, %s) i, (SELECT %s::text[] AS w) words",
            [tax.pk, MANY, list(WORDS)],
        )
        cursor.execute("SELECT gin_clean_pending_list(i) FROM unnest(%s::regclass[]) i", [TRIGRAMS])
        cursor.execute("ANALYZE inventory_item")


def codes(text, **options):
    return [item.code for item in items.find(text, **options)]


@pytest.mark.parametrize(
    ("text", "first"),
    [
        ("MOSS-20", "MOSS-20"),
        ("moss-20", "MOSS-20"),
        ("EARTH-10", "SUB-10"),
        ("036000241457", "LIT-OAK"),
        ("0036000241457", "LIT-OAK"),
        ("]E00036000241457", "LIT-OAK"),
        ("0 36000-24145 7", "LIT-OAK"),
        ("oak lit", "LIT-OAK"),
        ("litter oak", "LIT-OAK"),
        ("substrat", "SUB-10"),
        ("subsrate", "SUB-10"),
        ("forrest subtrate", "SUB-10"),
        ("litt", "LIT-OAK"),
        ("su", "SUB-10"),
    ],
)
def test_an_item_is_found_by_code_barcode_beginning_words_and_with_typing_mistakes(shelf, text, first):
    assert codes(text)[0] == first


def test_inactive_items_come_last(shelf):
    assert codes("cushion moss") == ["MOSS-5", "MOSS-20", "OLD-1"]


@pytest.mark.parametrize("text", ["", "  ", "\0", "zzzzqqqq", "%%%", "_", "\\", "'; --", "x" * 5000])
def test_text_that_matches_nothing_finds_nothing(shelf, text):
    assert codes(text) == []


def test_no_more_than_the_limit_is_found(shelf):
    assert len(codes("moss", limit=2)) == 2
    assert codes("moss", limit=0) == []


def test_a_search_takes_few_queries(shelf, django_assert_max_num_queries):
    with django_assert_max_num_queries(8):  # four searches and fetches, a setting, a savepoint and its end
        codes("mos")


SEARCHED = (
    *("mos", "fer", "forest", "forrest mos", "oak leaf litter"),
    *("charcaol", "LIT-400", "gravle 55", "zzzqqq"),
)


@pytest.mark.parametrize("text", SEARCHED)
def test_no_search_reads_the_whole_table_of_fifty_thousand_items(crowd, text):
    with CaptureQueriesContext(connection) as captured:
        items.find(text)
    asked = [query["sql"] for query in captured if " LIKE UPPER(" in query["sql"] or "<%" in query["sql"]]
    assert asked or items.find(text, limit=1)
    for sql in asked:
        assert "Seq Scan" not in explained(sql)


def test_likeness_is_looked_up_in_the_trigram_indexes(crowd):
    with CaptureQueriesContext(connection) as captured:
        items.find("forrest mos")
    (asked,) = [query["sql"] for query in captured if "word_similarity(UPPER" in query["sql"]]
    assert "item_name_trigrams" in explained(asked)


def explained(sql):
    """The way the database takes, under the settings of a search."""
    with connection.cursor() as cursor:
        cursor.execute(items.FOR_TRIGRAMS, {"likeness": str(items.LIKENESS)})
        cursor.execute("EXPLAIN " + sql.replace("%", "%%"), [])
        return "\n".join(row[0] for row in cursor.fetchall())


def test_the_settings_for_likeness_do_not_outlive_the_search(shelf):
    items.find("forrest")
    with connection.cursor() as cursor:
        cursor.execute("SHOW cpu_operator_cost")
        assert cursor.fetchone() == ("0.0025",)
