"""Holds of an 18-line kit from several processes, beside pgbench running the same SQL on the same rows."""

import os
import random
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from django.conf import settings
from django.db import connection

from inventory.models import Item
from inventory.services import holding
from shop.measure.filling import grow
from shop.measure.rows import Row
from shop.measure.scratch import address, scratch_database
from shop.runtime.programs import programs_folder

CLIENTS, LINES, KITS, SECONDS = 8, 18, 20, 8
SHARE_OF_PGBENCH = 0.5


def measure() -> Iterator[Row]:
    """Holds a second beside pgbench's, then the proof that nothing was oversold."""
    with scratch_database() as name, tempfile.TemporaryDirectory() as folder:
        grow(400)
        kits = _kits()
        bare = [_pgbench(name, kits, Path(folder)), 0.0]
        ours = _clients(name, kits)
        bare[1] = _pgbench(name, kits, Path(folder))
        limit = SHARE_OF_PGBENCH * sum(bare) / 2
        note = f"pgbench {bare[0]:.0f} and {bare[1]:.0f} holds/s around it, {CLIENTS} clients, fsync on"
        yield Row("hold.per_second", ours, limit, "1/s", more_is_better=True, note=note)
        yield Row(
            "hold.rows_that_disagree",
            float(_disagreeing()),
            0.5,
            "rows",
            note="held against the sum of holds",
        )


def _kits() -> list[list[str]]:
    draw = random.Random(18)  # noqa: S311 - repeatable, not secret
    popular = list(Item.objects.order_by("pk").values_list("code", flat=True)[:100])
    return [draw.sample(popular, LINES) for _ in range(KITS)]


def _pgbench(name: str, kits: list[list[str]], folder: Path) -> float:
    scripts = []
    for number, kit in enumerate(kits):
        path = folder / f"kit{number}.sql"
        path.write_text(_script(kit))
        scripts += ["-f", str(path)]
    at = connection.settings_dict
    command = [
        str(programs_folder() / "pgbench"), "-n", "-c", str(CLIENTS), "-j", "2", "-T", str(SECONDS),
        "-h", at["HOST"], "-p", str(at["PORT"] or 5432), "-U", at["USER"], *scripts, name,
    ]  # fmt: skip
    run = subprocess.run(
        command,
        env={"PGPASSWORD": at["PASSWORD"], "PATH": "/usr/bin:/bin"},
        capture_output=True,
        text=True,
        check=True,
    )
    return next(
        float(line.split("=")[1].split()[0]) for line in run.stdout.splitlines() if line.startswith("tps")
    )


def _script(kit: list[str]) -> str:
    codes = ", ".join(f"'{code}'" for code in kit)
    ones = ", ".join("1" for _ in kit)
    arrays = f"ARRAY[{codes}]::text[]", f"ARRAY[{ones}]::bigint[]"
    values = ("1", "'bench ' || :n", *arrays, "NULL", "false", "now()", "'measure'", "''")
    return f"\\set n random(1, 1000000000000)\n{holding.HOLD_SQL % values};\n"


def _clients(name: str, kits: list[list[str]]) -> float:
    environment = os.environ | {"DATABASE_URL": address(name)}
    words = [",".join(kit) for kit in kits]
    runs = [
        subprocess.Popen(
            [sys.executable, "-m", "shop.measure.hold_client", str(SECONDS), str(number), *words],
            env=environment, cwd=settings.BASE_DIR, stdout=subprocess.PIPE, text=True,
        )
        for number in range(CLIENTS)
    ]  # fmt: skip
    return sum(float(run.communicate()[0]) for run in runs)


def _disagreeing() -> int:
    with connection.cursor() as cursor:
        cursor.execute(
            "SELECT count(*) FROM inventory_stock s LEFT JOIN (SELECT item_id, sum(quantity) AS quantity "
            "FROM inventory_hold WHERE ended_at IS NULL GROUP BY item_id) h USING (item_id) "
            "WHERE s.held <> coalesce(h.quantity, 0) OR s.held > s.sellable"
        )
        return int(cursor.fetchone()[0])
