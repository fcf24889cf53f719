"""Our own sentences as they are printed: computed text writes its units on a plain keyboard."""

import re
from types import MappingProxyType

_SET = MappingProxyType({"C": "\N{DEGREE SIGN}C", "m2": "m²", "m3": "m³", "pvc": "PVC"})
_UNITS = re.compile(r"(?<=\d )C\b(?!:)|(?<=[/ ])m[23]\b|\bpvc\b")


def typeset(sentence: str) -> str:
    """Degrees, square metres and micromoles with their signs; nothing else changes.

    >>> typeset("At 26 C the ground gets 40 umol/m2/s, or 1.7 mol/m2 in 12 hours on 0.24 m2.")
    'At 26 °C the ground gets 40 µmol/m²/s, or 1.7 mol/m² in 12 hours on 0.24 m².'
    >>> typeset("Walls of pvc soften above about 60 C.")
    'Walls of PVC soften above about 60 °C.'
    >>> typeset("Class A GFCI, C:N at most 30, 90 C:N")
    'Class A GFCI, C:N at most 30, 90 C:N'
    """
    return _UNITS.sub(lambda found: _SET[found[0]], sentence.replace("umol/", "µmol/"))
