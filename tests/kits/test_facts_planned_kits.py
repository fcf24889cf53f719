"""Standard kits against today's stock: price, completeness and how many can be made now."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from inventory.actors import SYSTEM
from inventory.calc.lines import Line
from inventory.errors import Unknown
from inventory.models import Item, TaxClass
from inventory.services import holding, receiving
from kits.planning.spec import BadSpec
from kits.selectors import standard_kits as kits
from kits.selectors.plans import plan_for
from kits.services import profiles, standard_kits
from kits.services.facts import load_facts
from kits.services.profiles import ItemRole
from kits.terms.plan import Terms

pytestmark = pytest.mark.django_db
EVERYTHING_ELSE = (
    "enclosure drainage barrier inoculant moss bark cleanup_crew plant uvb_lamp uvb_fixture plant_light "
    "basking_lamp lamp_holder dimmer thermostat night_heat timer hide climb water_dish mister drain_tube "
    "mesh_cover feeding_ledge supplement water_conditioner residual_current_device hygrometer substrate "
    "litter"
)
SPEC = {"enclosure": {"size": "30x30x45-glass"}, "style": "desert", "without": EVERYTHING_ELSE.split()}
TERMS = Terms(today="2026-03-02")


@pytest.fixture(autouse=True)
def shop_with_seven_thermometers():
    load_facts()
    tax = TaxClass.objects.create(code="test-goods", name="Goods", rate=Decimal(8))
    Item.objects.create(code="THERMO-1", name="Thermometer", price=Decimal("12.50"), tax_class=tax)
    profiles.set_all([ItemRole("THERMO-1", "thermometer", {"probes": 1})], actor=SYSTEM)
    receiving.receive([receiving.Receipt("THERMO-1", 7)], actor=SYSTEM)


def planned(**changes):
    given = {"name": "Dry box", "spec": SPEC, "actor": SYSTEM, **changes}
    return kits.planned(standard_kits.save("dry-box", **given), terms=TERMS)


def test_a_plan_of_a_spec_comes_from_facts_shelf_and_stock():
    plan = plan_for(SPEC, terms=TERMS)
    assert [(line.item, line.quantity, line.status, line.free) for line in plan.lines] == [
        ("THERMO-1", 1, "free", 7)
    ]
    assert plan.complete


def test_a_plan_asked_for_again_is_the_same_and_reads_the_catalogues_state_and_the_stock_once():
    plan = plan_for(SPEC, terms=TERMS)
    with CaptureQueriesContext(connection) as asked:
        assert plan_for(dict(SPEC), terms=TERMS) is plan
    assert len(asked) == 2


def test_a_plan_is_made_anew_when_what_is_free_has_changed_for_whoever_asks():
    plan_for(SPEC, terms=TERMS)
    until = timezone.now() + timedelta(hours=1)
    holding.hold("quote 7", lines=[Line("THERMO-1", 3)], until=until, actor=SYSTEM)
    assert plan_for(SPEC, terms=TERMS).lines[0].free == 4
    assert plan_for(SPEC, terms=TERMS, leaving_out="quote 7").lines[0].free == 7
    assert plan_for(SPEC, terms=TERMS).lines[0].free == 4


def test_a_plan_on_other_terms_is_another_plan():
    assert plan_for(SPEC, terms=TERMS).totals.currency == "USD"
    assert plan_for(SPEC, terms=replace(TERMS, currency="CAD")).totals.currency == "CAD"


def test_a_kit_costs_what_its_plan_costs_today():
    assert planned().plan.totals.net_cents == 1250
    Item.objects.update(price=Decimal("13.00"))
    assert planned().plan.totals.net_cents == 1300


@pytest.mark.parametrize("written", [{"animals": []}, {"fill": "free", "units": "metric"}, {"depths_mm": {}}])
def test_a_spec_that_asks_for_the_same_in_other_words_has_the_kits_price(written):
    kit = planned(fixed_price=Decimal("11.99")).kit
    assert kits.at_fixed_price({**SPEC, **written}) == kit
    assert kits.at_fixed_price({**SPEC, **written, "planting": "full"}) is None


def test_as_many_kits_can_be_made_as_the_free_stock_allows():
    made = planned().can_be_made
    assert (made.count, made.limited_by) == (7, ("THERMO-1",))


def test_lines_of_one_item_count_together():
    spec = {**SPEC, "extra": [{"item": "THERMO-1", "quantity": 2}]}
    assert planned(spec=spec).can_be_made.count == 2


def test_what_is_held_cannot_be_made_again_except_for_its_own_demand():
    holding.hold("quote 1A/1", lines=[Line("THERMO-1", 6)], until=None, actor=SYSTEM)
    assert planned().can_be_made.count == 1
    assert plan_for(SPEC, terms=TERMS).lines[0].free == 1
    assert plan_for(SPEC, terms=TERMS, leaving_out="quote 1A/1").lines[0].free == 7


def test_only_kits_on_sale_are_listed_but_every_kit_is_found():
    planned()
    standard_kits.retire("dry-box", actor=SYSTEM)
    assert list(kits.active()) == []
    assert kits.get("dry-box").name == "Dry box"
    with pytest.raises(Unknown):
        kits.get("no-such-kit")


def test_a_spec_with_a_fault_never_becomes_a_plan():
    with pytest.raises(BadSpec):
        plan_for({"style": "desert"}, terms=TERMS)
