"""Spec to plan in process: how long, and how the cost grows with the catalogue."""

from collections.abc import Iterator

from kits.selectors.facts import facts
from kits.selectors.plans import plan_for
from kits.terms.plan import Terms
from shop.measure.filling import grow
from shop.measure.rows import Row, median, p95, timed
from shop.measure.scratch import scratch_database
from shop.measure.specs import varied_specs

SMALL, SHOP, LARGE = 500, 5_000, 50_000
PLAN_LIMIT_MS = 40.0
GROWTH_LIMIT = 1.5
WARM_UP = 30


def measure() -> Iterator[Row]:
    """The same specs planned at three catalogue sizes, warm; each of them is new to the shop."""
    with scratch_database():
        small = _plan_times(SMALL, 300)
        shop = _plan_times(SHOP, 1000)
        yield Row("plan.p50_5000_items", median(shop), PLAN_LIMIT_MS, "ms", note=f"p95 {p95(shop):.1f} ms")
        large = _plan_times(LARGE, 300)
        growth = median(large) / median(small)
        note = f"{median(small):.1f} ms at {SMALL} items, {median(large):.1f} ms at {LARGE}"
        yield Row("plan.cost_50000_over_500", growth, GROWTH_LIMIT, "x", note=note)


def _plan_times(items: int, count: int) -> list[float]:
    grow(items)
    specs = varied_specs(facts(), WARM_UP + count)
    terms = Terms()
    timed(lambda spec: plan_for(spec, terms=terms), specs[:WARM_UP])  # the catalogue is read into memory once
    return timed(lambda spec: plan_for(spec, terms=terms), specs[WARM_UP:])
