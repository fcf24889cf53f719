"""Orders: accepted quotes on their way to the customer."""

from django.db import models
from django.db.models import F, Q

from inventory.models import Item
from shop.models.quotes import Quote


class Order(models.Model):
    """One accepted version of one quote; its stock is held without end until it leaves."""

    class State(models.TextChoices):
        HELD = "held"
        PICKING = "picking"
        PACKED = "packed"
        SENT = "sent"
        COLLECTED = "collected"
        CANCELLED = "cancelled"

    number = models.CharField(max_length=16, unique=True)
    state = models.CharField(max_length=10, choices=State, default=State.HELD)
    quote = models.OneToOneField(Quote, on_delete=models.PROTECT, related_name="order")
    version = models.PositiveIntegerField()
    net = models.DecimalField(max_digits=12, decimal_places=2)
    tax = models.DecimalField(max_digits=12, decimal_places=2)
    gross = models.DecimalField(max_digits=12, decimal_places=2)
    currency = models.CharField(max_length=3)
    needs_attention = models.TextField(blank=True, default="")
    created_at = models.DateTimeField(auto_now_add=True)
    created_by = models.CharField(max_length=150)
    request_id = models.CharField(max_length=128, blank=True, default="")

    class Meta:
        ordering = ["-id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(state__in=["held", "picking", "packed", "sent", "collected", "cancelled"]),
                name="order_state_known",
            ),
        ]
        indexes = [models.Index(fields=["state", "-id"], name="order_state_newest")]

    def __str__(self) -> str:
        return self.number

    @property
    def demand_ref(self) -> str:
        """The name under which stock is held for this order."""
        return f"order {self.number}"

    @property
    def is_open(self) -> bool:
        """Whether goods may still leave with it."""
        return self.state in {self.State.HELD, self.State.PICKING, self.State.PACKED}


class OrderLine(models.Model):
    """One line of the accepted plan at its agreed price; `total` is after this line's discount share."""

    order = models.ForeignKey(Order, on_delete=models.PROTECT, related_name="lines")
    position = models.PositiveSmallIntegerField()
    role = models.CharField(max_length=40)
    item = models.ForeignKey(Item, on_delete=models.PROTECT, related_name="+")
    name = models.CharField(max_length=200)
    quantity = models.PositiveIntegerField()
    each = models.DecimalField(max_digits=10, decimal_places=2)
    discount = models.DecimalField(max_digits=12, decimal_places=2, default=0)
    total = models.DecimalField(max_digits=12, decimal_places=2)
    handed_over = models.PositiveIntegerField(default=0)

    class Meta:
        ordering = ["order_id", "position"]
        constraints = [
            models.UniqueConstraint(fields=["order", "position"], name="order_line_position_once"),
            models.CheckConstraint(condition=Q(quantity__gt=0), name="order_line_wants_something"),
            models.CheckConstraint(
                condition=Q(handed_over__lte=F("quantity")), name="order_line_not_more_than_ordered"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.order.number}: {self.quantity} x {self.name}"

    @property
    def outstanding(self) -> int:
        """Pieces that have not left yet."""
        return self.quantity - self.handed_over
