"""What items can do: the one door to profiles."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from django.db import transaction

from inventory.actors import Actor
from inventory.errors import BadInput, FieldError, Unknown
from inventory.models import Item
from kits.models import Profile, Subject
from kits.terms.profiles import INGREDIENT, figure_faults

NAMED_SUBJECTS = {
    "enclosure": ("enclosure", "size"),
    "plant": ("plant", "species"),
    "cleanup_crew": ("cleanup", "taxon"),
    INGREDIENT: ("medium", "medium"),
}


@dataclass(frozen=True, slots=True)
class ItemRole:
    """An item, a role that it can do, and the figures it is measured by there."""

    item: str
    role: str
    figures: Mapping[str, object]


def set(item: str, *, role: str, figures: Mapping[str, object], actor: Actor) -> Profile:
    """Say what an item does in one role, replacing what was said before; refuses as `set_all` does."""
    set_all([ItemRole(item, role, figures)], actor=actor)
    return Profile.objects.get(item__code=item, role=role)


def set_all(rows: Sequence[ItemRole], *, actor: Actor) -> int:
    """Say what many items do, all or nothing; returns how many profiles were written.

    Refuses a missing ability, unknown items and roles, figures that the role does not know or that are of
    the wrong kind, and names of sizes, species and taxa that no fact speaks of. Other roles stay as they are.
    """
    actor.must("catalogue")
    with transaction.atomic():
        ids = dict(Item.objects.filter(code__in={row.item for row in rows}).values_list("code", "pk"))
        errors = [*faults(rows), *_item_errors(rows, ids)]
        if errors:
            raise BadInput(errors)
        profiles = [Profile(item_id=ids[r.item], role=r.role, figures=dict(r.figures)) for r in rows]
        Profile.objects.bulk_create(
            profiles,
            batch_size=1000,
            update_conflicts=True,
            unique_fields=["item", "role"],
            update_fields=["figures"],
        )
    return len(rows)


def faults(rows: Sequence[ItemRole]) -> list[FieldError]:
    """What is wrong with roles, figures and the names in them; pointers begin with the number of the row."""
    return [*_figure_errors(rows), *_name_errors(rows)]


def remove(item: str, *, role: str, actor: Actor) -> None:
    """Take an item out of a role. Refuses a missing ability and a role that the item does not have."""
    actor.must("catalogue")
    removed, _ = Profile.objects.filter(item__code=item, role=role).delete()
    if not removed:
        raise Unknown("profile", f"{item} as {role}")


def _figure_errors(rows: Sequence[ItemRole]) -> list[FieldError]:
    return [
        FieldError(f"/{n}{fault.pointer}", f"{row.item}: {fault.detail}")
        for n, row in enumerate(rows)
        for fault in figure_faults(row.role, row.figures)
    ]


def _name_errors(rows: Sequence[ItemRole]) -> list[FieldError]:
    known = frozenset(Subject.objects.values_list("kind", "code"))
    errors = []
    for n, row in enumerate(rows):
        kind, key = NAMED_SUBJECTS.get(row.role, ("", ""))
        name = row.figures.get(key)
        if isinstance(name, str) and (kind, name) not in known:
            errors.append(FieldError(f"/{n}/figures/{key}", f"{row.item}: no {kind} is known as {name!r}."))
    return errors


def _item_errors(rows: Sequence[ItemRole], ids: Mapping[str, int]) -> list[FieldError]:
    return [
        FieldError(f"/{n}/item", f"There is no item {row.item!r}.")
        for n, row in enumerate(rows)
        if row.item not in ids
    ]
