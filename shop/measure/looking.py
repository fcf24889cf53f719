"""What is worked out only when somebody looks at it: the simulated day and the map of the UV index."""

from collections.abc import Callable, Iterator
from functools import partial

from kits.effects.maps import uv_map
from kits.effects.whole_day import whole_day
from kits.physics.grids import Grid
from kits.physics.uv_field import TubeLamp, uv_field
from kits.selectors.builds import build_of
from kits.selectors.pictures import equipment_of
from kits.selectors.plans import plan_for
from kits.terms.plan import Terms
from shop.measure.filling import grow
from shop.measure.rows import Row, median, milliseconds
from shop.measure.scratch import scratch_database

DAY_LIMIT_MS = 100.0
FIELD_LIMIT_MS = 50.0  # of the whole box; own bar: a map that is asked for stands at once
RUNS = 15
SPEC = {
    "enclosure": {"size": "45x45x60-glass"},
    "animals": [{"species": "correlophus-ciliatus"}],
    "perches_mm": [{"height": 420, "back": 300}],
    "room": {"temperature_c": 19, "night_temperature_c": 15, "relative_humidity_pct": 45},
}


def measure() -> Iterator[Row]:
    """A day with an answer each minute, and the UV index at every spot of a box, warm."""
    with scratch_database():
        grow(500)
        plan = plan_for(SPEC, terms=Terms()).as_json()
        build = build_of(SPEC)
        equipment = equipment_of(plan, build)
        day = _times(partial(whole_day, build, equipment))
        yield Row("day.24_h_by_the_minute", median(day), DAY_LIMIT_MS, "ms", note=f"median of {RUNS}")
        tube = TubeLamp(2.0, 300, 470, x_mm=build.box.width_mm / 2, y_mm=200, z_mm=build.box.height_mm + 20)
        grid = Grid()
        field = _times(partial(uv_field, [tube, tube], build.box, grid))
        spots = grid.across * grid.back * grid.up
        section = median(_times(partial(uv_map, build, equipment)))
        note = f"{spots} spots and two lamps; the section that is drawn {section:.1f} ms"
        yield Row("uv.field_over_the_box", median(field), FIELD_LIMIT_MS, "ms", note=note)


def _times(work: Callable[[], object]) -> list[float]:
    work()
    return [milliseconds(work) for _ in range(RUNS)]
