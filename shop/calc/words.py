"""Codes as words."""

from types import MappingProxyType

# What a code says of a figure or of a part of the spec that is no word of the counter.
SPOKEN = MappingProxyType(
    {
        "installed_kg": "weight",
        "power_w": "power",
        "siphon_days": "siphoning",
        "depths_mm": "depths",
        "perches_mm": "perches",
        "live": "live goods",
    }
)


def words_of(code: str) -> str:
    """A code of ours as people say it.

    >>> words_of("humid-forest"), words_of("uvb_lamp")
    ('humid forest', 'UVB lamp')
    >>> words_of("installed_kg")
    'weight'
    """
    return SPOKEN.get(code) or code.replace("_", " ").replace("-", " ").replace("uvb", "UVB")
