"""The tables of the inventory."""

from inventory.models.catalogue_versions import CatalogueVersion
from inventory.models.holds import Hold, HoldChange, HoldChangeKind, Want
from inventory.models.items import Barcode, BaseUnit, Item, Kind, Live, SupersededCode
from inventory.models.lots import Lot, LotChange, LotState
from inventory.models.messages import IdempotencyKey, OutboxMessage
from inventory.models.mixes import Mix, MixPart
from inventory.models.movements import Movement, MovementKind
from inventory.models.sites import MAIN_PLACE, MAIN_SITE, Place, Site
from inventory.models.stock import LotBalance, Stock
from inventory.models.suppliers import Supplier
from inventory.models.tax_classes import TaxClass

__all__ = [
    "MAIN_PLACE",
    "MAIN_SITE",
    "Barcode",
    "BaseUnit",
    "CatalogueVersion",
    "Hold",
    "HoldChange",
    "HoldChangeKind",
    "IdempotencyKey",
    "Item",
    "Kind",
    "Live",
    "Lot",
    "LotBalance",
    "LotChange",
    "LotState",
    "Mix",
    "MixPart",
    "Movement",
    "MovementKind",
    "OutboxMessage",
    "Place",
    "Site",
    "Stock",
    "SupersededCode",
    "Supplier",
    "TaxClass",
    "Want",
]
