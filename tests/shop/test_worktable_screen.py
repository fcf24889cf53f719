"""The worktable as a browser meets it: fragments, two clerks, refusals, and odd texts."""

import re

import pytest
from django.test import Client

from inventory.actors import SYSTEM
from inventory.models import Hold, Item
from inventory.services import adjusting
from kits.documents.pictures import ON_SCREEN
from shop.models import Draft, Quote
from shop.services import drafts, quotes
from shop.views.worktable_sheet import WITHOUT_PICTURE
from tests.inventory.shelf import stocked
from tests.shop.counter import actor, person, spec
from tests.shop.screens import HTMX, deed, signed_in

FRAGMENTS = ("figures", "parts", "care", "block", "news")
TOO_DEEP = {"drainage": "400", "substrate_front": "200"}


@pytest.fixture
def clerk(shop):
    return signed_in("Ben")


def laid(name="Ben", **quantities):
    return drafts.begin(person(name), spec=spec(**quantities), actor=actor(name))


def taken_up(number, name):
    return drafts.take_up(person(name), number, actor=actor(name))


def work(client, draft, deed_name="change", **fields):
    return deed(client, f"/worktable/{draft.pk}/", {"deed": deed_name, **fields}, htmx=True)


def said(answer):
    return answer.content.decode()


def now(draft):
    return drafts.spec_of(Draft.objects.get(pk=draft.pk))


def held(item):
    return sum(Hold.objects.filter(item__code=item, ended_at=None).values_list("quantity", flat=True))


@pytest.mark.parametrize(
    ("start", "part"),
    [
        ("animal:python-regius", {"animals": [{"species": "python-regius", "count": 1}]}),
        ("enclosure:45x45x60-glass", {"enclosure": {"size": "45x45x60-glass"}}),
        ("empty", {}),
    ],
)
def test_a_kit_begins_with_an_animal_an_enclosure_or_nothing(clerk, start, part):
    answer = deed(clerk, "/worktable/", {"start": start}, htmx=True)
    draft = Draft.objects.get()
    assert drafts.spec_of(draft) == part
    assert answer["HX-Push-Url"] == f"/worktable/{draft.pk}/"


def test_an_old_quote_is_taken_up_by_its_number_in_any_case(clerk):
    quote = quotes.open(spec(BAG=1), actor=actor("Ada"))
    deed(clerk, "/worktable/", {"start-text": f" {quote.number.lower()} "}, htmx=True)
    draft = Draft.objects.get()
    assert (draft.quote, draft.base_version, drafts.spec_of(draft)) == (quote, 1, spec(BAG=1))


@pytest.mark.parametrize(
    "start", ["animal:unicorn", "enclosure:tent", "kit:none", "quote:99Z", "gibberish", "5", ""]
)
def test_what_nobody_knows_is_refused_in_a_sentence_or_begins_empty(clerk, start):
    answer = deed(clerk, "/worktable/", {"start": start})
    assert answer.status_code in ({302} if start == "" else {404})
    assert start == "" or "There is no " in said(answer)


def test_a_change_answers_with_every_fragment_and_keeps_the_strip(clerk):
    draft = laid(BAG=1)
    answer = work(clerk, draft, day="23")
    assert all(f'id="{name}"' in said(answer) for name in FRAGMENTS)
    assert 'id="strip"' not in said(answer)
    assert 'id="drawing"' not in said(answer)  # the drawing follows when it is asked for
    assert now(draft)["room"] == {"temperature_c": 23}


def test_without_scripts_the_same_form_leads_back_to_the_page(clerk):
    draft = laid(BAG=1)
    answer = deed(clerk, f"/worktable/{draft.pk}/", {"deed": "change", "day": "23"})
    assert (answer.status_code, answer["Location"]) == (302, f"/worktable/{draft.pk}/")
    assert 'value="23"' in said(clerk.get(answer["Location"]))


@pytest.mark.parametrize(
    ("fields", "slot", "words"),
    [
        ({"day": "hot"}, "day", "day temperature must be a number."),
        ({"day": "60"}, "day", "day temperature must be from -20 to 45, not 60."),
        ({"warmest": "5"}, "warmest", "warmest day must not be below the room&#x27;s usual day of 21 C"),
        ({"litter": "0.2"}, "litter", "litter must be 0 or at least 1 mm, not 0.2."),
        (TOO_DEEP, "substrate_front", "leaves no air in a box"),
        ({"animal": "dragon"}, "animal", "is not a species known here"),
    ],
)
def test_a_bad_value_is_told_at_its_field_and_the_last_plan_stands(clerk, fields, slot, words):
    draft = laid(BAG=2)
    answer = said(work(clerk, draft, **fields))
    at_field = answer.split(f'data-fault="{slot}"', 1)[1].split("</span>", 1)[0]
    assert words in at_field
    assert now(draft) == spec(BAG=2)
    assert "29.00" in answer


def test_undo_and_redo_walk_over_the_steps_and_fill_the_fields(clerk):
    draft = laid(BAG=1)
    for day in ("23", "24"):
        work(clerk, draft, day=day, touched=f"day {day}")
    assert 'name="day" inputmode="decimal" value="23"' in said(work(clerk, draft, "undo", day="24"))
    assert now(draft)["room"]["temperature_c"] == 23
    work(clerk, draft, "redo")
    assert now(draft)["room"]["temperature_c"] == 24


def test_typing_on_in_one_field_is_one_step(clerk):
    draft = laid(BAG=1)
    for text in ("1", "11", "11.5"):
        work(clerk, draft, day=text, touched="day 7")
    work(clerk, draft, "undo")
    assert now(draft) == spec(BAG=1)


def test_an_overtaken_change_changes_nothing(clerk):
    draft = laid(BAG=1)
    work(clerk, draft, day="24", serial="200")
    work(clerk, draft, day="23", serial="100")
    assert now(draft)["room"]["temperature_c"] == 24


def test_one_key_quotes_and_holds_everything(clerk):
    draft = laid(BAG=2, LAMP=1)
    answer = said(work(clerk, draft, "hold", customer="Wren Okafor"))
    quote = Quote.objects.get()
    assert (held("BAG"), held("LAMP"), quote.customer.name) == (2, 1, "Wren Okafor")
    assert quote.number in answer
    assert "held until" in answer


def test_a_double_click_holds_once(clerk):
    draft = laid(BAG=2)
    for _ in range(2):
        work(clerk, draft, "hold", idempotency_key="the-same-form")
    assert Quote.objects.count() == 1
    assert held("BAG") == 2


def test_what_no_free_item_can_do_is_said_instead_of_the_key_that_does_nothing(clerk):
    draft = laid(HIDE=3)
    assert "fill from what is free" in said(work(clerk, draft))
    answer = said(work(clerk, draft, "fill"))
    assert "leave it out, or wait for a delivery" in answer
    assert "fill from what is free" not in answer


def test_a_draft_is_listed_by_the_name_that_people_say(clerk):
    animal = {"species": "correlophus-ciliatus", "count": 1}
    kit = {"enclosure": {"size": "45x45x60-glass"}, "animals": [animal]}
    drafts.begin(person("Ben"), spec=kit, actor=actor("Ben"))
    assert ">crested gecko, 45x45x60 glass</a>" in said(clerk.get("/worktable/"))


def test_too_little_stock_holds_nothing_and_opens_no_quote(clerk):
    draft = laid(HIDE=3)
    answer = work(clerk, draft, "hold")
    assert answer.status_code == 409
    assert "Not enough is free of Item HIDE (wanted 3, free 1); nothing was held." in said(answer)
    assert not Quote.objects.exists()


def test_a_held_quote_that_is_changed_is_held_again_as_a_new_version(clerk):
    draft = laid(BAG=2)
    work(clerk, draft, "hold")
    work(clerk, draft, "hold", **{"extra-BAG": "4"})
    assert Quote.objects.get().version == 2
    assert held("BAG") == 4


def test_accepting_from_the_worktable_makes_an_order(clerk):
    draft = laid(BAG=1)
    answer = said(work(clerk, draft, "accept"))
    order = Quote.objects.get().order
    assert order.number in answer
    assert 'id="hold"' not in answer


def test_an_item_is_added_by_its_code_or_name_and_taken_off_again(clerk):
    draft = laid(BAG=1)
    work(clerk, draft, "add", add="hide")
    assert {"item": "HIDE", "quantity": 1} in now(draft)["extra"]
    work(clerk, draft, "without:extra:HIDE")
    assert now(draft) == spec(BAG=1)


def test_a_deed_on_a_line_that_is_there_no_more_is_not_done_on_its_neighbour(clerk):
    draft = laid(BAG=1, HIDE=1)
    work(clerk, draft, "without:extra:BAG")
    for name in ("without:extra:BAG", "take:extra:BAG:HIDE", "take:extra:HIDE:LAMP", "without", "take:1"):
        answer = work(clerk, draft, name)
        assert (answer.status_code, now(draft)) == (409, spec(HIDE=1))
        assert "This line has changed meanwhile." in said(answer)


def test_an_item_that_nobody_knows_is_told_in_a_sentence(clerk):
    answer = work(clerk, laid(BAG=1), "add", add="qqqqqq")
    assert answer.status_code == 404
    assert "There is no item" in said(answer)


def test_a_role_put_back_is_wanted_again(clerk):
    draft = laid(BAG=1)
    assert "hide" in now(draft)["without"]
    work(clerk, draft, "with:hide")
    assert "hide" not in now(draft)["without"]


def test_the_second_clerk_sees_the_change_instead_of_overwriting_it(clerk):
    quote = quotes.open(spec(BAG=1), actor=actor("Ada"))
    mine = taken_up(quote.number, "Ben")
    quotes.revise(quote.number, spec=spec(BAG=3), actor=actor("Ada"))
    answer = work(clerk, mine, "hold", day="24")
    assert answer.status_code == 412
    assert "Ada wrote version 2" in said(answer)
    assert "extras: 1 x Item BAG, theirs 3 x Item BAG" in said(answer)
    assert (Quote.objects.get().version, held("BAG")) == (2, 0)


@pytest.mark.parametrize(("choice", "bags"), [("theirs", 3), ("mine", 1)])
def test_the_second_clerk_takes_theirs_or_keeps_mine(clerk, choice, bags):
    quote = quotes.open(spec(BAG=1), actor=actor("Ada"))
    mine = taken_up(quote.number, "Ben")
    quotes.revise(quote.number, spec=spec(BAG=3), actor=actor("Ada"))
    work(clerk, mine, f"{choice}:2")
    work(clerk, mine, "hold")
    assert held("BAG") == bags


def noted(clerk, *, mine, theirs):
    """A quote noted "for May": somebody writes another note while the clerk saves with one of their own."""
    draft = laid(BAG=1)
    work(clerk, draft, "save", note="for May")
    quote = Quote.objects.get()
    quotes.revise(quote.number, note=theirs, expected_version=1, actor=actor("Ada"))
    answer = work(clerk, draft, "save", note=mine, day="23")
    quote.refresh_from_db()
    return quote, said(answer)


@pytest.mark.parametrize(
    ("mine", "theirs", "left"),
    [
        ("for May", "call first", "call first"),
        ("ring twice", "for May", "ring twice"),
        ("ring twice", "call first", "ring twice\ncall first"),
        ("call first", "call first", "call first"),
    ],
)
def test_no_note_overwrites_another_that_was_written_meanwhile(clerk, mine, theirs, left):
    quote, answer = noted(clerk, mine=mine, theirs=theirs)
    assert (quote.version, quote.note) == (2, left)
    assert "changed" not in answer.split('id="version"')[1].split("</dd>")[0]
    assert (f">{left}</textarea>" in answer) is (left != mine)


def test_a_note_that_somebody_else_wrote_is_shown_where_the_clerk_wrote_none(clerk):
    draft = laid(BAG=1)
    work(clerk, draft, "save")
    quotes.revise(Quote.objects.get().number, note="call first", expected_version=1, actor=actor("Ada"))
    assert ">call first</textarea>" in said(clerk.get(f"/worktable/{draft.pk}/"))


def test_a_choice_made_on_an_older_version_than_is_there_is_refused(clerk):
    quote = quotes.open(spec(BAG=1), actor=actor("Ada"))
    mine = taken_up(quote.number, "Ben")
    for bags in (2, 3):
        quotes.revise(quote.number, spec=spec(BAG=bags), actor=actor("Ada"))
    assert work(clerk, mine, "mine:2").status_code == 412
    assert Draft.objects.get().base_version == 1


def test_news_come_only_when_there_are_some(clerk):
    quote = quotes.open(spec(BAG=1), actor=actor("Ada"))
    mine = taken_up(quote.number, "Ben")
    assert clerk.get(f"/worktable/{mine.pk}/news/", headers=HTMX).status_code == 204
    quotes.revise(quote.number, spec=spec(BAG=3), actor=actor("Ada"))
    assert "Take theirs" in said(clerk.get(f"/worktable/{mine.pk}/news/", headers=HTMX))


def test_a_changed_price_is_a_difference_to_accept_and_the_quoted_one_stands_until_then(clerk):
    quote = quotes.open(spec(BAG=2), actor=actor("Ben"))
    draft = taken_up(quote.number, "Ben")
    Item.objects.filter(code="BAG").update(price="15.00")
    page = said(clerk.get(f"/worktable/{draft.pk}/"))
    assert "14.50 → 15.00 each" in page
    assert ">29.00</td>" in page
    assert ">30.00</td>" in said(work(clerk, draft, "renew"))
    assert Quote.objects.get().version == 2


def test_stock_sold_meanwhile_shows_as_short(clerk):
    draft = laid(BAG=6)
    adjusting.adjust("BAG", quantity=-2, reason="breakage", actor=SYSTEM)
    assert "2 short" in said(clerk.get(f"/worktable/{draft.pk}/"))


# A species on the list of 90 FR 2170: its published facts stop the sale.
LISTED = {"animals": [{"species": "ambystoma-tigrinum", "count": 1}]}


def test_a_stop_takes_hold_and_accept_away_and_says_why(clerk):
    draft = drafts.begin(person("Ben"), spec=spec(BAG=1) | LISTED, actor=actor("Ben"))
    page = said(clerk.get(f"/worktable/{draft.pk}/"))
    for name in ("hold", "accept"):
        assert "disabled" in page.split(f'id="{name}"', 1)[1].split(">", 1)[0]
    assert 'id="stop-1">Ambystoma tigrinum: US Lacey Act injurious list' in page


@pytest.mark.parametrize("deed_name", ["hold", "accept"])
def test_a_stop_is_refused_with_its_reason_when_it_is_posted_in_spite(clerk, deed_name):
    draft = drafts.begin(person("Ben"), spec=spec(BAG=1) | LISTED, actor=actor("Ben"))
    answer = work(clerk, draft, deed_name)
    assert answer.status_code == 409
    assert "do not sell until the shop has read it" in said(answer)
    assert (held("BAG"), Quote.objects.count()) == (0, 0)


def test_an_animal_that_may_be_sold_stops_nothing(clerk):
    allowed = {"animals": [{"species": "correlophus-ciliatus", "count": 1}]}
    draft = drafts.begin(person("Ben"), spec=spec(BAG=1) | allowed, actor=actor("Ben"))
    assert work(clerk, draft, "hold").status_code == 200
    assert held("BAG") == 1


def test_a_draft_is_its_persons_own(clerk):
    draft = laid("Ada", BAG=1)
    assert clerk.get(f"/worktable/{draft.pk}/").status_code == 404
    assert work(clerk, draft, "hold").status_code == 404


def test_a_packer_may_not_quote(shop):
    answer = deed(signed_in("Cleo"), "/worktable/", {"start": "empty"})
    assert answer.status_code == 403


def test_an_expired_session_holds_nothing_and_loses_nothing(clerk):
    draft = laid(BAG=1)
    answer = work(Client(), draft, "hold")
    assert answer.status_code == 401
    assert not Quote.objects.exists()
    assert work(clerk, draft, "hold").status_code == 200


@pytest.mark.parametrize("name", ["Zoë 🦎 Ng", "مريم الحسن", "<b>Bo</b> & 'Co'", "x" * 200])
def test_any_name_is_shown_as_it_is(clerk, name):
    draft = laid(BAG=1)
    work(clerk, draft, "hold", customer=name)
    page = clerk.get(f"/worktable/{draft.pk}/")
    assert Quote.objects.get().customer.name == name
    assert "<b>Bo</b>" not in said(page)


def test_a_note_with_markup_stays_text(clerk):
    draft = laid(BAG=1)
    work(clerk, draft, "save", note="<script>alert(1)</script>")
    page = said(clerk.get(f"/worktable/{draft.pk}/"))
    assert "&lt;script&gt;alert(1)" in page
    assert "<script>alert" not in page


def test_three_hundred_lines_and_a_name_of_two_hundred_letters(clerk):
    for number in range(300):
        stocked(f"THING-{number}", 0)
    Item.objects.filter(code="THING-7").update(name="w" * 200)
    draft = laid(**{f"THING-{number}": 1 for number in range(300)})
    page = said(clerk.get(f"/worktable/{draft.pk}/"))
    assert page.count("data-key-of=") == 300
    assert "w" * 200 in page


def test_the_page_has_no_inline_style_or_script(clerk):
    page = said(clerk.get(f"/worktable/{laid(BAG=1).pk}/"))
    assert " style=" not in page
    assert "<style" not in page
    assert " on" not in [word[:3] for word in page.split("<script")[0].split('"') if word.startswith(" on")]


def test_items_are_offered_for_what_is_typed(clerk):
    assert '<option value="HIDE"' in said(clerk.get("/worktable/offers/", {"q": "hide"}))
    assert said(clerk.get("/worktable/offers/", {"q": ""})).strip() == ""


def test_the_start_page_lists_drafts_quotes_and_asks_few_queries(clerk, django_assert_max_num_queries):
    for bags in range(1, 5):
        work(clerk, laid(BAG=1), "save", **{"extra-BAG": str(bags)})
    clerk.get("/worktable/")
    with django_assert_max_num_queries(12):
        page = said(clerk.get("/worktable/"))
    assert page.count('href="/worktable/') == 5


def test_the_build_sheet_comes_as_a_pdf_before_and_after_the_quote(clerk):
    draft = laid(BAG=1)
    assert clerk.get(f"/worktable/{draft.pk}/build-sheet.pdf").content.startswith(b"%PDF")
    work(clerk, draft, "hold")
    number = Quote.objects.get().number
    answer = clerk.get(f"/worktable/{draft.pk}/build-sheet.pdf")
    assert answer["Location"] == f"/api/quotes/{number}/build-sheet.pdf"


def test_the_drawing_that_follows_shows_what_the_figures_want(clerk):
    draft = laid(BAG=1)
    before = wanted(work(clerk, draft, day="23"))
    after = wanted(work(clerk, draft, drainage="30"))
    drawn = clerk.get(f"/worktable/{draft.pk}/?view=section", headers=HTMX).content.decode()
    assert before != after
    assert f'data-shows="{after}"' in drawn
    assert wanted(work(clerk, draft, customer="Mira Holt")) == after  # nobody draws a name


def test_every_picture_that_a_kit_may_lack_has_a_sentence_in_its_place():
    assert WITHOUT_PICTURE.keys() == ON_SCREEN.keys()


def test_a_fortnight_has_a_view_of_its_own(clerk):
    draft = laid(BAG=1)
    drawn = clerk.get(f"/worktable/{draft.pk}/?view=fortnight", headers=HTMX).content.decode()
    assert 'id="drawing-fortnight"' in drawn
    assert "In 14 days the water in the soil goes from" in drawn
    assert "In 14 days" not in clerk.get(f"/worktable/{draft.pk}/?view=day", headers=HTMX).content.decode()


def wanted(answer):
    return re.search(r'data-wants="([0-9a-f]+)"', said(answer))[1]


def test_how_many_cautions_there_are_is_said_above_the_first(clerk):
    draft = drafts.begin(person("Ben"), spec={"style": "humid-forest", **spec(BAG=1)}, actor=actor("Ben"))
    care = said(work(clerk, draft)).partition('id="care"')[2].partition("</section>")[0]
    for level, word in (("warning", "warning"), ("note", "note")):
        count = care.count(f"caution-{level}")
        assert count == 0 or re.search(rf"\b{count} {word}s?<", care)
    assert "caution-" in care


def test_a_draft_on_which_nothing_was_said_is_not_offered_again(clerk):
    starts = ({}, {"style": "desert"})
    empty, spoken = (drafts.begin(person("Ben"), spec=start, actor=actor("Ben")) for start in starts)
    page = clerk.get("/worktable/").content.decode()
    assert f'href="/worktable/{spoken.pk}/"' in page
    assert f'href="/worktable/{empty.pk}/"' not in page


def test_a_working_comes_when_it_is_asked_for_and_not_with_every_key(clerk):
    draft = laid(BAG=1)
    assert '<th scope="row">width_m' not in said(work(clerk, draft, day="23"))
    address = f"/worktable/{draft.pk}/workings/footprint_m2/"
    part, page = clerk.get(address, headers=HTMX).content.decode(), clerk.get(address).content.decode()
    assert [text.count('<th scope="row">width_m') for text in (part, page)] == [1, 1]
    assert ["<html" in text for text in (part, page)] == [False, True]
    assert clerk.get(f"/worktable/{draft.pk}/workings/joy/").status_code == 404


def test_a_figure_that_the_sheet_does_not_show_has_a_name_and_a_unit_too(clerk):
    draft = laid(BAG=1)
    answer = said(work(clerk, draft, day="23"))
    assert ">barrier mesh, cut to</dt>" in answer
    assert re.search(r'id="other-mesh_mm">\d+ . \d+ mm<', answer)
