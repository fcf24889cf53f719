"""How a signed-in person is found again for each request."""

from typing import Any

from django.contrib.auth.backends import ModelBackend

from shop.models import StaffMember, StaffRole


class StaffBackend(ModelBackend):
    """Finds a person together with their roles: every screen asks for both."""

    def get_user(self, user_id: Any) -> StaffMember | None:
        """The person of a session, None where nobody may sign in under that key; one query."""
        held = list(StaffRole.objects.filter(user=user_id).select_related("user"))
        if not held:
            return super().get_user(user_id)  # somebody without a role
        person = held[0].user
        person.roles = frozenset(one.role for one in held)
        return person if self.user_can_authenticate(person) else None
