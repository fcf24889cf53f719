"""The owner sees on every page how old the nightly backup is; nobody else need look after it."""

from datetime import UTC, datetime, timedelta

import pytest

from shop.services import backups
from tests.shop.screens import signed_in

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("shop")]


@pytest.fixture
def aged(tmp_path, settings):
    """A backup of so many hours ago."""

    def put(hours):
        settings.BACKUP_FOLDER = tmp_path
        made = datetime.now(UTC) - timedelta(hours=hours)
        (tmp_path / f"{made:{backups.STAMP}}{backups.ENDING}").touch()

    return put


@pytest.mark.parametrize(
    ("hours", "words"), [(1, "Backup 1 hour old"), (7, "Backup 7 hours old"), (50, "▲ Backup overdue")]
)
def test_the_owner_sees_its_age(aged, hours, words):
    aged(hours)
    assert words in signed_in("Ada").get("/quotes/").content.decode()


def test_others_do_not(aged):
    aged(50)
    assert "Backup" not in signed_in("Ben").get("/quotes/").content.decode()
