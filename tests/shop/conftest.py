import pytest
from django.db import transaction

from kits.services.facts import load_facts
from tests.shop.counter import Caller, open_shop, quoted


@pytest.fixture(scope="module")
def opened(django_db_setup, django_db_blocker):
    """The published facts and a small shop, in a transaction that is rolled back after the module."""
    with django_db_blocker.unblock(), transaction.atomic():
        load_facts()
        open_shop()
        yield
        transaction.set_rollback(True)


@pytest.fixture
def shop(opened, django_db_blocker):
    """One test's own changes to the small shop are undone after it."""
    with django_db_blocker.unblock(), transaction.atomic():
        yield
        transaction.set_rollback(True)


@pytest.fixture
def ada(shop):
    return Caller("Ada")


@pytest.fixture
def ben(shop):
    return Caller("Ben")


@pytest.fixture
def cleo(shop):
    return Caller("Cleo")


@pytest.fixture
def print_folder(settings, tmp_path):
    """What is printed goes to a folder of the test's own."""
    settings.PRINT_FOLDER = tmp_path


@pytest.fixture
def numbers(shop):
    """Three quotes to print."""
    return [quoted(BAG=n).number for n in (1, 2, 3)]
