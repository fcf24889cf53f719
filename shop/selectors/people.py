"""Who works here."""

from typing import Any

from shop.models import StaffMember


def listed() -> list[dict[str, Any]]:
    """Everybody by name with their roles and whether they have left; two queries."""
    people = StaffMember.objects.prefetch_related("staff_roles").order_by("username")
    return [
        {
            "name": person.get_username(),
            "roles": sorted(row.role for row in person.staff_roles.all()),
            "active": person.is_active,
        }
        for person in people
    ]
