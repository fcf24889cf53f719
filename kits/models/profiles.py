"""What items can do."""

from django.db import models


class Profile(models.Model):
    """One item standing in one role, with the figures that it is measured by there."""

    item = models.ForeignKey("inventory.Item", on_delete=models.CASCADE, related_name="profiles")
    role = models.CharField(max_length=32)
    figures = models.JSONField(default=dict)

    class Meta:
        ordering = ["role", "item"]
        constraints = [
            models.UniqueConstraint(fields=["item", "role"], name="one_profile_per_item_and_role"),
            models.CheckConstraint(condition=~models.Q(role=""), name="profile_has_a_role"),
        ]

    def __str__(self) -> str:
        return f"{self.item_id} as {self.role}"
