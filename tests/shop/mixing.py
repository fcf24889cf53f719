"""Loose ingredients and mixes on a small shelf."""

from decimal import Decimal

from zeal import zeal_ignore

from inventory.actors import SYSTEM
from inventory.models import Item, Mix, MixPart
from kits.services import profiles
from kits.services.profiles import ItemRole
from tests.inventory.shelf import stocked

# Item code: medium, litres on the shelf, dollars a millilitre.
LOOSE = {
    "CHIPS": ("coir-chips", 100, "0.0003"),
    "COMPOST": ("peat-free-compost", 80, "0.0004"),
    "SAND": ("washed-sand", 200, "0.0002"),
    "TOPSOIL": ("topsoil", 300, "0.0001"),
    "FERN": ("tree-fern-fibre", 20, "0.0011"),
}


def stock_loose():
    """The ingredients in millilitres, each with the medium that it is."""
    with zeal_ignore():
        for code, (_, litres, cost) in LOOSE.items():
            stocked(code, litres * 1000, base_unit="mL", cost=Decimal(cost))
    said = [ItemRole(code, "ingredient", {"medium": medium}) for code, (medium, _, _) in LOOSE.items()]
    profiles.set_all(said, actor=SYSTEM)


def mixed(code, name, **parts):
    """A mix of these items in parts by volume."""
    mix = Mix.objects.create(code=code, name=name)
    items = Item.objects.in_bulk(list(parts), field_name="code")
    MixPart.objects.bulk_create(
        MixPart(mix=mix, item=items[item], parts=Decimal(amount)) for item, amount in parts.items()
    )
    return mix
