"""Which day it is on the shelf: best-before days end when the shop's own day ends."""

from collections.abc import Callable
from datetime import date

from django.conf import settings
from django.utils.module_loading import import_string


def today() -> date:
    """The day that the shop's calendar shows; settings.SHOP_DAY names who knows it. One query."""
    shop_day: Callable[[], date] = import_string(settings.SHOP_DAY)
    return shop_day()
