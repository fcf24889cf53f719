"""What the kit weighs in place and in the post."""

from collections import Counter

from kits.effects.soil import soil
from kits.physics.walls import wall
from kits.physics.weight import floor_load_kg_m2, glass_kg, pane_area_m2
from kits.planning.kit import Kit
from kits.terms.build import Box
from kits.terms.conditions import SETTLE
from kits.terms.reading import number, positive

# Mass of layers in place when wet; estimates from memory, weigh yours.
WET_KG_L = {"drainage": 0.5, "substrate": 0.9, "litter": 0.05}
IN_LAYERS = frozenset(("drainage", "substrate", "litter", "inoculant"))


def masses_kg(kit: Kit) -> dict[str, float]:
    """Masses in place by part: the box, each layer, all other goods."""
    parts = {"enclosure": _enclosure_kg(kit)}
    for name in kit.build.layers:
        parts[name] = _layer_kg(kit, name)
    others = (line for line in kit.lines if line.role not in IN_LAYERS and line.role != "enclosure")
    parts["other_goods"] = sum(kit.ware(line).mass_g * line.quantity for line in others) / 1000
    return parts


def installed_kg(kit: Kit) -> float:
    """Mass of the filled enclosure."""
    return sum(masses_kg(kit).values())


def load_kg_m2(kit: Kit) -> float:
    """What the filled enclosure weighs on each square metre of its own footprint."""
    width, depth, _ = outer_m(kit.build.box)
    return floor_load_kg_m2(installed_kg(kit), width, depth)


def shipping_kg(kit: Kit) -> tuple[float, list[str]]:
    """Mass of all goods without packing, and the items whose mass is not recorded."""
    grams = sum(kit.ware(line).mass_g * line.quantity for line in kit.lines)
    return grams / 1000, sorted({line.item for line in kit.lines if kit.ware(line).mass_g <= 0})


def goods_kg(kit: Kit) -> dict[str, float]:
    """Mass of all pieces of each item, without packing."""
    grams: Counter[str] = Counter()
    for line in kit.lines:
        grams[line.item] += kit.ware(line).mass_g * line.quantity
    return {item: mass_g / 1000 for item, mass_g in grams.items()}


def outer_m(box: Box) -> tuple[float, float, float]:
    """Outer width, depth and height in metres."""
    thick = box.wall_thickness_mm
    return (
        (box.width_mm + 2 * thick) / 1000,
        (box.depth_mm + 2 * thick) / 1000,
        (box.height_mm + thick) / 1000,
    )


def _enclosure_kg(kit: Kit) -> float:
    """The mass of the item where it is recorded, else that of its panes."""
    line = next((line for line in kit.lines if line.role == "enclosure"), None)
    if line is not None and kit.ware(line).mass_g > 0:
        return kit.ware(line).mass_g * line.quantity / 1000
    box = kit.build.box
    width, depth, height = outer_m(box)
    thickness = box.wall_thickness_mm / 1000
    if box.wall_material == "glass":
        return glass_kg(width, depth, height, thickness, open_top=box.top_kind != "glass")
    open_top = box.top_kind in ("open", "mesh")
    return wall(box.wall_material).density_kg_m3 * thickness * pane_area_m2(width, depth, height, open_top)


def _layer_kg(kit: Kit, name: str) -> float:
    """The heaviest of the goods as poured, of a usual wet layer, and of the soil by its recipe and its water.

    The floor is not to be asked for too little.
    """
    litres = kit.build.layer_l(name)
    if name == "substrate":
        litres -= min(kit.build.displaced_l, litres)
    figures = next((figures for figures, _ in kit.chosen(name)), kit.build.owned.get(name, {}))
    settle = number(figures, "settle")
    density = positive(figures, "density_kg_l") or 0.0
    poured = litres * (1 + (SETTLE[name] if settle is None else settle)) * density
    holds = soil(kit.build, figures) if name == "substrate" else None
    wet_kg_l = max(WET_KG_L[name], holds.wet_kg_l if holds is not None and holds.known else 0.0)
    return max(poured, litres * wet_kg_l)
