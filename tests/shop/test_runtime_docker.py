"""The container files name every setting, and each setting is explained."""

import re

import pytest
import yaml
from django.conf import settings

DOCKER = settings.BASE_DIR / "docker"
EXPLAINED = set(re.findall(r"^#?([A-Z_]+)=", (DOCKER / "env.example").read_text(), re.MULTILINE))
READ_BY_SETTINGS = set(
    re.findall(r'env\.\w+\("([A-Z_]+)"', (settings.BASE_DIR / "shop" / "settings.py").read_text())
)
# Folders are volumes of the image; errors with their insides are not for where customers can reach them.
FIXED_BY_THE_IMAGE = {"KITWRIGHT_BACKUPS", "KITWRIGHT_PRINTS", "KITWRIGHT_STATIC", "KITWRIGHT_DEBUG"}
COMPOSE = (DOCKER / "compose.yaml").read_text()


@pytest.mark.parametrize("name", sorted(READ_BY_SETTINGS | {"KITWRIGHT_DATA", "KITWRIGHT_ENVIRONMENT"}))
def test_each_setting_is_explained(name):
    assert name in EXPLAINED


def test_compose_asks_for_no_variable_that_is_not_explained():
    assert set(re.findall(r"\$\{([A-Z_]+)", COMPOSE)) <= EXPLAINED


@pytest.mark.parametrize("name", sorted(READ_BY_SETTINGS - FIXED_BY_THE_IMAGE))
def test_what_is_set_in_the_environment_file_reaches_every_part(name):
    services = yaml.safe_load(COMPOSE)["services"]
    assert [part for part in ("web", "worker", "beat") if name not in services[part]["environment"]] == []


def test_compose_runs_the_parts_on_official_images():
    services = yaml.safe_load(COMPOSE)["services"]
    assert set(services) == {"database", "broker", "web", "worker", "beat"}
    assert (services["database"]["image"], services["broker"]["image"]) == ("postgres:18", "valkey/valkey:9")
    commands = [services[name]["command"] for name in ("web", "worker", "beat")]
    assert commands == [["web"], ["worker"], ["beat"]]


def test_compose_sorts_as_the_embedded_server_does():
    arguments = yaml.safe_load(COMPOSE)["services"]["database"]["environment"]["POSTGRES_INITDB_ARGS"].split()
    source = (settings.BASE_DIR / "shop" / "runtime" / "postgres.py").read_text()
    assert [word for word in arguments if f'"{word}"' not in source] == []


@pytest.mark.parametrize("name", ["requirements.lock", "requirements-test.lock"])
def test_a_lock_pins_every_line_and_holds_no_address(name):
    lines = [line for line in (DOCKER / name).read_text().splitlines() if line and not line.startswith("#")]
    assert lines
    assert [
        line
        for line in lines
        if not re.fullmatch(r'[a-z0-9.-]+==[\w.]+( ; python_full_version < "[\d.]+")?', line)
    ] == []
