"""Signs of life that the worker and beat leave with the broker, so that the web can tell that they live."""

import threading
import time
from functools import cache

import redis
from django.conf import settings

EVERY_S = 3.0
FORGOTTEN_AFTER_S = 15
TASKS_STALL_AFTER_S = 120.0


@cache
def broker() -> redis.Redis:
    """The one connection pool of this process to the broker."""
    return redis.Redis.from_url(settings.REDIS_URL, socket_timeout=3, socket_connect_timeout=3)


def beat_once(part: str) -> None:
    """Leave one sign of life of a part."""
    broker().set(_key(part), f"{time.time():.3f}", ex=FORGOTTEN_AFTER_S)


def keep_beating(part: str) -> None:
    """Leave signs of life for as long as this process lives."""
    threading.Thread(target=_beat_forever, args=(part,), daemon=True).start()


def _beat_forever(part: str) -> None:
    while True:
        try:
            beat_once(part)
        except redis.RedisError:
            broker().connection_pool.disconnect()  # The broker may be restarting; the next sign reports it.
        time.sleep(EVERY_S)


def note_task_ran() -> None:
    """Note that a task went the whole way from beat through the broker to a worker."""
    broker().set(_key("tasks"), f"{time.time():.3f}")


def is_alive(part: str) -> bool:
    """Tell whether a part left a sign of life lately."""
    return broker().exists(_key(part)) == 1


def tasks_stall() -> bool:
    """Tell whether tasks have stopped coming through although they did before."""
    seen = broker().get(_key("tasks"))
    return seen is not None and time.time() - float(seen) > TASKS_STALL_AFTER_S


def forget() -> None:
    """Forget the signs of an earlier run."""
    broker().delete(_key("worker"), _key("beat"), _key("tasks"))


def _key(part: str) -> str:
    return f"kitwright:alive:{part}"
