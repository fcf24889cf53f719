"""Facts in the database: loading them again changes nothing, own figures win and stay."""

import pytest
import time_machine
from django.core.management import call_command
from django.db import IntegrityError, connection, transaction
from django.test.utils import CaptureQueriesContext

from inventory.actors import SYSTEM, Actor
from inventory.errors import BadInput, NotAllowed, Unknown
from kits.models import Figure, FigureOverride, Subject
from kits.selectors.catalogue import catalogue_key
from kits.selectors.facts import facts
from kits.services import overrides
from kits.services.facts import load_facts

pytestmark = pytest.mark.django_db
GECKO = {"code": "correlophus-ciliatus", "field": "day_air_hi_c"}


def hotter(**changes):
    given = {**GECKO, "value": 25, "why": "our vet's advice", "actor": SYSTEM, **changes}
    return overrides.set("animal", **given)


def test_the_first_load_brings_everything_and_the_second_touches_nothing():
    first = load_facts()
    key = catalogue_key()
    second = load_facts()
    assert (first.subjects, first.figures) == (Subject.objects.count(), Figure.objects.count())
    assert (second.written, second.removed) == (0, 0)
    assert catalogue_key() == key


def test_a_changed_and_a_missing_figure_are_put_right_and_the_rest_is_left_alone():
    load_facts()
    Figure.objects.filter(subject__code=GECKO["code"], field="day_air_hi_c").update(value=99)
    Figure.objects.filter(subject__code=GECKO["code"], field="night_lo_c").delete()
    assert load_facts().written == 2
    assert facts().animals[GECKO["code"]].number("day_air_hi_c") == 26


def test_a_withdrawn_figure_and_subject_are_removed():
    load_facts()
    gone = Subject.objects.create(kind="plant", code="old-plant", name="Old plant")
    Figure.objects.create(subject=gone, field="height_hi_mm", value=1, unit="mm", mark="M", source="test")
    assert load_facts().removed == 2
    assert "old-plant" not in facts().plants


def test_a_withdrawn_subject_stays_while_an_own_figure_speaks_of_it():
    load_facts()
    Subject.objects.create(kind="animal", code="old-animal", name="Old animal")
    hotter(code="old-animal")
    load_facts()
    assert facts().animals["old-animal"].number("day_air_hi_c") == 25


def test_loading_twice_asks_the_database_a_handful_of_times():
    load_facts()
    with CaptureQueriesContext(connection) as queries:
        load_facts()
    assert len(queries) <= 6


def test_an_own_figure_wins_is_marked_and_survives_the_next_load():
    load_facts()
    hotter()
    load_facts()
    figure = facts().animals[GECKO["code"]].figures["day_air_hi_c"]
    assert (figure.value, figure.mark, figure.unit) == (25, "own", "C")
    assert figure.source == "our vet's advice (system)"


def test_the_published_figure_stands_again_when_the_own_one_is_cleared():
    load_facts()
    hotter()
    overrides.clear("animal", **GECKO, actor=SYSTEM)
    assert facts().animals[GECKO["code"]].number("day_air_hi_c") == 26


def test_a_second_own_figure_replaces_the_first_and_says_who_and_when():
    load_facts()
    hotter()
    with time_machine.travel("2026-03-04T05:06:07Z", tick=False):
        hotter(value=24, actor=Actor("Wren", frozenset({"override_fact"})))
    row = FigureOverride.objects.get()
    assert (row.value, row.by, row.at.isoformat()) == (24, "Wren", "2026-03-04T05:06:07+00:00")


@pytest.mark.parametrize(
    ("changes", "refusal", "words"),
    [
        ({"actor": Actor("Wren", frozenset())}, NotAllowed, "override fact"),
        ({"code": "no-such-animal"}, Unknown, "no-such-animal"),
        ({"field": "colour"}, BadInput, "'colour'"),
        ({"value": "warm"}, BadInput, "a finite number (C)"),
        ({"value": True}, BadInput, "a finite number (C)"),
        ({"value": float("inf")}, BadInput, "a finite number (C)"),
        ({"field": "habit", "value": 3}, BadInput, "must be text"),
        ({"field": "eats_plants", "value": "yes"}, BadInput, "true or false"),
        ({"why": "  "}, BadInput, "'why'"),
    ],
)
def test_an_own_figure_is_refused_by_name(changes, refusal, words):
    load_facts()
    with pytest.raises(refusal) as refused:
        hotter(**changes)
    assert words in refused.value.sentence
    assert not FigureOverride.objects.exists()


def test_clearing_what_was_never_set_is_refused():
    load_facts()
    with pytest.raises(Unknown):
        overrides.clear("animal", **GECKO, actor=SYSTEM)


def test_a_shop_may_lift_a_stop_with_its_own_empty_figure():
    load_facts()
    hotter(code="ambystoma-tigrinum", field="stop_sale", value="", why="read and allowed here")
    assert facts().animals["ambystoma-tigrinum"].text("stop_sale") == ""


def test_facts_are_read_once_for_each_version_of_the_catalogue():
    load_facts()
    first = facts()
    with CaptureQueriesContext(connection) as queries:
        assert facts() is first
    assert len(queries) == 1
    hotter()
    assert facts() is not first
    assert facts().version > first.version


def test_a_version_number_given_again_after_a_rollback_is_not_taken_for_the_same():
    load_facts()
    sid = transaction.savepoint()
    hotter(value=20)
    rolled_back = facts()
    transaction.savepoint_rollback(sid)
    hotter(value=21)
    assert facts().version == rolled_back.version
    assert facts().animals[GECKO["code"]].number("day_air_hi_c") == 21


def test_the_database_refuses_a_second_figure_for_one_field():
    load_facts()
    subject = Subject.objects.get(code=GECKO["code"])
    with pytest.raises(IntegrityError), transaction.atomic():
        Figure.objects.create(subject=subject, field="habit", value="x", unit="text", mark="M", source="t")


def test_the_database_refuses_an_unknown_mark():
    load_facts()
    subject = Subject.objects.get(code=GECKO["code"])
    with pytest.raises(IntegrityError), transaction.atomic():
        Figure.objects.create(subject=subject, field="new", value=1, unit="mm", mark="Z", source="t")


def test_the_command_says_what_it_did(capsys):
    call_command("load_facts")
    call_command("load_facts")
    assert capsys.readouterr().out.splitlines()[-1].endswith("0 written, 0 removed.")
