"""`load_facts`: bring the published figures into the database."""

from typing import Any

from django.core.management.base import BaseCommand

from kits.services import facts


class Command(BaseCommand):
    help = "Makes animals, plants, crews, enclosures and styles equal to the data files; own figures stay."

    def handle(self, *args: Any, **options: Any) -> None:
        loaded = facts.load_facts()
        self.stdout.write(
            f"{loaded.subjects} subjects, {loaded.figures} figures; "
            f"{loaded.written} written, {loaded.removed} removed."
        )
