"""The name of one state of a thing, worked out from what its document shows."""

import hashlib
import json
from collections.abc import Mapping
from typing import Any


def digest(told: Mapping[str, Any]) -> str:
    """Sixteen hexadecimal digits that are others after every change of what is told.

    >>> digest({"note": "", "state": "open"}) == digest({"state": "open", "note": ""})
    True
    >>> digest({"note": "ring first"}) == digest({"note": ""})
    False
    """
    return hashlib.sha256(json.dumps(told, sort_keys=True).encode()).hexdigest()[:16]
