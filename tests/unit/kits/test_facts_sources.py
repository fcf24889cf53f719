"""Tags beside figures can be shown in words."""

import pytest

from kits.selectors.sources import sources_in


@pytest.mark.parametrize(
    ("text", "tags"),
    [
        ("SVL mean [SQB]; 100-120 [AUFF]; TL [AUFF] 200", ["SQB", "AUFF"]),
        ("24-28, local to 35 [AT, Lamprophis fuliginosus]", ["AT"]),
        ("for up to two [KRI, KNN quoting DE97]", ["KRI", "KNN"]),
        ("cap 26 [AT sec. 6(4)]", ["AT"]),
        ("common practice, no source", []),
        ("an empty tag []", []),
    ],
)
def test_the_tags_of_a_source_are_found_once_and_in_order(text, tags):
    assert [source.tag for source in sources_in(text)] == tags


def test_a_tag_has_words_and_an_address():
    (source,) = sources_in("[RSPCA-RP] length of snake")
    assert source.words == "Animal welfare society (England and Wales), royal python page"
    assert source.address.startswith("rspca.org.uk")
