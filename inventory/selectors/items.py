"""Finding items: by a code or barcode exactly, else by what their code or name looks like."""

import re
from collections.abc import Mapping, Sequence

from django.db import connection, transaction

from inventory.calc.errors import Impossible
from inventory.calc.gtin import gtin14
from inventory.models import Item

LONGEST = 100  # characters looked at
MOST_WORDS = 6
CANDIDATES = 500  # rows that one way of matching may bring; keeps a word that thousands share cheap
LIKENESS = 0.45  # share of a word's trigrams that must be found: one wrong letter in five passes

EXACT = """
SELECT id, active, 0 AS rank FROM inventory_item WHERE UPPER(code) = UPPER(%(text)s)
UNION ALL
SELECT id, active, 1 FROM inventory_item WHERE id IN (
    SELECT item_id FROM inventory_supersededcode WHERE code IN (%(text)s, UPPER(%(text)s), LOWER(%(text)s))
    UNION SELECT item_id FROM inventory_barcode WHERE text = %(text)s
    UNION SELECT item_id FROM inventory_barcode WHERE gtin <> '' AND gtin = %(gtin)s
)
ORDER BY rank, active DESC, id
"""

CONTAINED = """
SELECT id FROM (
    (SELECT id, active, name, 2 AS rank FROM inventory_item
     WHERE UPPER(code) LIKE UPPER(%(prefix)s) LIMIT {most})
    UNION ALL
    (SELECT id, active, name, 3 FROM inventory_item WHERE UPPER(name) LIKE UPPER(%(prefix)s) LIMIT {most})
    UNION ALL
    (SELECT id, active, name, 4 FROM inventory_item WHERE {words} LIMIT {most})
) found
GROUP BY id, active, name ORDER BY active DESC, MIN(rank), name, id LIMIT %(limit)s
"""

ALIKE = """
SELECT id FROM (
    SELECT id, active, name, {likeness} AS likeness FROM inventory_item WHERE {words} LIMIT {most}
) found
ORDER BY active DESC, likeness DESC, name, id LIMIT %(limit)s
"""

WORD_ALIKE = "(UPPER(%({word})s) <%% UPPER(name) OR UPPER(%({word})s) <%% UPPER(code))"
WORD_LIKENESS = (
    "GREATEST(word_similarity(UPPER(%({word})s), UPPER(name)), "
    "word_similarity(UPPER(%({word})s), UPPER(code)))"
)
WORD_CONTAINED = "(UPPER(name) LIKE UPPER(%({word})s) OR UPPER(code) LIKE UPPER(%({word})s))"
# The planner thinks a comparison of trigrams as cheap as one of numbers, and would make too many.
FOR_TRIGRAMS = (
    "SELECT set_config('cpu_operator_cost', '0.5', true), "
    "set_config('pg_trgm.word_similarity_threshold', %(likeness)s, true)"
)


def named(quantities: Mapping[str, int], *, between: str = " x ") -> list[str]:
    """Quantities of items by the names that people know them by, such as "2 x Sphagnum, 4 L"; one query."""
    names = dict(Item.objects.filter(code__in=quantities).values_list("code", "name"))
    return [f"{quantity}{between}{names.get(code) or code}" for code, quantity in quantities.items()]


def find(text: str, limit: int = 20) -> list[Item]:
    """Items that answer to the text, best first, inactive ones last in each way of matching.

    A code (also a superseded one) or a barcode in any scanned form comes first; then codes and names that
    begin with the text; then those that hold every word; then, when that is not enough, those with words like
    these (typing mistakes). At most eight round trips, whatever the number of items.
    """
    asked = " ".join(text.replace("\0", "").split())[:LONGEST].strip()
    if not asked or limit < 1:
        return []
    ids = _exact(asked)
    if len(ids) < limit:
        ids += [pk for pk in _lookalikes(asked, limit + len(ids)) if pk not in ids]
    found = Item.objects.select_related("tax_class", "place").in_bulk(ids[:limit])
    return [found[pk] for pk in ids[:limit]]


def _exact(text: str) -> list[int]:
    rows = _rows(EXACT, {"text": text, "gtin": _gtin(text)})
    return list(dict.fromkeys(rows))


def _lookalikes(text: str, limit: int) -> list[int]:
    with transaction.atomic():
        _rows(FOR_TRIGRAMS, {"likeness": str(LIKENESS)})
        ids = _contained(text, limit)
        if len(ids) < limit:
            ids += [pk for pk in _alike(text, limit) if pk not in ids]
        transaction.set_rollback(True)  # nothing was written; this takes the two settings back
    return ids


def _contained(text: str, limit: int) -> list[int]:
    patterns = {f"word{n}": f"%{_literal(word)}%" for n, word in enumerate(_words(text))}
    words = " AND ".join(WORD_CONTAINED.format(word=word) for word in patterns)
    if not any(_has_trigram(word) for word in _words(text)):
        words = "false"  # the index could not help: the whole table would be read
    sql = CONTAINED.format(words=words, most=CANDIDATES)
    return _rows(sql, {**patterns, "prefix": f"{_literal(text)}%", "limit": limit})


def _alike(text: str, limit: int) -> list[int]:
    words = {f"word{n}": word for n, word in enumerate(filter(_has_trigram, _words(text)))}
    if not words:
        return []
    sql = ALIKE.format(
        words=" AND ".join(WORD_ALIKE.format(word=word) for word in words),
        likeness=" + ".join(WORD_LIKENESS.format(word=word) for word in words),
        most=CANDIDATES,
    )
    return _rows(sql, {**words, "limit": limit})


def _rows(sql: str, values: Mapping[str, str | int]) -> list[int]:
    with connection.cursor() as cursor:
        cursor.execute(sql, values)
        return [row[0] for row in cursor.fetchall()]


def _words(text: str) -> Sequence[str]:
    return text.split()[:MOST_WORDS]


def _has_trigram(word: str) -> bool:
    return re.search(r"[^\W_]{3}", word) is not None


def _literal(text: str) -> str:
    """Text as a LIKE pattern means itself."""
    return text.replace("\\", "\\\\").replace("%", "\\%").replace("_", "\\_")


def _gtin(text: str) -> str:
    try:
        return gtin14(text)
    except Impossible:
        return ""  # thirteen digits with a wrong check digit may still be a code of the shop's own
