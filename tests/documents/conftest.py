"""The small shop of the counter's tests, for documents read from a database."""

from tests.shop.conftest import ada, cleo, opened, shop  # noqa: F401  Fixtures are found by their names here.
