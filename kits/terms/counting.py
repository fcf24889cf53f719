"""Quantities as people say them."""

from types import MappingProxyType

# The words for one of an item that English shops use; another word stands as its shop wrote it.
_WITH_S = (
    *("bag", "bar", "bottle", "brick", "bulb", "bundle", "cable", "can", "case", "cube", "culture", "cup"),
    *("dimmer", "emitter", "fixture", "holder", "jar", "kit", "lamp", "pack", "pair", "panel", "piece"),
    *("plant", "portion", "pot", "roll", "sack", "set", "sheet", "slab", "strip", "thermostat", "tile"),
    *("timer", "tin", "tray", "tub", "tube", "unit"),
)
_WITH_ES = ("box", "branch", "pouch")
_MANY = MappingProxyType({word: f"{word}s" for word in _WITH_S} | {word: f"{word}es" for word in _WITH_ES})


def counted(quantity: int, unit: str) -> str:
    """So many of an item, in the plural where it is known.

    >>> counted(1, "pouch"), counted(2, "pouch"), counted(3, "culture"), counted(2, "mL"), counted(2, "Sack")
    ('1 pouch', '2 pouches', '3 cultures', '2 mL', '2 Sack')
    """
    return f"{quantity} {unit if quantity == 1 else _MANY.get(unit, unit)}"
