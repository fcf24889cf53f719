"""Searching 50,000 items, and the list pages of a shop of full size with the queries that each asks."""

from collections.abc import Callable, Iterator
from typing import Any

from django.db import connection
from rest_framework.test import APIClient

from inventory.actors import SYSTEM
from inventory.models import Item
from inventory.selectors import items
from shop.measure.filling import grow
from shop.measure.rows import Row, milliseconds, p95, timed
from shop.measure.scratch import scratch_database
from shop.services import staff

SEARCH_LIMIT_MS, LIST_LIMIT_MS, MOST_QUERIES = 50.0, 150.0, 12
LISTS = ("/api/quotes/", "/api/orders/", "/api/items/?search=cork", "/api/standard-kits/")


def measure() -> Iterator[Row]:
    """The slowest twentieth of searches and of each list page, and the most queries that one page asks."""
    with scratch_database():
        grow(50_000)
        words = _search_words()
        timed(items.find, words[:10])
        times = timed(items.find, words)
        yield Row("search.p95_50000_items", p95(times), SEARCH_LIMIT_MS, "ms", note=f"{len(words)} searches")
        client = _owner()
        for path in LISTS:
            yield from _list_rows(client, path)


def _search_words() -> list[str]:
    names = list(Item.objects.order_by("pk").values_list("name", "code")[:120])
    whole = [name.split()[0][:8] for name, _ in names]
    typos = [word[:2] + word[3:] for word in whole if len(word) > 5]
    return [word for word in (*whole, *typos, *(code[:6] for _, code in names)) if len(word) >= 3]


def _owner() -> APIClient:
    staff.add("measure", roles=["owner"], actor=SYSTEM)
    client = APIClient()
    token = staff.token("measure", actor=SYSTEM)
    client.credentials(HTTP_AUTHORIZATION=f"Token {token}", HTTP_HOST="localhost")
    return client


def _list_rows(client: APIClient, path: str) -> Iterator[Row]:
    queries = _Queries()
    with connection.execute_wrapper(queries):
        answer = client.get(path)
    if answer.status_code != 200 or not queries.count:
        raise RuntimeError(f"{path} was answered with {answer.status_code} after {queries.count} queries.")
    times = [milliseconds(lambda: client.get(path)) for _ in range(40)]
    yield Row(f"list{path}", p95(times), LIST_LIMIT_MS, "ms", note=f"{queries.count} queries")
    yield Row(f"queries{path}", float(queries.count), float(MOST_QUERIES), "")


class _Queries:
    """Counts what is asked of the database."""

    def __init__(self) -> None:
        self.count = 0

    def __call__(self, execute: Callable[..., Any], *arguments: Any) -> Any:
        self.count += 1
        return execute(*arguments)
