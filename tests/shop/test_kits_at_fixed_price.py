"""A standard kit with a fixed price is quoted, printed and ordered at that price."""

from decimal import Decimal

import pytest

from inventory.actors import SYSTEM
from kits.services import standard_kits
from shop.models import House, Quote
from shop.selectors import documents, pricing
from shop.selectors import quotes as quote_selector
from shop.services import drafts, quotes
from tests.shop.counter import actor, person, quoted, spec
from tests.shop.screens import deed, signed_in

pytestmark = pytest.mark.django_db


@pytest.fixture
def kit(shop):
    """One bag, one lamp and one hide, 54.49 by their parts, sold for 50.00."""
    return sold_for("50.00")


def sold_for(price, **changes):
    asked = {**spec(BAG=1, LAMP=1, HIDE=1), **changes}
    return standard_kits.save("corner", name="Corner", spec=asked, fixed_price=Decimal(price), actor=SYSTEM)


def told(quote):
    return quote_selector.document(quote_selector.find(quote.number))


def test_its_quote_costs_the_fixed_price_and_names_the_kit(kit):
    quote = told(quotes.open(kit.spec, actor=actor("Ben")))
    assert (quote["totals"]["net"], quote["plan"]["totals"]["net"]) == ("50.00", "50.00")
    assert quote["plan"]["standard_kit"] == {"code": "corner", "name": "Corner", "fixed_price": "50.00"}


@pytest.mark.parametrize("price", ["50.00", "60.01"])
def test_its_order_lines_share_the_difference_to_the_last_cent(shop, price):
    order = quotes.accept(quotes.open(sold_for(price).spec, actor=actor("Ben")).number, actor=actor("Ben"))
    lines = order.lines.all()
    assert (sum(line.total for line in lines), order.net) == (Decimal(price), Decimal(price))
    assert all(line.total == line.quantity * line.each - line.discount for line in lines)


def test_what_asks_for_something_else_costs_the_sum_of_its_parts(kit):
    quote = told(quoted(BAG=2, LAMP=1, HIDE=1))
    assert (quote["totals"]["net"], "standard_kit" in quote["plan"]) == ("68.99", False)


@pytest.mark.parametrize("change", [{"fill": "free"}, {"units": "metric"}])
def test_it_stays_the_same_kit_from_free_stock_and_in_other_units(kit, change):
    assert told(quotes.open({**kit.spec, **change}, actor=actor("Ben")))["totals"]["net"] == "50.00"


def test_its_own_address_plans_it_at_that_price(kit, ben):
    told = ben.get("standard-kits/corner/").json()
    assert (told["net"], told["plan"]["totals"]["net"]) == ("50.00", "50.00")


def test_its_own_address_tells_what_is_left_of_it_before_tax(kit, ben):
    House.objects.update(prices_include_tax=True)
    told = ben.get("standard-kits/corner/").json()
    assert told["net"] == told["plan"]["totals"]["net"] < told["plan"]["totals"]["gross"] == "50.00"


def test_typing_what_the_kit_says_already_leaves_it_at_its_price(shop):
    kit = sold_for("50.00", animals=[{"species": "correlophus-ciliatus"}])
    draft = drafts.begin(person("Ben"), spec=kit.spec, actor=actor("Ben"))
    typed = {"deed": "save", "animal": "correlophus-ciliatus", "count": "1", "stage": "adult"}
    deed(signed_in("Ben"), f"/worktable/{draft.pk}/", typed, htmx=True)
    assert told(Quote.objects.get())["totals"]["net"] == "50.00"


def test_a_discount_comes_off_the_fixed_price(kit):
    quote = quotes.open(kit.spec, actor=actor("Ben"))
    quotes.discount(quote.number, percent=Decimal(10), why="regular", actor=actor("Ben"))
    assert told(quote)["totals"]["net"] == "45.00"


def test_a_price_changed_later_leaves_what_was_quoted(kit):
    quote = quotes.open(kit.spec, actor=actor("Ben"))
    sold_for("70.00")
    assert told(quote)["totals"]["net"] == "50.00"
    assert told(quotes.revise(quote.number, spec=kit.spec, actor=actor("Ben")))["totals"]["net"] == "70.00"


def test_a_retired_kit_and_one_that_lacks_a_part_have_no_fixed_price(kit):
    plan = told(quotes.open(kit.spec, actor=actor("Ben")))["plan"]
    lacking = {**plan, "unmet": [{"role": "hide", "because": ""}]}
    assert pricing.at_kit_price(lacking, house=None) is lacking
    standard_kits.retire("corner", actor=SYSTEM)
    assert told(quotes.open(kit.spec, actor=actor("Ben")))["totals"]["net"] == "54.49"


def test_the_paper_leads_from_the_sum_to_the_fixed_price(kit):
    quote = quotes.open(kit.spec, actor=actor("Ben"))
    sheet = documents.quote_sheet(quote.number)
    assert (sheet.sum_before, sheet.kit, sheet.kit_change, sheet.net) == ("54.49", "corner", "-4.49", "50.00")


def test_the_kit_laid_on_the_worktable_is_saved_at_its_fixed_price(kit):
    draft = drafts.begin(person("Ben"), spec=kit.spec, actor=actor("Ben"))
    assert told(drafts.save(draft, actor=actor("Ben")))["totals"]["net"] == "50.00"


def test_the_worktable_and_the_page_of_the_quote_say_so(kit):
    client = signed_in("Ben")
    draft = drafts.begin(person("Ben"), spec=kit.spec, actor=actor("Ben"))
    quote = quotes.open(kit.spec, actor=actor("Ben"))
    for address in (f"/worktable/{draft.pk}/", f"/quotes/{quote.number}/"):
        assert "Standard kit corner at its fixed price of 50.00" in client.get(address).content.decode()
