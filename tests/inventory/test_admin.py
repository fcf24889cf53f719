from datetime import date
from decimal import Decimal

import pytest
from django.contrib.auth import get_user_model

from inventory.actors import SYSTEM
from inventory.models import Item, Mix, MixPart, Movement, TaxClass
from inventory.services import catalogue, receiving
from inventory.services.receiving import Receipt

pytestmark = pytest.mark.django_db


@pytest.fixture
def pages(client):
    client.force_login(get_user_model().objects.create_superuser("owner", password="a long one for tests"))
    TaxClass.objects.create(code="goods", name="Goods", rate=8)
    for code in ("MOSS-5", "JAR-1"):
        catalogue.create({"code": code, "name": code, "tax_class": "goods"}, actor=SYSTEM)
        receiving.receive([Receipt(code, 3)], actor=SYSTEM)
    return client


@pytest.mark.parametrize("model", ["item", "mix", "place", "supplier", "taxclass", "lot", "movement"])
def test_every_list_of_the_admin_opens(pages, model):
    assert pages.get(f"/admin/inventory/{model}/").status_code == 200


def test_the_ledger_can_be_looked_at_and_nothing_more(pages):
    movement = Movement.objects.first()
    at = f"/admin/inventory/movement/{movement.pk}"
    assert pages.get(f"{at}/change/").status_code == 200
    assert pages.post(f"{at}/change/", {"quantity": 99}).status_code == 403
    assert pages.post(f"{at}/delete/", {"post": "yes"}).status_code == 403
    assert pages.get("/admin/inventory/movement/add/").status_code == 403


def test_an_item_keeps_its_code_and_is_never_deleted(pages):
    item = Item.objects.get(code="MOSS-5")
    assert b'name="code"' not in pages.get(f"/admin/inventory/item/{item.pk}/change/").content
    assert pages.post(f"/admin/inventory/item/{item.pk}/delete/", {"post": "yes"}).status_code == 403


@pytest.fixture
def recipe(pages):
    mix = Mix.objects.create(code="own", name="Own mix")
    MixPart.objects.create(mix=mix, item=Item.objects.get(code="MOSS-5"), parts=3)
    return mix


def save(pages, mix, parts="3", **told):
    part = mix.parts.get()
    rows = {"TOTAL_FORMS": 1, "INITIAL_FORMS": 1, "0-id": part.pk, "0-mix": mix.pk, "0-item": part.item_id}
    said = {"code": mix.code, "name": mix.name, "active": "on", **told}
    said |= {f"parts-{name}": value for name, value in {**rows, "0-parts": parts}.items()}
    answer = pages.post(f"/admin/inventory/mix/{mix.pk}/change/", said, follow=True)
    mix.refresh_from_db()
    return answer.content.decode()


def test_the_measured_shrinkage_of_a_mix_is_kept_with_its_day(pages, recipe):
    save(pages, recipe, shrinkage_pct="16.5", shrinkage_measured_on="2026-11-03")
    assert (recipe.shrinkage_pct, recipe.shrinkage_measured_on) == (Decimal("16.5"), date(2026, 11, 3))


@pytest.mark.parametrize(
    ("told", "sentence"),
    [
        (("75", "2026-11-03"), "Measured shrinkage must be from 0 to 60 % of what is poured."),
        (("-1", "2026-11-03"), "Measured shrinkage must be from 0 to 60 % of what is poured."),
        (("16", ""), "fill in both or neither."),
        (("", "2026-11-03"), "fill in both or neither."),
        (("16", "2999-01-01"), "Measured on must not lie in the future."),
    ],
)
def test_a_shrinkage_that_cannot_be_is_refused_in_one_sentence(pages, recipe, told, sentence):
    shown = save(pages, recipe, shrinkage_pct=told[0], shrinkage_measured_on=told[1])
    assert sentence in shown
    assert recipe.shrinkage_pct is None


def test_new_parts_clear_what_was_measured_of_the_old_ones(pages, recipe):
    told = {"shrinkage_pct": "16.5", "shrinkage_measured_on": "2026-11-03"}
    save(pages, recipe, **told)
    save(pages, recipe, **told)
    assert recipe.shrinkage_pct == Decimal("16.5")
    assert "is cleared; measure the new mix" in save(pages, recipe, parts="4", **told)
    assert (recipe.shrinkage_pct, recipe.shrinkage_measured_on) == (None, None)
    save(pages, recipe, parts="5", **{**told, "shrinkage_pct": "12"})
    assert recipe.shrinkage_pct == 12
