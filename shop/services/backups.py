"""One file that holds the whole shop, and the proof that it came back whole."""

import hashlib
import io
import json
import os
import subprocess
import tarfile
import tempfile
import time
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from django.conf import settings
from django.db import DatabaseError, connection, transaction
from django.db.migrations.recorder import MigrationRecorder
from django.db.models import Min
from psycopg import sql

from shop.runtime.programs import programs_folder

FORMAT = 1
DUMP = "database.dump"
MANIFEST = "manifest.json"
STAMP = "%Y%m%dT%H%M%SZ"
ENDING = ".kitwright-backup"
LEDGER_SUMS = {
    "movements": "SELECT count(*), coalesce(sum(quantity), 0) FROM inventory_movement",
    "stock": "SELECT coalesce(sum(sellable), 0), coalesce(sum(held), 0) FROM inventory_stock",
    "lot_balances": "SELECT count(*), coalesce(sum(on_hand), 0) FROM inventory_lotbalance",
    "holds": "SELECT count(*), coalesce(sum(quantity), 0) FROM inventory_hold",
}


class BackupRefused(Exception):
    """A backup cannot be made or trusted; the sentence says why."""


def make(target: Path) -> dict[str, Any]:
    """Write a backup, complete or not at all, and return its manifest."""
    if target.is_dir() or not target.parent.is_dir():
        raise BackupRefused(f"The file {target} cannot be written: its folder is missing or it is a folder.")
    with tempfile.TemporaryDirectory(prefix="kitwright-backup-") as room:
        dump = Path(room) / DUMP
        manifest = _dump(dump)
        draft = target.with_name(f".{target.name}.draft")
        try:
            _pack(draft, dump, manifest)
            draft.replace(target)
        finally:
            draft.unlink(missing_ok=True)
    return manifest


def restore(source: Path) -> dict[str, Any]:
    """Bring a backup into the empty database, prove it, and return its manifest."""
    if connection.introspection.table_names():
        raise BackupRefused("The database is not empty: restore into a new data folder.")
    with tempfile.TemporaryDirectory(prefix="kitwright-restore-") as room:
        manifest = _unpack(source, Path(room))
        try:
            _run("pg_restore", "--single-transaction", "--exit-on-error", "--no-owner", "--no-privileges",
                 "--dbname", _database_name(), str(Path(room) / DUMP))  # fmt: skip
            _prove(manifest)
        except BackupRefused:
            _empty_the_database()
            raise
    return manifest


def back_up_when_due() -> Path | None:
    """Make the nightly backup when the newest is a day old, and drop the oldest ones."""
    folder = Path(settings.BACKUP_FOLDER)
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    age = _newest_age_hours()
    if age is not None and age < settings.BACKUP_HOURS:
        return None
    target = folder / f"{datetime.now(UTC):{STAMP}}{ENDING}"
    make(target)
    for old in _kept()[: -settings.BACKUPS_KEPT]:
        old.unlink()
    return target


def state() -> dict[str, Any]:
    """How old the newest nightly backup is; one that was never made is overdue as well, in time."""
    age = _newest_age_hours()
    waited = _database_age_hours() if age is None else age
    overdue = waited > 2 * settings.BACKUP_HOURS
    return {"age_hours": None if age is None else round(age, 1), "overdue": overdue}


def _kept() -> list[Path]:
    return sorted(Path(settings.BACKUP_FOLDER).glob(f"[0-9]*T[0-9]*Z{ENDING}"))


def _newest_age_hours() -> float | None:
    kept = _kept()
    if not kept:
        return None
    made = datetime.strptime(kept[-1].name.removesuffix(ENDING), STAMP).replace(tzinfo=UTC)
    return (datetime.now(UTC) - made).total_seconds() / 3600


def _database_age_hours() -> float:
    """How long there has been something to back up; 0 while the database does not answer."""
    try:
        made = MigrationRecorder(connection).migration_qs.aggregate(first=Min("applied"))["first"]
    except DatabaseError:
        return 0.0
    return 0.0 if made is None else (datetime.now(UTC) - made).total_seconds() / 3600


def _dump(dump: Path) -> dict[str, Any]:
    """Dump and count in one snapshot, so that the figures are those of the dump while the shop goes on."""
    with transaction.atomic(), connection.cursor() as cursor:
        cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ")
        cursor.execute("SELECT pg_export_snapshot(), current_setting('server_version_num')::int / 10000")
        snapshot, major = cursor.fetchone()
        _run("pg_dump", "--format=custom", "--compress=gzip:3", "--no-owner", "--no-privileges",
             f"--snapshot={snapshot}", "--file", str(dump), _database_name())  # fmt: skip
        figures = _figures()
    return {
        "format": FORMAT,
        "made_at": datetime.now(UTC).isoformat(timespec="seconds"),
        "postgresql": major,
        "sha256": _sha256(dump),
        **figures,
    }


def _figures() -> dict[str, Any]:
    """Rows and a checksum of every table that do not depend on row order, and the sums of the ledger."""
    tables, ledger = {}, {}
    with connection.cursor() as cursor:
        for table in sorted(connection.introspection.table_names(cursor)):
            statement = sql.SQL(
                "SELECT count(*), coalesce(sum(hashtextextended(t::text, 0)::numeric), 0)::text FROM {} t"
            )
            cursor.execute(statement.format(sql.Identifier(table)))
            rows, checksum = cursor.fetchone()
            tables[table] = {"rows": rows, "checksum": checksum}
        for name, statement_text in LEDGER_SUMS.items():
            cursor.execute(statement_text)
            ledger[name] = [int(figure) for figure in cursor.fetchone()]
    return {"tables": tables, "ledger": ledger}


def _prove(manifest: dict[str, Any]) -> None:
    """Refuse what came back unless its rows, checksums and ledger sums are those of the manifest."""
    found = _figures()
    if found["ledger"] != manifest["ledger"]:
        raise BackupRefused("The sums of the stock ledger differ from those of the backup; nothing was kept.")
    wanted = manifest["tables"]
    differing = [
        name for name in {**wanted, **found["tables"]} if wanted.get(name) != found["tables"].get(name)
    ]
    if differing:
        raise BackupRefused(
            f"Rows differ from the backup in {', '.join(sorted(differing))}; nothing was kept."
        )


def _empty_the_database() -> None:
    with connection.cursor() as cursor:
        cursor.execute("DROP SCHEMA public CASCADE")
        cursor.execute("CREATE SCHEMA public")


def _pack(target: Path, dump: Path, manifest: dict[str, Any]) -> None:
    text = json.dumps(manifest, indent=1).encode()
    target.touch(mode=0o600)
    with tarfile.open(target, "w") as archive:
        entry = tarfile.TarInfo(MANIFEST)
        entry.size, entry.mtime = len(text), int(time.time())
        archive.addfile(entry, io.BytesIO(text))
        archive.add(dump, arcname=DUMP)
    with target.open("rb") as file:
        os.fsync(file.fileno())


def _unpack(source: Path, room: Path) -> dict[str, Any]:
    try:
        with tarfile.open(source) as archive:
            for name in (MANIFEST, DUMP):
                archive.extract(name, room, filter="data")
        manifest = dict(json.loads((room / MANIFEST).read_text()))
    except OSError as error:
        raise BackupRefused(f"The file {source} cannot be read: {error.strerror or error}.") from error
    except (tarfile.TarError, KeyError, ValueError) as error:
        raise BackupRefused(f"The file {source} is not a backup of this program.") from error
    if manifest.get("format") != FORMAT:
        raise BackupRefused(f"The file {source} was written by a newer version of this program.")
    if manifest["sha256"] != _sha256(room / DUMP):
        raise BackupRefused(f"The file {source} is damaged: its checksum does not match.")
    return manifest


def _sha256(path: Path) -> str:
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def _database_name() -> str:
    return str(connection.settings_dict["NAME"])


def _run(program: str, *arguments: str) -> None:
    """Run one of PostgreSQL's own programs against the shop's database."""
    at = connection.settings_dict
    surroundings = {
        "PGHOST": at["HOST"],
        "PGPORT": str(at["PORT"] or ""),
        "PGUSER": at["USER"],
        "PGPASSWORD": at["PASSWORD"],
    }
    answer = subprocess.run(
        [str(programs_folder() / program), *arguments],
        env=os.environ | {name: value for name, value in surroundings.items() if value},
        capture_output=True,
        text=True,
        check=False,
    )
    if answer.returncode:
        last = answer.stderr.strip().splitlines()[-1:] or ["no reason given"]
        raise BackupRefused(f"{program} failed: {last[0]}")
