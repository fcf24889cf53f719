"""One client of the hold measurement, a process of its own: SECONDS NUMBER KIT [KIT ...]."""

import itertools
import os
import random
import sys
import time

import django


def main(seconds: float, number: int, kits: list[list[str]]) -> float:
    """Hold random kits until the time is up; the first holds, which open the connection, do not count."""
    from inventory.actors import SYSTEM
    from inventory.calc.lines import Line
    from inventory.services import holding

    draw = random.Random(number)  # noqa: S311 - repeatable, not secret
    lines = [[Line(code, 1) for code in kit] for kit in kits]
    names = (f"client {number}/{turn}" for turn in itertools.count())
    for _ in range(3):
        holding.hold(next(names), lines=draw.choice(lines), until=None, actor=SYSTEM)
    begun, done = time.perf_counter(), 0
    while time.perf_counter() - begun < seconds:
        holding.hold(next(names), lines=draw.choice(lines), until=None, actor=SYSTEM)
        done += 1
    return done / (time.perf_counter() - begun)


if __name__ == "__main__":
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shop.settings")
    django.setup()
    print(main(float(sys.argv[1]), int(sys.argv[2]), [kit.split(",") for kit in sys.argv[3:]]))  # noqa: T201
