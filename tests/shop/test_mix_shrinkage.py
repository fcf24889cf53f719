"""The shrinkage that the shop has measured of a mix counts in its litres, cost, figures and alternatives."""

from datetime import date
from decimal import Decimal

import pytest

from inventory.models import Mix
from shop.selectors import mixes
from tests.shop.mixing import mixed, stock_loose
from tests.shop.screens import signed_in

PATH = "/mixes/understorey/"


@pytest.fixture
def mixing(shop):
    stock_loose()
    mixed("understorey", "Understorey mix", CHIPS="4", COMPOST="3")


def measure(pct):
    Mix.objects.update(shrinkage_pct=Decimal(pct), shrinkage_measured_on=date(2026, 11, 3))


def worked():
    return mixes.page(mixes.study("understorey"), mixes.Asked(numbers={"litres": 70.0}))


def test_a_measured_shrinkage_changes_the_litres_of_a_batch(mixing):
    before = [part.litres for part in worked().row.parts]
    measure("30")
    after = [part.litres for part in worked().row.parts]
    assert after == pytest.approx([40 / 0.7, 30 / 0.7])  # 70 L of 4 parts and 3 parts
    assert before != pytest.approx(after)


def test_it_changes_what_could_be_mixed_and_what_a_litre_costs(mixing):
    before = worked().row
    measure("30")
    after = worked().row
    ratio = (1 - 0.3) / (1 - before.figures.shrinkage)
    assert after.mixable_l == pytest.approx(before.mixable_l * ratio)
    assert after.cents_per_l == pytest.approx(before.cents_per_l / ratio)
    assert next(row for row in mixes.listing()).figures == after.figures


def test_other_mixes_on_the_page_shrink_as_much_of_what_hard_grains_would(mixing):
    hard = worked().row.figures.shrinkage / 0.6
    measure("1")
    assert worked().row.bed.calibration == pytest.approx(0.01 / hard)
    measure("40")
    assert worked().row.bed.calibration == 1.0


def test_the_page_and_the_api_say_who_measured_it(mixing):
    client = signed_in("Ada")
    assert "nobody has measured it of this mix" in client.get(PATH).content.decode()
    assert client.get(f"/api{PATH}").json()["figures"]["shrinkage_measured"] is False
    measure("2")
    assert (
        "of what is poured vanishes: measured by the shop on 2026-11-03" in client.get(PATH).content.decode()
    )
    told = client.get(f"/api{PATH}").json()["figures"]
    assert (told["shrinkage_pct"], told["shrinkage_measured"]) == (2.0, True)


def test_a_shrinkage_that_cannot_be_is_told_and_the_worked_out_one_counts(mixing):
    mixed("sandy", "Sandy mix", SAND="1")
    measure("60")  # more than half of sand is solid
    assert "would leave no room for what is solid" in signed_in("Ada").get("/mixes/sandy/").content.decode()
    assert next(row for row in mixes.listing() if row.code == "sandy").figures.shrinkage == 0
