"""A key is written in one look at the database: its step counts whatever else was written meanwhile."""

import pytest

from shop.models import Draft
from shop.services import drafts
from shop.services.drafts import Change
from tests.shop.counter import actor, person, spec
from tests.shop.screens import deed, signed_in

pytestmark = pytest.mark.usefixtures("shop")


@pytest.fixture
def draft(shop):
    return drafts.find(person("Ben"), drafts.begin(person("Ben"), spec=spec(), actor=actor("Ben")).pk)


def steps(draft):
    return list(draft.steps.values_list("position", "spec__planting", "touched"))


def typed(draft, planting, touched=""):
    change = Change({**spec(), "planting": planting}, touched=touched)
    return drafts.change(draft, change, actor=actor("Ben"))


def test_a_change_that_saw_the_draft_before_another_one_comes_after_it(draft):
    typed(draft, "light")
    after = typed(draft, "full")  # with the draft as it was before
    assert (after.at, drafts.spec_of(after)["planting"]) == (3, "full")
    assert steps(draft)[1:] == [(2, "light", ""), (3, "full", "")]


def test_typing_on_in_one_field_is_one_step_and_the_draft_knows_it(draft):
    first = typed(draft, "light", "day 4")
    after = typed(first, "full", "day 4")
    assert (after.at, steps(draft)[1:]) == (2, [(2, "full", "day 4")])
    assert drafts.find(person("Ben"), draft.pk).updated_at == after.updated_at


def test_a_change_after_an_undo_takes_the_place_of_what_was_undone(draft):
    at = typed(typed(draft, "light", "day 4"), "full", "night 5")
    at = drafts.step(drafts.step(at, -1, actor=actor("Ben")), -1, actor=actor("Ben"))
    typed(at, "none", "litter 6")
    assert steps(draft)[1:] == [(2, "none", "litter 6")]


def test_a_change_that_changes_nothing_forgets_nothing(draft):
    at = drafts.step(typed(draft, "light"), -1, actor=actor("Ben"))
    drafts.change(at, Change(spec(), note="Call first."), actor=actor("Ben"))
    assert (len(steps(draft)), Draft.objects.get(pk=draft.pk).note) == (2, "Call first.")


def test_only_the_latest_steps_are_kept(draft, monkeypatch):
    monkeypatch.setattr(drafts, "STEPS_KEPT", 3)
    at = draft
    for planting in ("light", "full", "none", "moderate"):
        at = typed(at, planting)
    assert [position for position, *_ in steps(draft)] == [3, 4, 5]


def test_what_the_house_changes_counts_from_the_next_key(draft, ada):
    clerk = signed_in("Ben")
    before = deed(clerk, f"/worktable/{draft.pk}/", {"deed": "change", "day": "22"}, htmx=True)
    ada.client.patch("/api/house/", {"currency": "SEK"}, "json")
    after = deed(clerk, f"/worktable/{draft.pk}/", {"deed": "change", "day": "23"}, htmx=True)
    assert [b"SEK" in answer.content for answer in (before, after)] == [False, True]
