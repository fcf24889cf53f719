"""What is typed is answered by the figures first; their drawing follows in the same answer."""

import pytest

from shop.services import drafts
from tests.shop.counter import actor, person, spec
from tests.shop.screens import deed, signed_in


@pytest.fixture
def page(shop):
    return f"/worktable/{drafts.begin(person('Ben'), spec=spec(), actor=actor('Ben')).pk}/"


def typed(page, **fields):
    return deed(signed_in("Ben"), page, {"deed": "change", "day": "24", **fields}, htmx=True)


def test_the_figures_come_first_and_then_the_drawing_that_they_name(page):
    answer = typed(page, drawn="another")
    figures, drawing = b"".join(answer.streaming_content).decode().split("\x1e")
    assert 'id="figures"' in figures
    assert "<svg" not in figures
    assert drawing.startswith('<div class="drawn" id="drawing"')
    assert f'data-shows="{answer["X-Drawing"]}"' in drawing


def test_a_page_that_shows_the_drawing_already_gets_the_figures_alone(page):
    answer = typed(page, drawn=typed(page)["X-Drawing"])
    assert not answer.streaming
    assert "\x1e" not in answer.content.decode()


def test_whoever_does_not_tell_what_is_shown_asks_for_the_drawing_afterwards(page):
    assert not typed(page).streaming
