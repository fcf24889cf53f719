"""Every operation of the schema, with bodies that fit it and bodies that do not: no 500, no surprise."""

import pytest
import schemathesis
from drf_spectacular.generators import SchemaGenerator
from hypothesis import HealthCheck, given, settings
from schemathesis.checks import (
    content_type_conformance,
    not_a_server_error,
    response_schema_conformance,
    status_code_conformance,
)
from zeal import zeal_ignore

from inventory.actors import SYSTEM
from inventory.services import receiving
from inventory.services.receiving import Receipt
from kits.services.facts import load_facts
from shop.services import quotes, staff
from shop.wsgi import application
from tests.shop.counter import open_shop, quoted

CHECKS = [not_a_server_error, status_code_conformance, content_type_conformance, response_schema_conformance]
schema = schemathesis.openapi.from_dict(SchemaGenerator().get_schema(request=None, public=True))
schema.app = application


@pytest.fixture
def token(committed_db):
    with zeal_ignore():  # The shop outlives every example, and many examples ask the same.
        load_facts()
        open_shop()
        yield staff.token("Ada", actor=SYSTEM)


def names_that_exist(label):
    number = quoted(by="Ada", HIDE=1).number
    if "/orders/" in label:
        receiving.receive([Receipt("HIDE", 1)], actor=SYSTEM)
        number = quotes.accept(number, actor=SYSTEM).number
    return {"number": number, "code": "BAG-0" if "/lots/" in label else "BAG", "name": "geometry.layer_l"}


def ask(operation, token, *, known):
    @given(case=operation.as_strategy())
    @settings(max_examples=8, deadline=None, suppress_health_check=list(HealthCheck), database=None)
    def example(case):
        for name in set(case.path_parameters or {}) & set(known):
            case.path_parameters[name] = known[name]
        case.call_and_validate(headers={"Authorization": f"Token {token}"}, checks=CHECKS)

    example()


def test_no_address_answers_what_its_schema_does_not_say(token):
    for found in schema.get_all_operations():
        operation = found.ok()
        ask(operation, token, known={})


def test_addresses_of_things_that_exist_keep_to_the_schema_too(token):
    for found in schema.get_all_operations():
        operation = found.ok()
        if "{" in operation.path:
            ask(operation, token, known=names_that_exist(operation.label))
