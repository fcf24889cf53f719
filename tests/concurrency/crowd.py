"""Many clients at once: threads that start together, and processes full of them.

Run as a program (`python -m tests.concurrency.crowd DATABASE SEED CLIENTS ATTEMPTS ITEM ...`) it is one
process of clients: it says `ready`, waits for a line on standard input, and prints what each attempt came to.
"""

import json
import os
import random
import subprocess
import sys
import threading
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


def together(clients, work):
    """Results of work(number) run by each client in a thread of its own, all started at one moment."""
    from django.db import connection

    start = threading.Barrier(clients)

    def client(number):
        try:
            connect()
            start.wait(timeout=60)
            return work(number)
        finally:
            connection.close()

    def connect():
        try:
            connection.ensure_connection()
        except Exception:
            start.abort()  # The others must not wait for one who never comes.
            raise

    with ThreadPoolExecutor(clients) as pool:
        return results([pool.submit(client, number) for number in range(clients)])


def results(futures):
    """What all clients came to; of several failures the first that is more than a broken start is raised."""
    failures = [error for future in futures if (error := future.exception())]
    own = [error for error in failures if not isinstance(error, threading.BrokenBarrierError)]
    if failures:
        raise (own or failures)[0]
    return [future.result() for future in futures]


def outcome(act):
    """`done`, or the name of what was raised; nothing is hidden from the caller's count."""
    try:
        act()
    except Exception as error:  # Every kind of failure is counted by name.
        return type(error).__name__
    return "done"


def holds_in_processes(database, *, processes, clients, attempts, items):
    """Counts of outcomes and the demands that were told `held`, over all clients of all processes."""
    command = [sys.executable, "-m", "tests.concurrency.crowd", database]
    started = [
        subprocess.Popen(
            [*command, str(seed), str(clients), str(attempts), *items],
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, cwd=ROOT,
            env=os.environ | {"DJANGO_SETTINGS_MODULE": "shop.settings"},
        )
        for seed in range(processes)
    ]  # fmt: skip
    for process in started:
        assert process.stdout.readline() == "ready\n"
    for process in started:
        process.stdin.write("go\n")
        process.stdin.flush()
    counts, held = Counter(), []
    for process in started:
        told = json.loads(process.communicate(timeout=120)[0])
        counts.update(told["counts"])
        held += told["held"]
    return counts, held


def main(database, seed, clients, attempts, *items):
    import django
    from django.conf import settings

    settings.DATABASES["default"]["NAME"] = database
    django.setup()

    from inventory.actors import ABILITIES, Actor
    from inventory.calc.lines import Line
    from inventory.services import holding

    ready = threading.Barrier(int(clients) + 1)
    go = threading.Event()
    counts, held = Counter(), []

    def client(number):
        from django.db import connection

        chance, actor = random.Random(f"{seed}/{number}"), Actor(f"clerk {seed}/{number}", ABILITIES)
        connection.ensure_connection()
        ready.wait()
        go.wait()
        for attempt in range(int(attempts)):
            wanted = [Line(item, 1) for item in chance.sample(items, len(items))]
            ref = f"quote {seed}/{number}/{attempt}"
            result = outcome(lambda: holding.hold(ref, lines=wanted, until=None, actor=actor))  # noqa: B023
            counts[result] += 1
            if result == "done":
                held.append(ref)
        connection.close()

    threads = [threading.Thread(target=client, args=[number]) for number in range(int(clients))]
    for thread in threads:
        thread.start()
    ready.wait()
    sys.stdout.write("ready\n")
    sys.stdout.flush()
    sys.stdin.readline()
    go.set()
    for thread in threads:
        thread.join()
    sys.stdout.write(json.dumps({"counts": counts, "held": held}))


if __name__ == "__main__":
    main(*sys.argv[1:])
