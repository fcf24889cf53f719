"""What the counter remembers."""

from shop.models.changes import Change
from shop.models.customers import Customer
from shop.models.drafts import Draft, DraftStep
from shop.models.house import House
from shop.models.orders import Order, OrderLine
from shop.models.prints import PrintJob
from shop.models.quotes import Discount, Quote, QuoteVersion
from shop.models.staff import StaffMember, StaffRole

__all__ = [
    "Change",
    "Customer",
    "Discount",
    "Draft",
    "DraftStep",
    "House",
    "Order",
    "OrderLine",
    "PrintJob",
    "Quote",
    "QuoteVersion",
    "StaffMember",
    "StaffRole",
]
