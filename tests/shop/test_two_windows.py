"""One clerk with one draft in two windows: the second sees the change instead of overwriting it."""

import pytest

from shop.models import Draft
from shop.services import drafts
from tests.shop.counter import actor, person, spec
from tests.shop.screens import deed, signed_in

ELSEWHERE = "changed in another window"


@pytest.fixture
def clerk(shop):
    return signed_in("Ben")


@pytest.fixture
def draft(clerk):
    return drafts.begin(person("Ben"), spec=spec(), actor=actor("Ben"))


def work(client, draft, name="change", **fields):
    return deed(client, f"/worktable/{draft.pk}/", {"deed": name, **fields}, htmx=True)


def room(draft):
    return drafts.spec_of(Draft.objects.get(pk=draft.pk))["room"]["temperature_c"]


def test_what_one_window_changed_is_shown_to_the_other_and_stays(clerk, draft):
    assert work(clerk, draft, day="24", serial="200", before="0").status_code == 200
    late = work(clerk, draft, day="21", serial="300", before="0")
    assert (late.status_code, late["X-Serial"]) == (409, "200")
    assert ELSEWHERE in late.content.decode()
    assert 'id="strip"' in late.content.decode()
    assert room(draft) == 24


def test_a_refusal_that_its_drawing_follows_is_a_refusal_too(clerk, draft):
    work(clerk, draft, day="24", serial="200", before="0")
    late = work(clerk, draft, day="21", serial="300", before="0", drawn="another")
    assert (late.status_code, late.streaming) == (409, True)


def test_what_stands_before_a_drawing_comes_from_nobodys_text(clerk, draft):
    answer = work(clerk, draft, animal="a\x1eb", serial="200", before="0", drawn="another")
    assert b"".join(answer.streaming_content).count(b"\x1e") == 1


def test_who_has_seen_the_change_goes_on_from_it(clerk, draft):
    work(clerk, draft, day="24", serial="200", before="0")
    answer = work(clerk, draft, day="23", serial="300", before="200")
    assert (answer.status_code, answer["X-Serial"], room(draft)) == (200, "300", 23)


def test_a_change_whose_answer_was_lost_is_no_other_windows(clerk, draft):
    work(clerk, draft, day="24", serial="200", before="0")
    assert work(clerk, draft, day="24", serial="200", before="0").status_code == 200


def test_an_undo_in_one_window_is_a_change_to_the_other(clerk, draft):
    work(clerk, draft, day="24", serial="200", before="0")
    work(clerk, draft, "undo", serial="300", before="200")
    assert work(clerk, draft, day="20", serial="400", before="200").status_code == 409


@pytest.mark.parametrize("name", ["undo", "save", "hold", "add"])
def test_no_deed_of_a_window_that_is_behind_is_done(clerk, draft, name):
    work(clerk, draft, day="24", serial="200", before="0")
    assert work(clerk, draft, name, day="21", serial="300", before="0").status_code == 409
    assert (room(draft), Draft.objects.get(pk=draft.pk).quote) == (24, None)


def test_a_browser_without_scripts_is_told_of_the_other_window_too(clerk, draft):
    work(clerk, draft, day="24", serial="200", before="0")
    answer = deed(
        clerk, f"/worktable/{draft.pk}/", {"deed": "change", "day": "21", "serial": "", "before": "0"}
    )
    assert (answer.status_code, room(draft)) == (409, 24)
    assert ELSEWHERE in answer.content.decode()
