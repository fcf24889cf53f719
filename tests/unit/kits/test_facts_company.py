"""Who may live with whom, by the company figures of the care-fact tables (column group_rule)."""

import pytest

from kits.terms.build import Occupant
from kits.terms.company import company_cautions, sale_stops
from tests.unit.kits.test_facts_files import subjects

ANIMALS = subjects("animal")


def of(code, count=1, sex="unknown", stage="adult"):
    return Occupant(ANIMALS[code], count, stage, sex)


CASES = [
    ([of("python-regius")], []),
    ([of("python-regius", 2)], ["the species is kept alone"]),
    ([of("correlophus-ciliatus", 1, "male"), of("correlophus-ciliatus", 2, "female")], []),
    ([of("correlophus-ciliatus", 2, "male")], ["males are never kept together"]),
    ([of("correlophus-ciliatus", 2)], ["The sex of 2 Correlophus ciliatus is unknown"]),
    ([of("eublepharis-macularius", 3, "female")], []),
    (
        [of("eublepharis-macularius", 1, "male"), of("eublepharis-macularius", 1, "female")],
        ["only females are kept together"],
    ),
    ([of("dendrobates-tinctorius", 1, "male"), of("dendrobates-tinctorius", 1, "female")], []),
    ([of("dendrobates-tinctorius", 3, "female")], ["is kept as a pair"]),
    ([of("lepidodactylus-lugubris", 4)], []),
    ([of("ranoidea-caerulea", 2, stage="young"), of("ranoidea-caerulea")], ["sizes are not mixed"]),
    ([of("ranoidea-caerulea"), of("dryophytes-cinereus")], ["species are not mixed"]),
]


@pytest.mark.parametrize(("occupants", "expected"), CASES)
def test_company_is_judged_by_the_species_own_rule(occupants, expected):
    texts = [caution.text for caution in company_cautions(occupants)]
    assert len(texts) == len(expected)
    assert all(words in text for words, text in zip(expected, texts, strict=True))


def test_a_caution_quotes_the_rule_and_says_what_kind_of_source_it_has():
    (caution,) = company_cautions([of("chamaeleo-calyptratus", 2)])
    assert '"solitary always, no sight of others", veterinary, legal or reviewed source' in caution.text


def test_a_stopped_species_stops_the_sale_and_says_why():
    (stop,) = sale_stops([of("ambystoma-tigrinum"), of("python-regius")])
    assert (stop.level, stop.about) == ("stop", "ambystoma-tigrinum")
    assert "90 FR 2170" in stop.text
