"""Readers of what lets air into a box: the slot in its front."""

from collections.abc import Mapping

from kits.planning.spec_terms import Reading
from kits.terms.build import Vent

POINTER = "/enclosure/front_vent"
KEYS = ("width_mm", "height_mm", "open_fraction")
CLOSED = ("glass", "solid")
USUAL_OPEN = 0.4  # of a perforated strip, where its owner does not say; estimate


def read_vent(
    reading: Reading, given: Mapping[str, object], width_mm: float, height_mm: float, top: str
) -> Vent | None:
    """The slot below the doors, as wide as the box where its width is not given."""
    if "front_vent" not in given:
        return None
    faults = reading.faults
    if top in CLOSED:
        faults.add(POINTER, f"is for a box that air can leave by its top; this one is {top}.")
        return None
    slot = faults.mapping(given["front_vent"], POINTER, KEYS)
    if "height_mm" not in slot:
        if isinstance(given["front_vent"], Mapping):
            faults.add(f"{POINTER}/height_mm", "must be given.")
        return None
    tall = faults.number(slot["height_mm"], f"{POINTER}/height_mm", 0, height_mm, above=True)
    wide = faults.number(slot.get("width_mm", width_mm), f"{POINTER}/width_mm", 0, width_mm, above=True)
    open_ = slot.get("open_fraction", USUAL_OPEN)
    share = faults.number(open_, f"{POINTER}/open_fraction", 0, 1, above=True)
    return None if tall is None or wide is None or share is None else Vent(wide, tall, share)
