"""The database of the tests: migrated once into a template, cloned for each worker and each committed test.

The stock ledger refuses UPDATE, DELETE and TRUNCATE, so a test that commits gets a database of its own
that is dropped afterwards, instead of having its rows flushed.
"""

import hashlib
import os
from contextlib import contextmanager

import psycopg
import pytest
from django.conf import settings
from django.core.management import call_command
from django.db import connection, connections
from hypothesis import settings as hypothesis_settings
from psycopg import sql

from shop.runtime.postgres import Postgres

WORKER = os.environ.get("PYTEST_XDIST_WORKER", "main")
TEMPLATE_LOCK = 726_471  # A PostgreSQL advisory lock: workers agree on who migrates.


# The same examples every time, so that a run means the same everywhere; `--explore` looks for new ones.
hypothesis_settings.register_profile("steady", derandomize=True, deadline=None)
hypothesis_settings.register_profile("exploring", deadline=None)


def pytest_configure(config):
    settings.PASSWORD_HASHERS = ["tests.hashing.QuickArgon2"]
    hypothesis_settings.load_profile("exploring" if config.getoption("--explore") else "steady")


def pytest_addoption(parser):
    parser.addoption("--explore", action="store_true", help="let hypothesis look for new examples")
    parser.addoption("--renew-pictures", action="store_true", help="make the pictures of README anew")


def server():
    at = settings.DATABASES["default"]
    return psycopg.connect(
        host=at["HOST"], port=at["PORT"] or None, user=at["USER"], password=at["PASSWORD"],
        dbname="postgres", autocommit=True,
    )  # fmt: skip


def execute(statement, **names):
    with server() as link:
        return link.execute(sql.SQL(statement).format(**{k: sql.Identifier(v) for k, v in names.items()}))


def drop(name):
    execute("DROP DATABASE IF EXISTS {name} WITH (FORCE)", name=name)


def point_at(name):
    connections.close_all()
    connections.databases["default"]["NAME"] = name
    connection.settings_dict["NAME"] = name


def migrations_digest():
    digest = hashlib.sha256()
    for app in ("inventory", "kits", "shop"):
        for path in sorted((settings.BASE_DIR / app / "migrations").rglob("*")):
            if path.suffix in {".py", ".sql"}:
                digest.update(path.read_bytes())
    return digest.hexdigest()[:12]


def exists(name):
    with server() as link:
        return link.execute("SELECT 1 FROM pg_database WHERE datname = %s", [name]).fetchone() is not None


def migrated_template():
    """A migrated database, made anew when migrations changed; made aside, so never half of one."""
    template = f"kw_template_{migrations_digest()}"
    with server() as link:
        link.execute("SELECT pg_advisory_lock(%s)", [TEMPLATE_LOCK])
        if not exists(template):
            drop("kw_draft")
            execute("CREATE DATABASE {name} TEMPLATE template0", name="kw_draft")
            point_at("kw_draft")
            call_command("migrate", verbosity=0)
            connections.close_all()
            execute("ALTER DATABASE {name} RENAME TO {to}", name="kw_draft", to=template)
    return template


@contextmanager
def clone(template, name):
    drop(name)
    execute("CREATE DATABASE {name} TEMPLATE {template}", name=name, template=template)
    try:
        yield name
    finally:
        connections.close_all()
        drop(name)


@pytest.fixture(scope="session")
def database_server():
    """The embedded server of KITWRIGHT_DATA, started when it is not running; the last to leave stops it."""
    if not settings.EMBEDDED_DATABASE:
        yield
        return
    embedded = Postgres(settings.DATA)
    lease = embedded.join()
    yield
    connections.close_all()
    embedded.leave(lease)


@pytest.fixture(scope="session")
def database_template(database_server, django_db_blocker):
    with django_db_blocker.unblock():
        return migrated_template()


@pytest.fixture(scope="session")
def django_db_setup(database_template, django_db_blocker):
    """One database for each worker; every ordinary test runs in a transaction of it that is rolled back."""
    name = f"kw_test_{WORKER}_{os.getpid()}"
    before = connection.settings_dict["NAME"]
    with django_db_blocker.unblock(), clone(database_template, name):
        point_at(name)
        yield
        point_at(before)


@pytest.fixture
def committed_db(django_db_setup, database_template, django_db_blocker):
    """A database for one test that really commits: threads and processes see it. Yields its name."""
    name = f"kw_commit_{WORKER}_{os.getpid()}"
    before = connection.settings_dict["NAME"]
    with django_db_blocker.unblock(), clone(database_template, name):
        point_at(name)
        yield name
        point_at(before)


@pytest.fixture(autouse=True)
def no_query_per_row(request):
    """A list that asks the database once per row fails its test."""
    if {"db", "committed_db"} & set(request.fixturenames):
        from zeal import zeal_context

        with zeal_context():
            yield
    else:
        yield
