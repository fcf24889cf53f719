"""A shop's own recipe is judged by its own parts, through the medium that each loose ingredient is."""

from datetime import date
from decimal import Decimal

import pytest

from inventory.actors import SYSTEM
from inventory.errors import BadInput
from inventory.models import Mix, MixPart
from kits.effects.soil import soil
from kits.physics.mixes import Bed, mix_figures, recipe, recipe_figures
from kits.planning.build import draft_build
from kits.planning.spec import read_spec
from kits.selectors.facts import facts
from kits.services import profiles
from kits.services.facts import load_facts
from tests.inventory.shelf import make_item

pytestmark = pytest.mark.django_db
BED = Bed(front_mm=60, back_mm=110)
BOX = {"enclosure": {"size": "45x45x60-glass"}, "style": "humid-forest"}


@pytest.fixture
def loose():
    """Coir chips and sand as loose ingredients, and a moss that nothing is known of."""
    load_facts()
    items = {code: make_item(code, base_unit="mL") for code in ("CHIPS", "SAND", "MOSS")}
    for item, medium in (("CHIPS", "coir-chips"), ("SAND", "washed-sand")):
        profiles.set(item, role="ingredient", figures={"medium": medium}, actor=SYSTEM)
    return items


def mixed(loose, code="own", **parts):
    mix, _ = Mix.objects.get_or_create(code=code, defaults={"name": "Own mix"})
    rows = [MixPart(mix=mix, item=loose[item], parts=Decimal(amount)) for item, amount in parts.items()]
    MixPart.objects.bulk_create(rows)
    return mix


def amounts(code):
    return {known.code: parts for known, parts in recipe(facts().mixes[code], facts().media)}


def test_a_mix_of_the_shop_is_known_by_the_media_of_its_parts(loose):
    mixed(loose, CHIPS="3", SAND="1.5")
    assert amounts("own") == {"coir-chips": 3.0, "washed-sand": 1.5}


def test_its_figures_are_those_of_its_own_parts(loose):
    mixed(loose, CHIPS="3", SAND="1")
    known = facts()
    worked = mix_figures(recipe(known.mixes["own"], known.media), BED)
    assert recipe_figures(known.mixes["own"], known.media, BED) == worked
    assert worked.density_kg_l > 0.4  # a quarter of washed sand at 1.55 kg/L and coir chips at 0.13


def test_an_edited_house_mix_takes_the_place_of_the_published_one_and_keeps_its_styles(loose):
    mixed(loose, "dune", CHIPS="1", SAND="6")
    dune = facts().mixes["dune"]
    assert amounts("dune") == {"coir-chips": 1.0, "washed-sand": 6.0}
    assert dune.words("styles") == ("desert",)
    assert dune.figures["washed-sand"].mark == "own"


def test_a_change_of_a_part_is_seen_at_once(loose):
    mix = mixed(loose, CHIPS="3", SAND="1")
    assert amounts("own")["washed-sand"] == 1.0
    MixPart.objects.filter(mix=mix, item=loose["SAND"]).update(parts=2)
    assert amounts("own")["washed-sand"] == 2.0


def test_a_part_of_an_unknown_medium_leaves_the_whole_mix_unknown(loose):
    mixed(loose, CHIPS="3", MOSS="1")
    known = facts()
    assert recipe(known.mixes["own"], known.media) is None
    assert "item MOSS" in known.mixes["own"].figures


def test_two_items_of_one_medium_count_together(loose):
    profiles.set("MOSS", role="ingredient", figures={"medium": "coir-chips"}, actor=SYSTEM)
    mixed(loose, CHIPS="3", MOSS="1")
    assert amounts("own") == {"coir-chips": 4.0}


def test_a_recipe_like_the_published_one_keeps_its_mark_and_source(loose):
    load_facts()
    published = facts().mixes["dune"].figures
    items = {code: make_item(code, base_unit="mL") for code in ("SOIL", "CLAY")}
    for item, medium in (("SOIL", "topsoil"), ("CLAY", "clay-powder")):
        profiles.set(item, role="ingredient", figures={"medium": medium}, actor=SYSTEM)
    mixed({**loose, **items}, "dune", SAND="6", SOIL="2", CLAY="2")
    assert facts().mixes["dune"].figures == published


def test_an_ingredient_of_a_medium_that_no_fact_speaks_of_is_refused(loose):
    with pytest.raises(BadInput, match="no medium is known as 'stardust'"):
        profiles.set("MOSS", role="ingredient", figures={"medium": "stardust"}, actor=SYSTEM)


def measured(mix, pct):
    Mix.objects.filter(pk=mix.pk).update(shrinkage_pct=Decimal(pct), shrinkage_measured_on=date(2026, 11, 3))


def test_a_measured_shrinkage_is_the_finished_volume_of_its_mix_alone(loose):
    measured(mixed(loose, CHIPS="3", SAND="1"), "20")
    mixed(loose, "dune", CHIPS="3", SAND="1")
    known = facts()
    own, other = (recipe_figures(known.mixes[code], known.media, BED) for code in ("own", "dune"))
    assert own.volume_l == pytest.approx(0.8 * 4)
    assert own.measured
    assert other.volume_l != pytest.approx(own.volume_l)
    assert not other.measured
    assert own.density_kg_l == pytest.approx(other.density_kg_l * other.volume_l / own.volume_l)  # mass stays


def test_a_plan_names_the_day_when_the_shrinkage_of_its_soil_was_measured(loose):
    measured(mixed(loose, "understorey", CHIPS="3", SAND="1"), "12.5")
    known = facts()
    build = draft_build(read_spec(BOX, facts=known, knows_item=lambda _: False), facts=known, owned={}).build
    found = soil(build, {"mix": "understorey"})
    assert found.source.endswith("; shrinkage measured by the shop on 2026-11-03")
    assert found.dry_kg_l == pytest.approx((3 * 0.13 + 1.55) / (4 * 0.875))


def test_a_shrinkage_that_leaves_no_room_for_what_is_solid_is_not_believed(loose):
    measured(mixed(loose, SAND="1"), "45")  # 57 % of washed sand is solid
    known = facts()
    figures = recipe_figures(known.mixes["own"], known.media, BED)
    assert not figures.measured
    assert figures.shrinkage == 0


def test_a_mix_measured_anew_is_judged_anew_at_once(loose):
    mix = mixed(loose, CHIPS="3", SAND="1")
    before = recipe_figures(facts().mixes["own"], facts().media, BED)
    measured(mix, "2")
    assert recipe_figures(facts().mixes["own"], facts().media, BED).volume_l > before.volume_l
