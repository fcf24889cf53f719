"""Which HTTP status each refusal has, for the API and the screens alike."""

from inventory.errors import BadInput, NotAllowed, Refusal, Unknown
from shop.services.orders import StaleOrder
from shop.services.quotes import StaleVersion

_STATUS: tuple[tuple[type[Refusal], int], ...] = (
    (BadInput, 422),
    (NotAllowed, 403),
    (Unknown, 404),
    (StaleVersion, 412),
    (StaleOrder, 412),
)


def status_of(refusal: Refusal) -> int:
    """422, 403, 404 or 412 by its kind, 409 otherwise."""
    return next((status for kind, status in _STATUS if isinstance(refusal, kind)), 409)
