"""A database to measure in, made beside the shop's own and dropped afterwards."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from urllib.parse import quote

import psycopg
from django.core.management import call_command
from django.db import connection, connections
from psycopg import sql


@contextmanager
def scratch_database() -> Iterator[str]:
    """Migrated and empty; every query of this process goes to it until the block ends. Yields its name."""
    own = connection.settings_dict["NAME"]
    name = f"kw_measure_{os.getpid()}"
    _server(sql.SQL("CREATE DATABASE {} TEMPLATE template0").format(sql.Identifier(name)))
    try:
        _point_at(name)
        call_command("migrate", verbosity=0)
        yield name
    finally:
        _point_at(own)
        _server(sql.SQL("DROP DATABASE {} WITH (FORCE)").format(sql.Identifier(name)))


def address(name: str) -> str:
    """The scratch database as a DATABASE_URL for processes of their own."""
    at = connection.settings_dict
    user, password = (quote(str(at[key]), safe="") for key in ("USER", "PASSWORD"))
    port = f":{at['PORT']}" if at["PORT"] else ""
    host = str(at["HOST"])
    where = f"{port}/{host}" if host.startswith("/") else f"{host}{port}"  # a socket's folder opens the path
    return f"postgresql://{user}:{password}@{where}/{name}"


def _server(statement: sql.Composed) -> None:
    at = connection.settings_dict
    with psycopg.connect(
        host=at["HOST"], port=at["PORT"] or None, user=at["USER"], password=at["PASSWORD"],
        dbname="postgres", autocommit=True,
    ) as link:  # fmt: skip
        link.execute(statement)


def _point_at(name: str) -> None:
    connections.close_all()
    connections.databases["default"]["NAME"] = name
    connection.settings_dict["NAME"] = name
