"""The slot in the front of a box: room air comes in by it and leaves, warmed, by the top."""

from collections.abc import Callable
from typing import Any

from kits.physics import airflow
from kits.terms.build import Box

WIRE_MM = 0.5  # between the holes of a perforated strip; estimate, measure it
MOST_OPEN = 0.95  # beyond it a mesh is as good as none
LEAST_RISE_M = 0.1  # the least height that the model of the stack is made for


def stack(
    box: Box, share: float, inside_c: float, room_c: float, *, top_wire_mm: float
) -> tuple[Callable[..., float], dict[str, Any]] | None:
    """The air that rises from the slot through this share of the top; None where there is no way for it.

    The slot lies at the upper edge of the sill, below the doors.
    """
    slot = box.front_vent
    if slot is None or share <= 0:
        return None
    inputs: dict[str, Any] = {
        "lower": _opening(slot.area_m2, slot.open_fraction, WIRE_MM),
        "upper": _opening(share * box.footprint_m2, box.top_open_fraction, top_wire_mm),
        "height_m": max((box.height_mm - box.sill_mm) / 1000, LEAST_RISE_M),
        "inside_c": inside_c,
        "room_c": room_c,
    }
    return airflow.two_opening_exchange_m3_s, inputs


def _opening(area_m2: float, open_fraction: float, wire_mm: float) -> dict[str, float]:
    if open_fraction >= MOST_OPEN:
        return {"area_m2": area_m2 * open_fraction}
    return {"area_m2": area_m2, "open_fraction": max(open_fraction, 0.01), "wire_mm": wire_mm}
