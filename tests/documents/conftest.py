"""The small shop of the counter's tests, for documents read from a database."""

from tests.shop.conftest import (  # noqa: F401  Fixtures are found by their names here.
    ada,
    cleo,
    numbers,
    opened,
    print_folder,
    shop,
)
