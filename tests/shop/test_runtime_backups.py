"""A backup comes back whole, or not at all."""

import json
import tarfile
from datetime import UTC, datetime, timedelta

import pytest
import time_machine
from django.contrib.auth.models import Group
from django.core.management import call_command
from django.db import connection
from django.db.migrations.recorder import MigrationRecorder

from shop.services import backups


def empty_the_database():
    with connection.cursor() as cursor:
        cursor.execute("DROP SCHEMA public CASCADE; CREATE SCHEMA public")


@pytest.fixture
def backup(committed_db, tmp_path):
    """A backup with a row of ours in it."""
    Group.objects.create(name="night shift")
    backups.make(tmp_path / "shop.backup")
    return tmp_path / "shop.backup"


def test_rows_come_back_and_agree_with_the_manifest(backup):
    empty_the_database()
    manifest = backups.restore(backup)
    assert Group.objects.get().name == "night shift"
    assert manifest["tables"]["auth_group"]["rows"] == 1
    assert {"movements", "stock", "lot_balances", "holds"} == set(manifest["ledger"])


def test_a_database_with_tables_is_not_touched(backup):
    with pytest.raises(backups.BackupRefused, match="not empty"):
        backups.restore(backup)
    assert Group.objects.count() == 1


def rewritten(backup, target, change):
    """The same backup with its manifest changed."""
    with tarfile.open(backup) as archive:
        archive.extractall(target, filter="data")
    manifest = json.loads((target / "manifest.json").read_text())
    change(manifest)
    (target / "manifest.json").write_text(json.dumps(manifest))
    with tarfile.open(target / "changed", "w") as archive:
        for name in ("manifest.json", "database.dump"):
            archive.add(target / name, arcname=name)
    return target / "changed"


@pytest.mark.parametrize(
    ("change", "why"),
    [
        (lambda m: m["tables"]["auth_group"].update(rows=2), "Rows differ from the backup in auth_group"),
        (
            lambda m: m["tables"]["auth_group"].update(checksum="1"),
            "Rows differ from the backup in auth_group",
        ),
        (lambda m: m["ledger"].update(movements=[9, 9]), "sums of the stock ledger differ"),
        (lambda m: m.update(sha256="0"), "damaged"),
        (lambda m: m.update(format=99), "newer version"),
    ],
    ids=["rows", "checksum", "ledger", "sha256", "format"],
)
def test_what_does_not_agree_is_refused_and_nothing_is_kept(backup, tmp_path, change, why):
    empty_the_database()
    changed = rewritten(backup, tmp_path, change)
    with pytest.raises(backups.BackupRefused, match=why):
        backups.restore(changed)
    assert connection.introspection.table_names() == []


@pytest.mark.parametrize("content", [b"", b"not a backup"])
def test_another_file_is_refused_in_one_sentence(committed_db, tmp_path, content):
    empty_the_database()
    (tmp_path / "other").write_bytes(content)
    with pytest.raises(backups.BackupRefused, match="is not a backup of this program"):
        backups.restore(tmp_path / "other")


def test_the_nightly_backup_is_made_once_a_day_and_the_oldest_are_dropped(committed_db, tmp_path, settings):
    settings.BACKUP_FOLDER, settings.BACKUPS_KEPT = tmp_path / "second", 2
    assert backups.state() == {"age_hours": None, "overdue": False}
    made = []
    for day in (1, 2, 3):
        with time_machine.travel(f"2031-05-0{day}T03:00:00+00:00", tick=False):
            made.append(backups.back_up_when_due())
            assert backups.back_up_when_due() is None
    assert sorted((tmp_path / "second").iterdir()) == made[1:]


@pytest.mark.parametrize(("days", "overdue"), [(1, False), (3, True)])
def test_a_backup_that_was_never_made_is_overdue_in_time(committed_db, tmp_path, settings, days, overdue):
    settings.BACKUP_FOLDER, now = tmp_path / "none", datetime.now(UTC)
    MigrationRecorder(connection).migration_qs.update(applied=now)
    with time_machine.travel(now + timedelta(days=days), tick=False):
        MigrationRecorder(connection).migration_qs.update(applied=datetime.now(UTC) - timedelta(days=days))
        assert backups.state() == {"age_hours": None, "overdue": overdue}


def test_the_commands_write_and_refuse_in_plain_words(committed_db, tmp_path, capsys):
    call_command("backup", str(tmp_path / "file"))
    assert "tables" in capsys.readouterr().out
    from shop.runtime.errors import CannotRun

    with pytest.raises(CannotRun, match="not empty"):
        call_command("restore", str(tmp_path / "file"))
