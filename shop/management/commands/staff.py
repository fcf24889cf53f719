"""`staff list`, `add`, `drop`, `end`, `token` and `password`: who works here, and as what."""

from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand

from shop.management.terminal import OPERATOR, or_refuse
from shop.models import StaffRole
from shop.selectors import people
from shop.services import staff


class Command(BaseCommand):
    help = "List people, add one with a role, take a role away, end somebody's access, or give a way in."

    def add_arguments(self, parser: ArgumentParser) -> None:
        actions = parser.add_subparsers(dest="action", required=True)
        add = actions.add_parser(
            "add", help="add a person, or a role to a person; prints a one-time password"
        )
        add.add_argument("name", metavar="NAME")
        add.add_argument("--role", required=True, action="append", choices=StaffRole.Role.values)
        drop = actions.add_parser("drop", help="take a role away")
        drop.add_argument("name", metavar="NAME")
        drop.add_argument("--role", required=True, choices=StaffRole.Role.values)
        actions.add_parser("list", help="everybody with their roles")
        for action, about in (
            ("end", "somebody has left: no role, token or password any more"),
            ("token", "print an API token"),
            ("password", "give a fresh one-time password"),
        ):
            actions.add_parser(action, help=about).add_argument("name", metavar="NAME")

    def handle(self, *args: Any, action: str, name: str = "", **options: Any) -> None:
        if action == "add":
            self.stdout.write(self._added(name, options["role"]))
        elif action == "list":
            self.stdout.write("\n".join(map(_person, people.listed())))
        elif action == "drop":
            or_refuse(lambda: staff.drop_role(name, role=options["role"], actor=OPERATOR))
            self.stdout.write(f"{name} does not hold the role {options['role']} any more.")
        elif action == "end":
            or_refuse(lambda: staff.end(name, actor=OPERATOR))
            self.stdout.write(f"{name} has no access any more; what they did stays under their name.")
        elif action == "token":
            key = or_refuse(lambda: staff.token(name, actor=OPERATOR))
            self.stdout.write(f"API token of {name}: {key}")
        else:
            password = or_refuse(lambda: staff.one_time_password(name, actor=OPERATOR))
            self.stdout.write(f"One-time password of {name}: {password}")

    def _added(self, name: str, roles: list[str]) -> str:
        password = or_refuse(lambda: staff.add(name, roles=roles, actor=OPERATOR))
        if password:
            return f"One-time password of {name}: {password}"
        return f"{name} was here already and now also has: {', '.join(roles)}. The password is unchanged."


def _person(person: dict[str, Any]) -> str:
    return f"{person['name']:<20} {', '.join(person['roles']) if person['active'] else 'has left'}"
