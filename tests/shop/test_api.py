import json
import re
from datetime import UTC, datetime
from decimal import Decimal

import pytest
import time_machine
from django.db import connection
from django.test.utils import CaptureQueriesContext
from rest_framework.test import APIClient

from inventory.models import Item, Movement, SupersededCode, Supplier
from shop.models import Customer, House, Quote
from tests.shop.counter import Caller, quoted, spec

PROBLEM = "application/problem+json"


def opened(caller, **quantities):
    return caller.post("quotes/", {"spec": spec(**quantities)}).json()["number"]


def assert_problem(response, status, pointer=None):
    assert response.status_code == status, response.content
    assert response["Content-Type"] == PROBLEM
    body = response.json()
    assert body["status"] == status
    assert body["detail"]
    assert body["errors"]
    if pointer is not None:
        assert pointer in [error["pointer"] for error in body["errors"]]
    return body


def raw(caller, path, body, content_type="application/json", **headers):
    return caller.client.generic("POST", f"/api/{path}", body, content_type, headers=headers)


def test_a_spec_becomes_a_plan_without_writing_anything(ben):
    plan = ben.post("plans/", spec(BAG=7)).json()
    assert (plan["complete"], plan["lines"][0]["status"], plan["lines"][0]["missing"]) == (False, "short", 1)
    assert Quote.objects.count() == 0


def test_a_plan_needs_no_idempotency_key(ben):
    response = ben.client.post("/api/plans/", spec(BAG=1), "json")
    assert response.status_code == 200


def test_a_quote_is_opened_read_held_accepted_and_handed_over(ben):
    number = opened(ben, BAG=2)
    held = ben.post(f"quotes/{number}/hold/").json()
    assert held["hold"]["lines"] == [{"item": "BAG", "quantity": 2}]
    accepted = ben.post(f"quotes/{number}/accept/")
    assert accepted.status_code == 201
    order = accepted.json()
    assert ben.get(f"orders/{order['number']}/").json()["state"] == "held"
    left = ben.post(f"orders/{order['number']}/hand-over/").json()
    assert (left["state"], left["gone"]) == ("collected", [{"item": "BAG", "lot": "BAG-0", "quantity": 2}])
    assert ben.get(f"quotes/{number}/").json()["order"] == order["number"]
    refused = ben.post(f"orders/{order['number']}/cancel/").json()["detail"]
    assert refused == f"Order {order['number']} is collected; nothing of it is left to cancel."


def test_a_quote_shows_the_keys_of_the_contract(ben):
    quote = ben.get(f"quotes/{opened(ben, BAG=1)}/").json()
    assert {"number", "state", "version", "valid_until", "spec", "plan", "hold"} <= set(quote)
    assert quote["spec"] == spec(BAG=1)


@pytest.mark.parametrize("customer", ["Mira Holt", {"name": "Mira Holt", "email": "mira@example.org"}])
def test_a_customer_is_written_down_with_the_quote(ben, customer):
    quote = ben.post("quotes/", {"spec": spec(BAG=1), "customer": customer}).json()
    assert quote["customer"] == {"id": Customer.objects.get().pk, "name": "Mira Holt"}
    again = ben.post("quotes/", {"spec": spec(BAG=1), "customer": quote["customer"]["id"]})
    assert again.json()["customer"] == quote["customer"]


def test_a_short_hold_names_every_short_item_and_holds_nothing(ben):
    number = opened(ben, BAG=9, LAMP=1)
    problem = assert_problem(ben.post(f"quotes/{number}/hold/"), 409)
    assert problem["short"] == [{"item": "BAG", "wanted": 9, "free": 6}]
    assert ben.get("items/LAMP/").json()["held"] == 0


@pytest.mark.parametrize("until", ["2026-11-26T17:00", "2026-11-27T00:00:00Z", "2026-11-26T18:00-06:00"])
def test_a_time_without_an_offset_is_the_shops_own(ben, until):
    House.objects.filter(id=1).update(timezone="America/Denver")
    with time_machine.travel(datetime(2026, 11, 25, 16, tzinfo=UTC)):
        held = ben.post(f"quotes/{opened(ben, BAG=1)}/hold/", {"until": until}).json()
    assert datetime.fromisoformat(held["hold"]["until"]) == datetime(2026, 11, 27, tzinfo=UTC)


@pytest.mark.parametrize(
    "until", ["soon", "0001-01-01T00:00:00Z", "9999-12-31T23:59:59-12:00", 7, [], "2020-01-01T00:00Z"]
)
def test_a_time_that_cannot_be_is_refused(ben, until):
    assert_problem(ben.post(f"quotes/{opened(ben, BAG=1)}/hold/", {"until": until}), 422, "/until")


@pytest.mark.parametrize("method", ["put", "patch"])
def test_a_quote_is_revised_with_its_etag_and_not_with_an_old_one(ben, method):
    number = opened(ben, BAG=1)
    tag = ben.get(f"quotes/{number}/")["ETag"]
    revise = getattr(ben.client, method)
    body = {"spec": spec(BAG=2)}
    assert revise(f"/api/quotes/{number}/", body, "json", headers={"If-Match": tag}).json()["version"] == 2
    assert_problem(revise(f"/api/quotes/{number}/", body, "json", headers={"If-Match": tag}), 412)


def test_the_same_key_again_replays_the_first_answer(ben):
    body = {"spec": spec(BAG=1)}
    first, again = ben.post("quotes/", body, key="k1"), ben.post("quotes/", body, key="k1")
    assert (again.status_code, again.json()) == (201, first.json())
    assert again["Idempotency-Replayed"] == "true"
    assert "Idempotency-Replayed" not in first
    assert (again["ETag"], Quote.objects.count()) == (first["ETag"], 1)


def test_the_same_key_with_another_body_or_deed_is_refused(ben):
    ben.post("quotes/", {"spec": spec(BAG=1)}, key="k1")
    assert_problem(ben.post("quotes/", {"spec": spec(BAG=2)}, key="k1"), 422)


def test_two_people_may_use_the_same_key(ada, ben):
    body = {"spec": spec(BAG=1)}
    assert ada.post("quotes/", body, key="k1").json() != ben.post("quotes/", body, key="k1").json()


def test_a_refused_deed_leaves_its_key_free_for_another_try(ben, ada):
    number = opened(ben, BAG=7)
    assert_problem(ben.post(f"quotes/{number}/hold/", key="k1"), 409)
    ada.post("receipts/", {"lines": [{"item": "BAG", "quantity": 5}]})
    assert ben.post(f"quotes/{number}/hold/", key="k1").status_code == 200


@pytest.mark.parametrize(
    "path", ["quotes/", "receipts/", "adjustments/", "counts/", "moves/", "standard-kits/",
             "quotes/{q}/hold/", "quotes/{q}/release/", "quotes/{q}/accept/", "quotes/{q}/withdraw/",
             "quotes/{q}/discount/", "orders/{q}/hand-over/", "orders/{q}/cancel/", "orders/{q}/hold/",
             "lots/BAG-0/quarantine/", "lots/BAG-0/release/"],
)  # fmt: skip
def test_every_post_that_writes_wants_a_key(ada, path):
    bodies = {
        "quotes/": {"spec": spec(BAG=1)},
        "receipts/": {"lines": [{"item": "BAG", "quantity": 1}]},
        "adjustments/": {"item": "BAG", "quantity": -1, "reason": "breakage"},
        "counts/": {"lines": [{"item": "BAG", "quantity": 1}]},
        "moves/": {"item": "BAG", "quantity": 1, "from_place": "a", "to_place": "b"},
        "standard-kits/": {"code": "small", "name": "Small", "spec": spec(BAG=1)},
        "quotes/{q}/discount/": {"percent": "5", "why": "Nice"},
    }
    address = path.format(q=quoted(BAG=1).number)
    response = ada.client.post(f"/api/{address}", bodies.get(path, {}), "json")
    assert "Idempotency-Key" in assert_problem(response, 400)["detail"]


BAD_BODIES = {
    "not JSON": b"{",
    "empty": b"",
    "not UTF-8": b'{"a": "\xff"}',
    "NaN": b'{"a": NaN}',
    "infinity": b'{"a": -Infinity}',
    "too large a number": b'{"a": 1e999}',
    "too long a number": b'{"a": ' + b"9" * 5000 + b"}",
    "deep": b"[" * 100_000 + b"]" * 100_000,
    "deep enough to parse": b'{"a": ' + b"[" * 60 + b"]" * 60 + b"}",
    "twins": b'{"a": 1, "a": 2}',
    "NUL": b'{"a": "\\u0000"}',
    "half a pair": b'{"a": "\\ud800"}',
}


@pytest.mark.parametrize("path", ["plans/", "quotes/"])
@pytest.mark.parametrize("body", BAD_BODIES.values(), ids=BAD_BODIES.keys())
def test_a_body_that_is_not_usable_json_answers_400(ben, path, body):
    if body == b"":
        assert_problem(raw(ben, path, body, **{"Idempotency-Key": "k"}), 422)
    else:
        assert_problem(raw(ben, path, body, **{"Idempotency-Key": "k"}), 400)


@pytest.mark.parametrize("body", [[], 3, "text", None, True])
@pytest.mark.parametrize("path", ["plans/", "quotes/", "receipts/", "workings/weight.glass_kg/"])
def test_a_body_that_is_no_object_answers_422(ada, path, body):
    response = raw(ada, path, json.dumps(body), **{"Idempotency-Key": "k"})
    assert_problem(response, 422)


def test_a_body_of_ten_megabytes_answers_413(ben):
    assert_problem(raw(ben, "plans/", b'"' + b"a" * 10_000_000 + b'"'), 413)


def test_other_content_types_answer_415(ben):
    assert_problem(raw(ben, "plans/", b"a=1", "application/x-www-form-urlencoded"), 415)


def test_a_wrong_method_answers_405(ben):
    assert_problem(ben.client.delete("/api/plans/"), 405)


@pytest.mark.parametrize(
    "path", ["nothing/", "quotes/9999Z/", "quotes/1%00/", "items/NOPE/", "lots/NOPE/trace/", "workings/x.y/"]
)
def test_what_is_not_there_answers_404(ben, path):
    response = ben.post(path) if "workings" in path else ben.get(path)
    assert_problem(response, 404)


def test_an_address_without_its_slash_that_is_posted_to_answers_404(ben):
    assert_problem(ben.client.post("/api/plans", {}, "json"), 404)


def test_nobody_signed_in_answers_401(shop):
    response = APIClient().post("/api/plans/", {}, "json")
    assert_problem(response, 401)
    assert response["WWW-Authenticate"] == "Token"


def test_an_unknown_token_answers_401(shop):
    client = APIClient(headers={"Authorization": "Token nonsense"})
    assert_problem(client.get("/api/items/"), 401)


def test_a_renderer_that_is_not_there_answers_406(ben):
    assert_problem(ben.get("items/", Accept="text/csv"), 406)


@pytest.mark.parametrize(
    ("body", "pointer"),
    [
        ({}, "/spec"),
        ({"spec": []}, "/spec"),
        ({"spec": {"style": "humid-forest"}}, "/spec/enclosure"),
        ({"spec": spec(NOPE=1)}, "/spec/extra/0/item"),
        ({"spec": spec(BAG=1), "note": "x" * 2001}, "/note"),
        ({"spec": spec(BAG=1), "note": 3}, "/note"),
        ({"spec": spec(BAG=1), "colour": "red"}, "/colour"),
        ({"spec": spec(BAG=1), "customer": {}}, "/customer/name"),
        ({"spec": spec(BAG=1), "customer": ["x"]}, "/customer"),
        ({"spec": spec(BAG=1), "customer": {"name": "A", "email": "no"}}, "/customer/email"),
    ],
)
def test_a_wrong_field_of_a_quote_is_named(ben, body, pointer):
    assert_problem(ben.post("quotes/", body), 422, pointer)


@pytest.mark.parametrize(
    ("path", "body", "pointer"),
    [
        ("receipts/", {"lines": []}, "/lines"),
        ("receipts/", {"lines": [{"item": "BAG", "quantity": 0}]}, "/lines/0/quantity"),
        ("receipts/", {"lines": [{"item": "BAG", "quantity": 1}, {"item": "BAG"}]}, "/lines/1/quantity"),
        ("receipts/", {"lines": [{"item": "BAG", "quantity": "3"}]}, "/lines/0/quantity"),
        ("receipts/", {"lines": [{"item": "BAG", "quantity": True}]}, "/lines/0/quantity"),
        ("receipts/", {"lines": [{"item": "NOPE", "quantity": 1}]}, "/lines/0/item"),
        ("receipts/", {"lines": [{"item": "BAG", "quantity": 1, "unit_cost": "-1"}]}, "/lines/0/unit_cost"),
        ("receipts/", {"lines": [{"item": "A", "quantity": 1, "best_before": "x"}]}, "/lines/0/best_before"),
        ("adjustments/", {"item": "BAG", "quantity": 1, "reason": "whim"}, "/reason"),
        ("adjustments/", {"item": "BAG", "quantity": 1, "reason": "breakage"}, "/quantity"),
        ("adjustments/", {"item": "BAG", "quantity": 10**12, "reason": "count"}, "/quantity"),
        ("counts/", {"lines": [{"item": "BAG", "quantity": -1}]}, "/lines/0/quantity"),
        ("counts/", {"place": "NOPE", "lines": [{"item": "BAG", "quantity": 1}]}, "/place"),
    ],
)  # fmt: skip
def test_a_wrong_field_at_the_shelf_is_named_and_nothing_moves(ada, path, body, pointer):
    before = Movement.objects.count()
    assert_problem(ada.post(path, body), 422, pointer)
    assert Movement.objects.count() == before


def test_receiving_adjusting_and_counting_move_the_figures(ada):
    ada.post("receipts/", {"lines": [{"item": "BAG", "quantity": 4, "lot": "DELIVERY-1"}]})
    ada.post("adjustments/", {"item": "BAG", "quantity": -1, "reason": "breakage", "lot": "DELIVERY-1"})
    counted = ada.post("counts/", {"lines": [{"item": "BAG", "lot": "DELIVERY-1", "quantity": 2}]})
    assert counted.json()["lines"] == [{"item": "BAG", "lot": "DELIVERY-1", "before": 3, "counted": 2}]
    item = ada.get("items/BAG/").json()
    assert [item[key] for key in ("on_hand", "sellable", "held", "free")] == [8, 8, 0, 8]


def test_a_quarantined_lot_is_on_hand_but_not_sellable(ada):
    assert ada.post("lots/BAG-0/quarantine/", {"why": "Smells odd"}).json()["state"] == "quarantined"
    item = ada.get("items/BAG/").json()
    assert (item["on_hand"], item["sellable"], item["free"]) == (6, 0, 0)
    assert ada.post("lots/BAG-0/release/").json()["state"] == "good"


def test_a_trace_names_the_demands_that_got_some_of_a_lot(ben):
    order = ben.post(f"quotes/{opened(ben, BAG=2)}/accept/").json()["number"]
    ben.post(f"orders/{order}/hand-over/")
    trace = ben.get("lots/BAG-0/trace/").json()
    assert [(step["demand_ref"], step["quantity"]) for step in trace["forward"]] == [(f"order {order}", -2)]


def test_cost_is_shown_only_to_those_who_may_see_it(ada, ben):
    assert "cost" in ada.get("items/BAG/").json()
    assert "cost" not in ben.get("items/BAG/").json()
    assert "cost" not in ben.get("items/", {"search": "bag"}).json()["results"][0]


def test_an_item_tells_its_pack_size_supply_and_care_and_answers_to_a_former_code(ben):
    item = Item.objects.get(code="BAG")
    item.content_quantity, item.content_unit, item.mass_g, item.fragile = 6600, "mL", 3100, True
    item.watts, item.supplier = Decimal("4.50"), Supplier.objects.create(code="MOORLAND", name="Moorland")
    item.save()
    SupersededCode.objects.create(item=item, code="SACK")
    told = ben.get("items/SACK/").json()
    assert (told["item"], told["superseded_codes"], told["supplier"]) == ("BAG", ["SACK"], "MOORLAND")
    assert (told["content_quantity"], told["content_unit"], told["mass_g"]) == (6600, "mL", 3100)
    assert (told["fragile"], told["liquid"], told["watts"], told["keep_max_c"]) == (True, False, 4.5, None)


def test_a_standard_kit_is_taken_off_sale(ada, ben):
    ada.post("standard-kits/", {"code": "a", "name": "A", "spec": spec(BAG=1)})
    assert ben.delete("standard-kits/a/").status_code == 403
    assert ada.delete("standard-kits/a/").json() == []
    assert (ben.get("standard-kits/").json(), ada.delete("standard-kits/b/").status_code) == ([], 404)


def test_a_fault_in_the_spec_of_a_standard_kit_is_named_within_it(ada):
    answer = ada.post("standard-kits/", {"code": "a", "name": "A", "spec": {"style": "desert"}})
    assert (answer.status_code, answer.json()["errors"][0]["pointer"]) == (422, "/spec/enclosure")


def test_items_are_found_by_a_part_of_their_name(ben):
    found = ben.get("items/", {"search": "item bag"}).json()
    assert found["results"][0]["item"] == "BAG"
    assert ben.get("items/", {"search": "\x00%_"}).status_code == 200


def test_the_list_of_quotes_is_searched_and_paged_in_few_queries(ben):
    for name in ("Mira Holt", "Jon Vale", "Mira Stone"):
        ben.post("quotes/", {"spec": spec(BAG=1), "customer": name})
    with CaptureQueriesContext(
        connection,
    ) as queries:
        page = ben.get("quotes/", {"search": "mira", "page_size": 1}).json()
    assert (page["count"], page["results"][0]["customer"]) == (2, "Mira Stone")
    assert len(queries) <= 12


def test_the_list_of_orders_is_paged(ben):
    ben.post(f"quotes/{opened(ben, BAG=1)}/accept/")
    assert ben.get("orders/").json()["results"][0]["gross"] == "15.66"
    assert_problem(ben.get("orders/", {"page": "9"}), 404)


def test_standard_kits_are_saved_listed_and_planned(ada):
    kit = {"code": "small-forest", "name": "Small forest", "spec": spec(BAG=2), "fixed_price": "25.00"}
    assert ada.post("standard-kits/", kit).status_code == 201
    assert ada.get("standard-kits/").json()[0]["code"] == "small-forest"
    planned = ada.get("standard-kits/small-forest/").json()
    assert (planned["net"], planned["can_be_made"]) == ("25.00", {"count": 3, "limited_by": ["BAG"]})


def test_workings_are_listed_and_computed(ben):
    names = [working["name"] for working in ben.get("workings/").json()]
    assert "geometry.layer_l" in names
    arguments = {"width_m": 0.4, "depth_m": 0.4, "front_m": 0.05, "back_m": 0.05}
    worked = ben.client.post("/api/workings/geometry.layer_l/", arguments, "json").json()
    assert (worked["value"], worked["unit"]) == (pytest.approx(8.0), "L")
    assert_problem(ben.client.post("/api/workings/geometry.layer_l/", {"width_m": -1}, "json"), 422)


def test_a_request_id_is_taken_over_or_made(ben):
    assert ben.get("items/", **{"X-Request-ID": "till-7"})["X-Request-ID"] == "till-7"
    assert len(ben.get("items/")["X-Request-ID"]) == 32
    assert "\n" not in ben.get("items/", **{"X-Request-ID": "a b"})["X-Request-ID"]


def test_the_request_id_stands_in_the_ledger(ada):
    body = {"lines": [{"item": "BAG", "quantity": 1}]}
    ada.post("receipts/", body, **{"X-Request-ID": "till-8"})
    assert Movement.objects.latest("id").request_id == "till-8"


def test_the_schema_and_its_page_come_from_this_shop_alone(shop, ben):
    assert ben.get("schema/").status_code == 200
    page = APIClient().get("/api/", headers={"Accept": "text/html"})
    assert page.status_code == 200
    assert "http://" not in page.content.decode() + page["Content-Security-Policy"]
    assert "cdn" not in page.content.decode()
    script = re.search(r'src="(/api/\?script=[^"]*)"', page.content.decode())[1]
    assert APIClient().get(script)["Content-Type"].startswith("application/javascript")
    for asset in re.findall(r'"(/static/[^"]+\.(?:js|css))"', page.content.decode()):
        assert b"".join(APIClient().get(asset).streaming_content)


def test_a_person_without_roles_may_not_even_read(shop):
    eve = Caller("Eve")
    for path in ("items/", "quotes/", "orders/", "standard-kits/"):
        assert_problem(eve.get(path), 403)
