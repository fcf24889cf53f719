"""Rules of the house that a machine checks: imports, purity, sizes, names."""

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
APPS = ("inventory", "kits", "shop")
TOP_LEVEL = {
    "README.md", "DEVELOPERS.md", "manage.py", "pyproject.toml",
    "shop", "kits", "inventory", "tests", "docker",
}  # fmt: skip
PURE_ROOMS = (
    "inventory/units.py", "inventory/actors.py", "inventory/errors.py", "inventory/calc",
    "kits/terms", "kits/physics", "kits/roles", "kits/planning", "shop/calc",
)  # fmt: skip
FRAMEWORKS = ("django", "rest_framework", "celery", "psycopg", "reportlab")
LONGEST_MODULE = 500


def tracked_files():
    listed = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True)
    return listed.stdout.split()


def python_files(*below):
    return [path for room in below for path in sorted((ROOT / room).rglob("*.py"))]


def pure_modules():
    for room in PURE_ROOMS:
        paths = [ROOT / room] if room.endswith(".py") else sorted((ROOT / room).rglob("*.py"))
        for path in paths:
            dotted = path.relative_to(ROOT).with_suffix("").as_posix().replace("/", ".")
            yield dotted.removesuffix(".__init__")


def test_the_top_level_holds_only_what_the_design_card_names():
    names = {name.split("/")[0] for name in tracked_files()}
    assert {name for name in names if not name.startswith(".")} <= TOP_LEVEL


def test_import_contracts_hold():
    program = "from importlinter.cli import lint_imports_command; lint_imports_command()"
    run = subprocess.run(
        [sys.executable, "-c", program], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert run.returncode == 0, run.stdout[-3000:]


def test_pure_modules_leave_every_framework_unloaded():
    program = (
        "import importlib, sys\n"
        f"for name in {list(pure_modules())!r}: importlib.import_module(name)\n"
        f"print([n for n in {FRAMEWORKS!r} if n in sys.modules])"
    )
    run = subprocess.run(
        [sys.executable, "-c", program], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert run.stdout.strip() == "[]"


@pytest.mark.parametrize("path", python_files(*APPS), ids=lambda p: p.relative_to(ROOT).as_posix())
def test_no_module_is_longer_than_the_limit(path):
    assert len(path.read_text().splitlines()) <= LONGEST_MODULE


def test_package_inits_are_empty_except_the_list_of_models():
    crowded = [
        p.relative_to(ROOT).as_posix()
        for p in python_files(*APPS)
        if p.name == "__init__.py" and p.parent.name != "models" and p.read_text().strip()
    ]
    assert crowded == []


def test_rooms_that_hold_nothing_do_not_exist():
    empty = [
        folder.relative_to(ROOT).as_posix()
        for app in APPS
        for folder in (ROOT / app).rglob("*")
        if folder.is_dir() and folder.name != "__pycache__"
        and not any(p.is_file() and p.name != "__init__.py" and p.suffix != ".pyc" for p in folder.rglob("*"))
    ]  # fmt: skip
    assert empty == []
