"""Changing what the house has decided."""

from collections.abc import Mapping
from typing import Any
from zoneinfo import available_timezones

from django.core.exceptions import ValidationError
from django.db import transaction

from inventory.actors import Actor
from inventory.errors import BadInput, FieldError
from shop.models import House
from shop.services import changes

CHANGEABLE = frozenset(
    field.name for field in House._meta.concrete_fields if field.name not in {"id", "demo_state"}
)


@transaction.atomic
def change(settings: Mapping[str, Any], *, actor: Actor) -> House:
    """Set some of the house's settings; refuses unknown names and values out of range with BadInput."""
    actor.must("staff")
    if unknown := [name for name in settings if name not in CHANGEABLE]:
        raise BadInput([FieldError(f"/{name}", f"{name} is not a setting of the house.") for name in unknown])
    House.current()
    house = House.objects.select_for_update().get(id=1)
    for name, value in settings.items():
        setattr(house, name, value)
    _check(house)
    house.save(update_fields=list(settings))
    changes.record("house", what="settings", actor=actor, why=", ".join(sorted(settings)))
    return house


def _check(house: House) -> None:
    faults = []
    if house.timezone not in available_timezones():
        faults.append(
            FieldError("/timezone", f"timezone {house.timezone!r} is not in the time zone database.")
        )
    try:
        house.full_clean(validate_constraints=True)
    except ValidationError as error:
        faults += [
            FieldError("" if name == "__all__" else f"/{name}", f"{name}: {sentence}")
            for name, sentences in error.message_dict.items()
            for sentence in sentences
        ]
    if faults:
        raise BadInput(faults)
