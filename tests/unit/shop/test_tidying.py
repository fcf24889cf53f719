"""Cycles are searched for in the pauses between answers, and never while one is under way."""

import gc

import pytest

from kits.selectors.catalogue import CatalogueKey, KeptByCatalogue
from shop import tidying
from shop.tidying import ANSWERS, MOST_ANSWERS, Tidying


@pytest.fixture
def searched():
    """The generations that were searched, as they were."""
    found = []

    def told(phase, about):
        if phase == "stop":
            found.append(about["generation"])

    gc.callbacks.append(told)
    was_on = gc.isenabled()
    gc.disable()
    yield found
    gc.callbacks.remove(told)
    if was_on:
        gc.enable()


def answered(times):
    one = Tidying()
    for _ in range(times):
        one.began()
        one.ended()
    return one


def later(monkeypatch):
    clock = tidying.time.monotonic() + 10
    monkeypatch.setattr(tidying.time, "monotonic", lambda: clock)


def test_a_pause_after_enough_answers_is_searched_once(searched, monkeypatch):
    one = answered(ANSWERS)
    later(monkeypatch)
    assert (one.tidy_in_a_pause(), one.tidy_in_a_pause()) == (True, False)
    assert searched == [1]


def test_nothing_is_searched_right_after_an_answer_or_during_one(searched, monkeypatch):
    one = answered(ANSWERS)
    assert not one.tidy_in_a_pause()
    one.began()
    later(monkeypatch)
    assert not one.tidy_in_a_pause()
    assert searched == []


def test_a_shop_that_never_pauses_is_searched_all_the_same(searched):
    one = answered(MOST_ANSWERS)
    one.began()
    assert one.tidy_in_a_pause()
    assert searched == [1]


def test_a_new_catalogue_is_searched_by_who_asked_for_it_and_not_during_a_later_key(searched):
    kept = KeptByCatalogue(lambda version: [[number] for number in range(9)])
    at = CatalogueKey("shop", 1, "700")
    assert kept.value(at) is kept.value(at)
    assert searched == [1]
