"""The shelf on the screen, and the one box that finds everything."""

from decimal import Decimal

import pytest

from inventory.models import Item, Movement
from inventory.selectors import ledger, stock
from shop.services import quotes
from tests.shop.counter import actor, quoted
from tests.shop.screens import HTMX, deed, key, signed_in


def free(code):
    return stock.free_by_code([code])[code]


def test_the_shelf_shows_what_is_free_as_shape_and_word(shop):
    page = signed_in("Cleo").get("/shelf/").content.decode()
    assert 'data-shape="●">free</span>' in page


def test_a_search_of_the_shelf_answers_with_its_rows_alone(shop):
    page = signed_in("Cleo").get("/shelf/", {"q": "lamp"}, headers=HTMX).content.decode()
    assert "/shelf/LAMP/" in page
    assert "/shelf/BAG/" not in page
    assert "<html" not in page


def test_shelf_and_item_cost_a_fixed_number_of_queries(shop, django_assert_max_num_queries):
    for _ in range(3):
        quotes.hold(quoted(BAG=1).number, actor=actor("Ben"))
    client = signed_in("Ada")
    client.get("/shelf/")
    with django_assert_max_num_queries(10):
        client.get("/shelf/")
    with django_assert_max_num_queries(17):
        client.get("/shelf/BAG/")


def test_the_item_says_who_it_is_held_for(shop):
    quote = quoted(BAG=2)
    quotes.hold(quote.number, actor=actor("Ben"))
    assert f'href="/quotes/{quote.number}/"' in signed_in("Cleo").get("/shelf/BAG/").content.decode()


@pytest.mark.parametrize(("name", "sees"), [("Ada", True), ("Ben", False), ("Cleo", False)])
def test_cost_is_only_for_those_who_may_see_it(shop, name, sees):
    Item.objects.filter(code="BAG").update(cost=Decimal("3.2100"))
    page = signed_in(name).get("/shelf/BAG/").content.decode()
    assert ("$3.21" in page) is sees


def test_stock_over_time_is_told_in_words_too(shop):
    page = signed_in("Cleo").get("/shelf/BAG/").content.decode()
    assert 'aria-label="Stock since the first came: from 0 to 6 bag, at least 0, at most 6."' in page
    assert 'class="held"' not in page


def test_what_is_held_is_drawn_and_told(shop):
    quotes.hold(quoted(BAG=2).number, actor=actor("Ben"))
    page = signed_in("Cleo").get("/shelf/BAG/").content.decode()
    assert "at most 6; 2 are held now." in page
    assert '<path class="held"' in page


def test_found_one_more_and_undone_again(shop):
    client, before = signed_in("Ben"), free("BAG")
    answer = deed(client, "/shelf/BAG/found/", htmx=True)
    assert free("BAG") == before + 1
    assert "One more, found on the shelf." in answer.content.decode()
    deed(client, "/shelf/BAG/undo/")
    assert free("BAG") == before
    assert Movement.objects.filter(item__code="BAG", kind="reversal").count() == 1
    assert not ledger.differences()


def test_there_is_nothing_to_undo_twice(shop):
    client = signed_in("Ben")
    deed(client, "/shelf/BAG/found/")
    deed(client, "/shelf/BAG/undo/")
    answer = deed(client, "/shelf/BAG/undo/")
    assert answer.status_code == 409
    assert "There is no correction left to undo." in answer.content.decode()


def test_a_correction_needs_a_reason_and_keeps_what_was_typed(shop):
    answer = deed(signed_in("Ben"), "/shelf/BAG/adjust/", quantity="-2")
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "Reason must say why the stock is corrected." in page
    assert 'value="-2"' in page
    assert free("BAG") == 6


@pytest.mark.parametrize(("quantity", "reason"), [("2", "breakage"), ("-1", "found_on_shelf")])
def test_a_sign_that_the_reason_cannot_have_is_named_at_the_quantity(shop, quantity, reason):
    answer = deed(signed_in("Ben"), "/shelf/BAG/adjust/", quantity=quantity, reason=reason)
    assert answer.status_code == 422
    assert 'id="adjust-quantity-error"' in answer.content.decode()


def test_a_breakage_is_taken_from_its_lot(shop):
    deed(signed_in("Ben"), "/shelf/BAG/adjust/", quantity="-2", reason="breakage")
    assert free("BAG") == 4


def test_a_delivery_is_received_into_its_lot_and_undone_by_a_reversal(shop):
    client = signed_in("Cleo")
    fields = {"quantity": "5", "lot": "D7", "best_before": "2031-02-01"}
    page = deed(client, "/shelf/BAG/receive/", fields, htmx=True).content.decode()
    assert "5 received into lot D7." in page
    movement = Movement.objects.filter(lot__code="D7").get()
    deed(client, "/shelf/BAG/undo/", movement=str(movement.pk))
    assert free("BAG") == 6


def test_a_lot_code_that_no_label_can_carry_is_named_at_its_field(shop):
    answer = deed(signed_in("Cleo"), "/shelf/BAG/receive/", quantity="5", lot="lot nr 5")
    assert answer.status_code == 422
    assert 'id="receive-lot-error"' in answer.content.decode()


def test_the_counter_does_not_receive_and_the_packer_does(shop):
    assert "/receive/" not in signed_in("Ben").get("/shelf/BAG/").content.decode()
    assert deed(signed_in("Ben"), "/shelf/BAG/receive/", quantity="5").status_code == 403


def test_one_press_sent_twice_finds_one(shop):
    client, fields = signed_in("Ben"), key()
    for _ in range(2):
        client.post("/shelf/BAG/found/", fields)
    assert free("BAG") == 7


def test_older_movements_come_as_a_fragment(shop):
    client = signed_in("Ben")
    for _ in range(16):
        deed(client, "/shelf/BAG/found/")
    page = client.get("/shelf/BAG/?page=2", headers=HTMX).content.decode()
    assert "16 to 17 of 17" in page
    assert "<html" not in page


def test_a_number_or_code_opens_what_it_names(shop):
    quote = quoted(BAG=1)
    client = signed_in("Ben")
    assert client.get("/find/", {"q": quote.number.lower()})["Location"] == f"/quotes/{quote.number}/"
    assert client.get("/find/", {"q": "bag"})["Location"] == "/shelf/BAG/"


def test_a_barcode_opens_its_item(shop):
    Item.objects.get(code="LAMP").barcodes.create(text="9521234543213", gtin="09521234543213")
    assert signed_in("Ben").get("/find/", {"q": "9521234543213"})["Location"] == "/shelf/LAMP/"


def test_what_may_mean_several_things_is_listed(shop):
    quotes_found = [quoted(BAG=1).number for _ in range(2)]
    page = signed_in("Ben").get("/find/", {"q": quotes_found[0][:2]}).content.decode()
    assert all(number in page for number in quotes_found)


@pytest.mark.parametrize("asked", ["", "zzz-nothing", "\x00", "%", "\u202egnp\U0001f98e", "x" * 5000])
def test_nothing_found_is_said_and_nothing_breaks(shop, asked):
    assert signed_in("Ben").get("/find/", {"q": asked}).status_code == 200
