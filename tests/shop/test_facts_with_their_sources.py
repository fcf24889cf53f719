"""Every care figure is shown with its mark and source, and the shop's own stands in its place."""

import json
import re

import pytest
from django.core.management import call_command

from inventory.models import Item
from kits.models import Figure, Profile
from kits.selectors.facts import facts
from shop.services import quotes
from tests.inventory.shelf import stocked
from tests.shop.counter import actor, spec
from tests.shop.screens import signed_in

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("shop")]

CRESTED = "facts/animal/correlophus-ciliatus/"


def figure(sheet, field):
    return next(row for row in sheet["figures"] if row["field"] == field)


def test_the_animals_plants_and_crews_are_listed(cleo):
    listed = {kind: len(cleo.get(f"facts/{kind}/").json()) for kind in ("animal", "plant", "cleanup")}
    assert listed == {"animal": 36, "plant": 63, "cleanup": 14}
    found = cleo.get("facts/animal/", {"search": "Crested"}).json()
    assert [row["code"] for row in found] == ["correlophus-ciliatus"]


def test_each_figure_has_its_unit_mark_and_source_and_says_where_it_was_read(cleo):
    sheet = cleo.get(CRESTED).json()
    assert len(sheet["figures"]) == Figure.objects.filter(subject__code="correlophus-ciliatus").count()
    assert all(row["mark"] in "ABM" and row["source"] and row["unit"] for row in sheet["figures"])
    read_in = figure(sheet, "length_lo_mm")["read_in"]
    assert [source["tag"] for source in read_in] == ["SQB", "AUFF"]
    assert all(source["words"] for source in read_in)


def test_the_owners_own_figure_counts_beside_the_published_one_until_it_is_cleared(ada, ben):
    own = {"value": 3, "why": "measured at our breeder's"}
    assert ben.put(f"{CRESTED}uv_zone_hi/", own).status_code == 403
    told = figure(ada.put(f"{CRESTED}uv_zone_hi/", own).json(), "uv_zone_hi")
    assert (told["value"], told["mark"], told["published"]) == (3, "own", 1)
    assert told["source"].startswith("measured at our breeder's (Ada, ")
    assert facts().animals["correlophus-ciliatus"].figures["uv_zone_hi"].value == 3
    told = figure(ada.delete(f"{CRESTED}uv_zone_hi/").json(), "uv_zone_hi")
    assert (told["value"], told["mark"]) == (1, "B")
    assert ada.delete(f"{CRESTED}uv_zone_hi/").status_code == 404


@pytest.mark.parametrize(
    ("field", "body", "pointer"),
    [
        ("uv_zone_hi", {"value": "high", "why": "x"}, "/value"),
        ("uv_zone_hi", {"value": 3}, "/why"),
        ("uv_zone_hi", {"value": [3], "why": "x"}, "/value"),
        ("colour", {"value": 3, "why": "x"}, "/field"),
    ],
)
def test_an_own_figure_that_cannot_be_is_refused_by_name(ada, field, body, pointer):
    answer = ada.put(f"{CRESTED}{field}/", body)
    assert (answer.status_code, answer.json()["errors"][0]["pointer"]) == (422, pointer)


@pytest.mark.parametrize("path", ["facts/dragon/", "facts/animal/draco/", "facts/dragon/draco/"])
def test_what_is_not_known_is_not_found(ben, path):
    assert ben.get(path).status_code == 404


def test_the_terminal_shows_mark_and_source_below_each_figure(capsys):
    call_command("facts", "animal")
    assert "crested gecko" in capsys.readouterr().out
    call_command("facts", "animal", "correlophus-ciliatus")
    lines = capsys.readouterr().out.splitlines()
    at = next(n for n, line in enumerate(lines) if line.split()[:1] == ["uv_zone_lo"])
    assert lines[at].split() == ["uv_zone_lo", "1", "zone", "[B]"]
    assert lines[at + 1].strip() == "two general pages [GEN]"
    call_command("facts", "animal", "correlophus-ciliatus", "--json")
    assert json.loads(capsys.readouterr().out)["code"] == "correlophus-ciliatus"


@pytest.mark.parametrize("words", [["dragon"], ["animal", "draco"]])
def test_the_terminal_refuses_what_is_not_known_in_one_sentence(capsys, words):
    with pytest.raises(SystemExit) as ended:
        call_command("facts", *words)
    assert (ended.value.code, capsys.readouterr().err.count("\n")) == (2, 1)


def test_the_pages_list_them_and_show_each_figure_with_its_source():
    client = signed_in("Cleo")
    assert "Crested gecko" in client.get("/facts/").content.decode()
    assert "Crested gecko" not in client.get("/facts/animal/?q=leopard").content.decode()
    page = client.get("/facts/animal/correlophus-ciliatus/").content.decode()
    assert "two general pages [GEN]" in page
    assert "A: veterinary, law, government or reviewed" in page
    found = client.get("/find/?q=crested").content.decode()
    assert '/facts/animal/correlophus-ciliatus/"' in found
    assert client.get("/facts/dragon/").status_code == client.get("/facts/animal/draco/").status_code == 404


def test_the_pages_call_things_by_their_common_names_in_words_with_units():
    client = signed_in("Cleo")
    page = client.get("/facts/plant/").content.decode()
    assert "Clean-up crews</a>" in page
    names = re.findall(r'<td class="lead"><a[^>]*>([^<]+)</a>', page)
    assert names == sorted(names, key=str.casefold)
    sheet = client.get("/facts/animal/correlophus-ciliatus/").content.decode()
    assert '<h1>Crested gecko</h1><p class="soft"><i lang="la">Correlophus ciliatus</i>' in sheet
    assert '<dt>warmest air by day</dt><dd><span class="number">26</span> °C' in sheet
    fields = re.findall(r"<dt>([^<]+)</dt>", sheet)
    assert fields.index("coolest air by day") + 1 == fields.index("warmest air by day")


def test_the_page_of_a_quote_leads_to_what_is_known_of_its_animal():
    kit = {**spec(BAG=1), "animals": [{"species": "correlophus-ciliatus"}]}
    number = quotes.open(kit, actor=actor("Ben")).number
    page = signed_in("Ben").get(f"/quotes/{number}/").content.decode()
    assert '<a href="/facts/animal/correlophus-ciliatus/">Facts of the animal</a>' in page


def test_the_page_of_a_plant_leads_to_what_is_known_of_it():
    stocked("FERN", 1)
    profile = Profile(role="plant", figures={"species": "nephrolepis-exaltata", "pot_mm": 90})
    profile.item = Item.objects.get(code="FERN")
    profile.save()
    page = signed_in("Ben").get("/shelf/FERN/").content.decode()
    assert 'href="/facts/plant/nephrolepis-exaltata/">Facts of the plant</a>' in page
