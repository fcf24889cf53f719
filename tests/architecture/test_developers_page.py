"""The page for developers says what the code does."""

from pathlib import Path

from shop.permissions import matrix_markdown

PAGE = (Path(__file__).resolve().parents[2] / "DEVELOPERS.md").read_text()


def test_the_permission_matrix_is_the_one_that_services_ask():
    assert matrix_markdown().strip() in PAGE


def test_every_room_of_the_map_exists():
    root = Path(__file__).resolve().parents[2]
    rooms = [
        "inventory/calc",
        "kits/terms",
        "kits/physics",
        "kits/roles",
        "kits/planning",
        "shop/runtime",
        "shop/measure",
    ]
    assert all((root / room).is_dir() and room.split("/")[1] + "/" in PAGE for room in rooms)
