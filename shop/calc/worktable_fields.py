"""The strip of fields above the drawing: a build spec as texts, and texts as a build spec."""

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Any

from inventory.errors import FieldError
from kits.planning.spec_fields import MOST_COVERED
from shop.calc.worktable import Spec, owned_role, with_extra_quantity

MEASURED = "measured"
# Number fields: their place in the spec, and the words that a fault names them by.
NUMBERS: Mapping[str, tuple[tuple[str, ...], str]] = MappingProxyType(
    {
        "width": (("enclosure", "interior_mm", "width"), "inside width"),
        "depth": (("enclosure", "interior_mm", "depth"), "inside depth"),
        "height": (("enclosure", "interior_mm", "height"), "inside height"),
        "covered": (("enclosure", "covered_share"), "covered part of the lid"),
        "air": (("enclosure", "air_changes_h"), "air changes an hour"),
        "slot": (("enclosure", "front_vent", "height_mm"), "height of the front slot"),
        "latitude": (("lighting", "season", "latitude_deg"), "latitude of the seasons"),
        "day": (("room", "temperature_c"), "day temperature"),
        "night": (("room", "night_temperature_c"), "night temperature"),
        "warmest": (("room", "warmest_day_c"), "warmest day"),
        "humidity": (("room", "relative_humidity_pct"), "humidity"),
        "drainage": (("depths_mm", "drainage"), "drainage"),
        "substrate_front": (("depths_mm", "substrate_front"), "soil at the front"),
        "substrate_back": (("depths_mm", "substrate_back"), "soil at the back"),
        "litter": (("depths_mm", "litter"), "litter"),
    }
)
DEPTHS = ("drainage", "substrate_front", "substrate_back", "litter")
SIDES = ("width", "depth", "height")
LID = ("covered", "air", "slot")
ENTIRE = ("slot", "latitude")  # an emptied field takes away all that is said of its thing
PERCENT = {"covered": MOST_COVERED}  # typed in percent, a share in the spec; the most that may be said
WORDS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {"style": ("style",), "planting": ("planting",), "fill": ("fill",), "units": ("units",)}
)
FIELDS = ("animal", "count", "stage", "sex", "enclosure", *NUMBERS, *WORDS, "own")
USUAL = {"fill": "preferred", "units": "us"}
UNSAID: Mapping[str, Any] = MappingProxyType({"count": 1, "stage": "adult", "sex": "unknown"})  # of an animal
EXTRA_PREFIX = "extra-"

Texts = Mapping[str, str]


def texts_of(spec: Spec) -> dict[str, str]:
    """What each field shows of a spec; empty where the spec is silent."""
    animal: Mapping[str, Any] = next(iter(spec.get("animals", ())), {})
    enclosure = spec.get("enclosure", {})
    texts = {name: _shown(_at(spec, path), name in PERCENT) for name, (path, _) in NUMBERS.items()}
    texts |= {name: str(spec.get(name, USUAL.get(name, ""))) for name in WORDS}
    texts |= {
        "animal": animal.get("species", ""),
        "count": str(animal.get("count", 1)) if animal else "",
        "stage": animal.get("stage", "adult"),
        "sex": animal.get("sex", "unknown"),
        "enclosure": MEASURED if "interior_mm" in enclosure else enclosure.get("size", ""),
    }
    return texts


def owned_roles(spec: Spec) -> list[str]:
    """The roles that the customer has something for."""
    return [owned_role(entry) for entry in spec.get("own", ())]


def spec_with(
    spec: Spec, texts: Texts, own: Sequence[str] | None = None
) -> tuple[dict[str, Any], list[FieldError]]:
    """The spec with what the fields say; a field that is not among the texts leaves its part alone.

    A text that is no number is a fault and leaves its part alone, too.
    """
    faults: list[FieldError] = []
    changed: dict[str, Any] = dict(spec)
    for name, path in WORDS.items():
        if name in texts:
            word = texts[name]
            changed = _put(changed, path, None if word == USUAL.get(name) else word or None)
    changed = _with_animal(changed, texts, faults)
    changed = _with_enclosure(changed, texts)
    for name in NUMBERS:
        if name in texts and _counts(name, texts, changed):
            changed = _with_number(changed, name, texts[name], faults)
    changed = _with_extras(changed, texts, faults)
    return _with_owned(changed, own) if own is not None else changed, faults


def field_of(pointer: str) -> str:
    """The field that a fault's JSON pointer belongs to; "spec" for what has no field of its own.

    >>> field_of("/room/night_temperature_c"), field_of("/animals/0/count"), field_of("/perches_mm/0/height")
    ('night', 'count', 'spec')
    """
    parts = tuple(pointer.strip("/").split("/"))
    for name, (path, _) in NUMBERS.items():
        if path == parts:
            return name
    if parts[0] == "animals":
        return {"count": "count", "stage": "stage", "sex": "sex"}.get(parts[-1], "animal")
    if parts[0] == "depths_mm":
        return "substrate_front"
    return parts[0] if parts[0] in FIELDS else "spec"


def _with_animal(spec: dict[str, Any], texts: Texts, faults: list[FieldError]) -> dict[str, Any]:
    if "animal" not in texts:
        return spec
    others = list(spec.get("animals", ()))[1:]
    if not texts["animal"]:
        return _put(spec, ("animals",), others or None)
    first = dict(next(iter(spec.get("animals", ())), {}))
    count = _whole(texts.get("count", "") or "1", "/animals/0/count", "number of animals", faults)
    says = {"species": texts["animal"], "count": count, "stage": texts.get("stage"), "sex": texts.get("sex")}
    usual = UNSAID if first else {}  # what the spec is silent about, and the field too, stays unsaid
    first |= {
        name: said
        for name, said in says.items()
        if said not in (None, "") and said != first.get(name, usual.get(name))
    }
    return _put(spec, ("animals",), [first, *others])


def _with_enclosure(spec: dict[str, Any], texts: Texts) -> dict[str, Any]:
    size = texts.get("enclosure")
    if size is None:
        return spec
    if size == MEASURED:
        known = spec.get("enclosure", {})
        return spec if "interior_mm" in known else _put(spec, ("enclosure",), {"interior_mm": {}})
    if size and size == spec.get("enclosure", {}).get("size"):
        return spec  # with what else is said of it
    return _put(spec, ("enclosure",), {"size": size} if size else None)


def _counts(name: str, texts: Texts, spec: Spec) -> bool:
    """Sides are for a measured box, and what is said of a lid for any box."""
    if name in SIDES:
        return texts.get("enclosure") == MEASURED
    return name not in LID or "enclosure" in spec


def _with_number(spec: dict[str, Any], name: str, text: str, faults: list[FieldError]) -> dict[str, Any]:
    path, words = NUMBERS[name]
    text = text.strip().replace(",", ".")
    if not text:
        return _put(spec, path[:-1] if name in ENTIRE else path, None)
    value = _number(text)
    most = PERCENT.get(name)
    fault = "must be a number." if value is None else ""
    if value is not None and most is not None:
        value, fault = value / 100, "" if 0 <= value <= most * 100 else f"must be from 0 to {most:.0%}."
    if fault:
        faults.append(FieldError("/" + "/".join(path), f"{words} {fault}"))
        return spec
    return _put(spec, path, value)


def _with_extras(spec: dict[str, Any], texts: Texts, faults: list[FieldError]) -> dict[str, Any]:
    for name, text in texts.items():
        if name.startswith(EXTRA_PREFIX):
            item = name.removeprefix(EXTRA_PREFIX)
            pieces = _whole(text or "0", "/extra", f"the quantity of {item}", faults)
            spec = spec if pieces is None else with_extra_quantity(spec, item, pieces)
    return spec


def _with_owned(spec: dict[str, Any], roles: Sequence[str]) -> dict[str, Any]:
    known = {owned_role(entry): entry for entry in spec.get("own", ())}
    own = [known.get(role, role) for role in dict.fromkeys(roles)]
    choose = {role: items for role, items in spec.get("choose", {}).items() if role not in roles}
    without = [entry for entry in spec.get("without", ()) if owned_role(entry) not in roles]
    for name, part in (("own", own), ("choose", choose), ("without", without)):
        spec = _put(spec, (name,), part or None)
    return spec


def _whole(text: str, pointer: str, words: str, faults: list[FieldError]) -> int | None:
    if text.strip().isascii() and text.strip().isdigit() and len(text.strip()) < 7:
        return int(text)
    faults.append(FieldError(pointer, f"{words} must be a whole number."))
    return None


def _number(text: str) -> int | float | None:
    digits = text.removeprefix("-")
    if len(digits) > 12 or not digits.isascii() or not digits.replace(".", "", 1).isdigit():
        return None
    value = float(text)
    return int(value) if value == int(value) else value


def _at(spec: Spec, path: Sequence[str]) -> Any:
    part: Any = spec
    for key in path:
        part = part.get(key) if isinstance(part, Mapping) else None
    return part


def _shown(value: Any, is_share: bool = False) -> str:
    value = value * 100 if is_share and isinstance(value, int | float) else value
    return "" if value is None else f"{value:g}" if isinstance(value, int | float) else str(value)


def _put(spec: Mapping[str, Any], path: Sequence[str], value: Any) -> dict[str, Any]:
    """A copy with the value at a path; None takes the key away, and with it what is empty then."""
    key, rest = path[0], path[1:]
    inner = _put(spec.get(key, {}), rest, value) if rest else value
    changed = {**spec, key: inner}
    if inner is None or (rest and inner == {}):
        changed.pop(key)
    return changed
