"""What cannot be taken is told in one plain sentence that names its field, and many faults in few words."""

import pytest

from shop.services import quotes
from tests.shop.counter import actor, quoted, spec

DISCOUNT, HOLD, RECEIPTS, PRINTS = "quotes/{}/discount/", "quotes/{}/hold/", "receipts/", "print-jobs/"
WRONG = [
    ("quotes/", {"spec": spec(), "note": "x" * 3000}, "note must be at most 2000 characters."),
    ("quotes/", {"spec": spec(), "note": 5}, "note must be text."),
    ("quotes/", {"spec": spec(), "colour": "red"}, "colour is not known here."),
    ("quotes/", {}, "spec must be given."),
    (HOLD, {"until": "tomorrow"}, "until must be a day and a time such as 2027-03-31T18:00."),
    (DISCOUNT, {"percent": "lots", "why": "x"}, "percent must be a number."),
    (DISCOUNT, {"percent": "5.123", "why": "x"}, "percent must have at most 2 decimals."),
    (DISCOUNT, {"percent": "5", "why": ""}, "why must not be empty."),
    (RECEIPTS, {"lines": [{"item": "BAG", "quantity": 0}]}, "quantity must be at least 1."),
    (RECEIPTS, {"lines": [{"item": "BAG", "quantity": "3"}]}, "quantity must be a whole number."),
    (
        RECEIPTS,
        {"lines": [{"item": "BAG", "quantity": 1, "best_before": "soon"}]},
        "best_before must be a day such as 2027-03-31.",
    ),
    (
        PRINTS,
        {"document": "poster", "items": []},
        "document must be one of build_sheet, quote, kit_label, shelf_label.",
    ),
    (PRINTS, {"document": "quote", "quotes": "1001N"}, "quotes must be a list."),
    (PRINTS, {"document": "quote", "quotes": ["x", 5]}, "quotes[1] must be text."),
]


@pytest.mark.parametrize(("path", "body", "sentence"), WRONG)
def test_a_field_that_is_wrong_is_told_in_one_sentence(ada, path, body, sentence):
    answer = ada.post(path.format(quoted(BAG=1).number), body)
    assert (answer.status_code, answer.json()["detail"]) == (422, sentence)


def test_a_word_that_is_near_nothing_gets_no_suggestion(ada):
    answer = ada.post("plans/", {**spec(), "colour": "red"})
    assert answer.json()["detail"] == "colour is not a field known here."


def test_what_was_written_stands_in_the_sentence_as_it_was_written(ada):
    answer = ada.post("plans/", {**spec(), "style": "🦎 לח"})
    assert "'🦎 לח'" in answer.json()["detail"]


def test_three_hundred_faults_are_told_in_few_words_and_one_by_one_beside_them(ada):
    extra = [{"item": f"NONE-{number}", "quantity": 1} for number in range(300)]
    problem = ada.post("plans/", {**spec(), "extra": extra}).json()
    assert len(problem["errors"]) >= 100
    assert problem["detail"].count("NONE-") == 5
    assert problem["detail"].endswith(f"There are {len(problem['errors']) - 5} more faults.")


def test_more_than_may_leave_is_told_on_the_screen_by_item_and_number(ada):
    order = quotes.accept(quoted(BAG=2).number, actor=actor("Ada"))
    answer = ada.post(f"orders/{order.number}/hand-over/", {"lines": [{"item": "BAG", "quantity": 7}]})
    assert answer.json()["detail"] == "Of Item BAG only 2 can still leave with this order, not 7."
