import pytest
from django.contrib.auth import get_user_model

from inventory.actors import SYSTEM
from inventory.models import Item, Movement, TaxClass
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
