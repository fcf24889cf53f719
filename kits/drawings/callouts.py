"""Which lines of the parts list share a callout, and its words."""

from collections.abc import Sequence

from kits.drawings.scene import Part, Scene

# Things that are one thing to the eye share one callout place: each line keeps its own circle.
TOGETHER = {"uvb_lamp": "uvb_fixture", "basking_lamp": "lamp_holder"}
ALONE = ("plant", "hide", "climb", "plant_light")


def together(scene: Scene) -> list[tuple[Part, ...]]:
    """Parts by callout place; what the customer has already carries no number and is left out."""
    groups: dict[tuple[str, int], list[Part]] = {}
    carried = {part.role for part in scene.parts}
    for part in scene.parts:
        if not part.number:
            continue
        role = TOGETHER.get(part.role, part.role)
        key = (role if role in carried else part.role, part.number if part.role in ALONE else 0)
        groups.setdefault(key, []).append(part)
    return [tuple(parts) for parts in groups.values()]


def words(parts: Sequence[Part]) -> str:
    """The different words of the parts of one callout."""
    return ", ".join(dict.fromkeys(part.label for part in parts))
