"""Standard kits: a spec that holds is saved under a code, with a fixed or a computed price."""

import json
from decimal import Decimal

import pytest

from inventory.actors import SYSTEM, Actor
from inventory.errors import BadInput, NotAllowed, Unknown
from kits.models import StandardKit
from kits.planning.spec import BadSpec
from kits.services import standard_kits
from kits.services.facts import FOLDER, load_facts

pytestmark = pytest.mark.django_db
SPEC = {"enclosure": {"size": "30x30x45-glass"}, "style": "humid-forest"}
EXAMPLES = sorted((FOLDER.parent / "examples").glob("*.json"))


@pytest.fixture(autouse=True)
def loaded_facts():
    load_facts()


def save(**changes):
    given = {"name": "Small rain box", "spec": SPEC, "actor": SYSTEM, **changes}
    return standard_kits.save(given.pop("code", "small-rain-box"), **given)


def test_a_kit_is_saved_and_replaced_under_its_code():
    save()
    save(name="Small rain box, mark two", fixed_price=Decimal("149.00"))
    kit = StandardKit.objects.get()
    assert (kit.name, kit.fixed_price, kit.spec) == ("Small rain box, mark two", Decimal("149.00"), SPEC)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_example_spec_can_be_saved_as_a_kit(path):
    assert save(spec=json.loads(path.read_text())).active


def test_a_spec_with_a_fault_is_refused_and_nothing_is_saved():
    with pytest.raises(BadSpec) as refused:
        save(spec={**SPEC, "style": "swamp"})
    assert "swamp" in refused.value.sentence
    assert not StandardKit.objects.exists()


@pytest.mark.parametrize(
    ("changes", "refusal"),
    [
        ({"fixed_price": Decimal(0)}, BadInput),
        ({"fixed_price": Decimal("NaN")}, BadInput),
        ({"code": "Not a code"}, BadInput),
        ({"name": " "}, BadInput),
        ({"actor": Actor("Wren", frozenset())}, NotAllowed),
        ({"actor": Actor("Wren", frozenset({"catalogue"})), "fixed_price": Decimal(9)}, NotAllowed),
    ],
)
def test_a_kit_that_cannot_be_sold_is_refused(changes, refusal):
    with pytest.raises(refusal):
        save(**changes)


def test_a_retired_kit_is_kept_but_not_sold():
    save()
    standard_kits.retire("small-rain-box", actor=SYSTEM)
    assert not StandardKit.objects.get().active


def test_an_unknown_kit_cannot_be_retired():
    with pytest.raises(Unknown):
        standard_kits.retire("no-such-kit", actor=SYSTEM)
