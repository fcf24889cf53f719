"""Makes a shop ready for work: its server, its database, its tables, its facts and, once, the demo shop."""

import importlib.util
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import django
import psycopg
from django.conf import settings
from django.core.management import call_command
from django.db import OperationalError, connection, connections, transaction
from django.db.migrations.executor import MigrationExecutor

from shop.runtime.errors import CannotRun
from shop.runtime.postgres import DATABASE, PORT, USER, Postgres

Report = Callable[[str], None]
PREPARING = 726_470  # An advisory lock of PostgreSQL: of several commands on a new shop one prepares it.


@contextmanager
def server(report: Report) -> Iterator[None]:
    """Hold the embedded server up for the length of a block; a server named by DATABASE_URL is up already."""
    django.setup()
    if not settings.EMBEDDED_DATABASE:
        _check_answers()
        yield
        return
    embedded = Postgres(settings.DATA)
    lease = embedded.join(report)
    try:
        make_database(embedded)
        yield
    finally:
        connections.close_all()
        embedded.leave(lease)


def _check_answers() -> None:
    try:
        connection.ensure_connection()
    except OperationalError as error:
        at, why = connection.settings_dict, str(error).strip().splitlines()[0].rpartition(": ")[2]
        where = f"{at['HOST']}:{at['PORT'] or PORT}"
        raise CannotRun(f"The database of DATABASE_URL at {where} cannot be used: {why}.") from None


def make_database(embedded: Postgres) -> None:
    """Make the shop's database in the embedded server unless it is there."""
    with psycopg.connect(
        host=str(embedded.folder.sockets),
        port=PORT,
        user=USER,
        password=embedded.password,
        dbname="postgres",
        autocommit=True,
    ) as link:
        link.execute("SELECT pg_advisory_lock(%s)", [PREPARING])
        if not link.execute("SELECT 1 FROM pg_database WHERE datname = %s", [DATABASE]).fetchone():
            link.execute(f'CREATE DATABASE "{DATABASE}" TEMPLATE template0')


def shop(report: Report, *, empty: bool = False) -> None:
    """Bring the tables up to date, load the facts and decide once about the demo shop."""
    if _is_ready():
        return
    with connection.cursor() as cursor:
        cursor.execute("SELECT pg_advisory_lock(%s)", [PREPARING])
    try:
        if not _is_ready():
            _make_ready(report, empty=empty or settings.START_EMPTY)
    finally:
        with connection.cursor() as cursor:
            cursor.execute("SELECT pg_advisory_unlock(%s)", [PREPARING])


def _is_ready() -> bool:
    return not _unapplied() and _demo_state() != "undecided"


def _unapplied() -> bool:
    executor = MigrationExecutor(connection)
    return bool(executor.migration_plan(executor.loader.graph.leaf_nodes()))


def _demo_state() -> str:
    from shop.models import House

    return House.current().demo_state


def bring_up_to_date(report: Report) -> None:
    """Apply the migrations that the database lacks."""
    if _unapplied():
        report("Bringing the tables up to date")
        call_command("migrate", verbosity=0, interactive=False)


def _make_ready(report: Report, *, empty: bool) -> None:
    bring_up_to_date(report)
    if _exists("kits.services.facts"):
        report("Loading the facts")
        from kits.services.facts import load_facts

        load_facts()
    if _demo_state() == "undecided":
        _decide_demo(report, empty=empty)


def _decide_demo(report: Report, *, empty: bool) -> None:
    if empty:
        record_demo_state("never")
    elif _exists("shop.demo.load"):
        report("Loading the demo shop")
        from shop.demo.load import load

        with transaction.atomic():  # An interrupted load leaves nothing, and the next command loads again.
            load()
            record_demo_state("loaded")


def record_demo_state(state: str) -> None:
    """Record in the database what was decided about the demo shop."""
    from shop.models import House

    House.current()
    House.objects.filter(id=1).update(demo_state=state)


def _exists(module: str) -> bool:
    return importlib.util.find_spec(module) is not None
