"""The one counter that quotes and orders take their numbers from."""

from django.db import connection

from inventory.calc.codes import numbered


def take() -> str:
    """The next number, e.g. "1042H". Never twice; a gap only where work was undone."""
    with connection.cursor() as cursor:
        cursor.execute("SELECT nextval('shop_number')")
        (counter,) = cursor.fetchone()
    return numbered(counter)
