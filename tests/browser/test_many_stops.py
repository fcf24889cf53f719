"""A kit with a dozen stops leaves its worktable in place: two are told, the others are cautions."""

import pytest
from playwright.sync_api import expect

from inventory.actors import SYSTEM
from inventory.models import Item
from shop.models import StaffMember
from shop.services import drafts
from tests.browser.conftest import DESK, PHONE


@pytest.fixture
def hot_draft(live_shop):
    lamps = Item.objects.filter(code__startswith="HEARTHSPOT").order_by("code").values_list("code", flat=True)
    spec = {
        "enclosure": {"size": "45x45x60-glass"},
        "style": "humid-forest",
        "extra": [{"item": code, "quantity": 1} for code in lamps],
    }
    assert len(spec["extra"]) > 4
    return drafts.begin(StaffMember.objects.get(username="marit"), spec=spec, actor=SYSTEM)


@pytest.mark.parametrize("size", [DESK, PHONE])
def test_many_stops_do_not_push_the_sheet_away(window, hot_draft, size):
    page = window(size=size)
    page.goto(f"/worktable/{hot_draft.pk}/")
    expect(page.locator("#stop-2")).to_be_visible()
    expect(page.locator("[id^=stop-]")).to_have_count(2)
    expect(page.locator("#more-stops")).to_contain_text("among the cautions")
    expect(page.locator("#hold")).to_be_disabled()
    expect(page.locator("#drawing-section")).to_be_in_viewport()
    assert page.evaluate("document.querySelector('#block').offsetHeight") < size["height"] / 2
