"""Whether each part of the house is up."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import redis
from django.db import DatabaseError, connection

from shop.services import backups, pulse


@dataclass(frozen=True)
class Part:
    """One part and what is wrong with it; nothing is when the sentence is empty."""

    name: str
    trouble: str

    def as_json(self) -> dict[str, Any]:
        """The part as it stands in the answer."""
        return {"up": not self.trouble} | ({"because": self.trouble} if self.trouble else {})


def parts() -> list[Part]:
    """Look at every part."""
    checks: dict[str, Callable[[], str]] = {
        "database": _database,
        "broker": _broker,
        "worker": _worker,
        "beat": _beat,
    }
    return [Part(name, check()) for name, check in checks.items()]


def report() -> dict[str, Any]:
    """The whole answer of /healthz."""
    looked_at = parts()
    down = [part.name for part in looked_at if part.trouble]
    return {
        "status": "down" if down else "up",
        "down": down,
        "parts": {part.name: part.as_json() for part in looked_at},
        "backup": backups.state(),
    }


def _database() -> str:
    try:
        with connection.cursor() as cursor:
            cursor.execute("SELECT 1")
    except DatabaseError as error:
        connection.close()
        return f"The database does not answer: {type(error).__name__}."
    return ""


def _broker() -> str:
    try:
        pulse.broker().ping()
    except redis.RedisError as error:
        return f"The broker does not answer: {type(error).__name__}."
    return ""


def _worker() -> str:
    try:
        if not pulse.is_alive("worker"):
            return "No worker has given a sign of life lately."
        return "Tasks have not come through for two minutes." if pulse.tasks_stall() else ""
    except redis.RedisError:
        return "Unknown, because the broker does not answer."


def _beat() -> str:
    try:
        return "" if pulse.is_alive("beat") else "Beat has given no sign of life lately."
    except redis.RedisError:
        return "Unknown, because the broker does not answer."
