"""Who works here and in which roles."""

from django.contrib.auth.models import AbstractUser
from django.db import models
from django.utils.functional import cached_property


class StaffMember(AbstractUser):
    """A person who signs in. A one-time password lets them in only as far as choosing their own."""

    must_change_password = models.BooleanField(default=False)

    @cached_property
    def roles(self) -> frozenset[str]:
        """The roles that this person holds, as they were when they were first asked for."""
        return frozenset(held.role for held in self.staff_roles.all())


class StaffRole(models.Model):
    """One role that one person holds; a person may hold several."""

    class Role(models.TextChoices):
        COUNTER = "counter"
        PACKER = "packer"
        OWNER = "owner"

    user = models.ForeignKey(StaffMember, on_delete=models.CASCADE, related_name="staff_roles")
    role = models.CharField(max_length=10, choices=Role)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["user", "role"], name="staff_role_once_per_person"),
            models.CheckConstraint(
                condition=models.Q(role__in=["counter", "packer", "owner"]), name="staff_role_known"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.user.get_username()}: {self.role}"
