"""Build sheets: how long one takes, and that a thousand take no more memory than a hundred."""

import gc
import subprocess
import sys
from collections.abc import Iterator
from os import getpid, sysconf
from pathlib import Path
from typing import Any

from kits.documents.build_sheet import build_sheet
from kits.selectors.facts import facts
from kits.selectors.plans import plan_for
from kits.terms.plan import Terms
from shop.measure.filling import grow
from shop.measure.rows import Row, median, p95, timed
from shop.measure.scratch import scratch_database
from shop.measure.specs import varied_specs
from shop.selectors import documents

SHEET_LIMIT_MS, GROWTH_LIMIT_MB = 150.0, 10.0
FEW, MANY, KITS = 100, 1_000, 50


def measure() -> Iterator[Row]:
    """One build sheet of many different kits, then the memory of a thousand of them."""
    with scratch_database():
        grow(500)
        sheets = [_filled(spec) for spec in varied_specs(facts(), KITS)]
    times = timed(_drawn, _round(sheets, FEW))
    before = _resident_mb()
    times += timed(_drawn, _round(sheets, MANY - FEW))
    growth = _resident_mb() - before
    note = f"median {median(times):.1f} ms of {MANY} sheets of {KITS} kits"
    yield Row("paper.build_sheet_p95", p95(times), SHEET_LIMIT_MS, "ms", note=note)
    note = f"{before:.0f} MB after {FEW} sheets"
    yield Row("paper.memory_1000_over_100", growth, GROWTH_LIMIT_MB, "MB", note=note)


def _filled(spec: dict[str, Any]) -> Any:
    return documents.build_sheet_of_plan(plan_for(spec, terms=Terms()))


def _round(sheets: list[Any], count: int) -> list[Any]:
    return [sheets[number % len(sheets)] for number in range(count)]


def _drawn(sheet: Any) -> None:
    build_sheet(*sheet)


def _resident_mb() -> float:
    """Memory that this process has in use, in megabytes of 10^6 bytes."""
    gc.collect()
    if sys.platform == "linux":
        pages = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1])
        return pages * sysconf("SC_PAGE_SIZE") / 1e6
    words = ["/bin/ps", "-o", "rss=", "-p", str(getpid())]
    told = subprocess.run(words, capture_output=True, text=True, check=True)
    return int(told.stdout) * 1024 / 1e6
