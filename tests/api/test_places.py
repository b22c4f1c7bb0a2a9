"""Where a rule holds: in its country's parts, in the Union's member states, elsewhere not."""

import pytest

from api.places import EUROPEAN_UNION, codes_of, holds_in


@pytest.mark.parametrize(
    ("printed", "codes"),
    [
        ("EU", {"EU"}),
        ("Switzerland", {"CH"}),
        ("England and Wales", {"GB-ENG", "GB-WLS"}),
        ("New Hampshire, USA", {"US-NH"}),
        ("Delaware, Maine, Ohio, West Virginia, USA", {"US-DE", "US-ME", "US-OH", "US-WV"}),
        ("USA", {"US"}),
        ("GB-SCT", {"GB-SCT"}),
    ],
)
def test_printed_places_are_understood(printed: str, codes: set[str]) -> None:
    """Places as the sources of the base print them (ISO 3166-2 parts of GB and US)."""
    assert codes == codes_of(printed)


@pytest.mark.parametrize("printed", ["the Alps", "Maine, somewhere", ""])
def test_a_place_not_understood_is_not_guessed(printed: str) -> None:
    """Then the rule is shown everywhere."""
    assert codes_of(printed) is None


@pytest.mark.parametrize(
    ("rule", "place", "holds"),
    [
        ("EU", "DE", True),
        ("EU", "DE-BY", True),
        ("EU", "CH", False),
        ("DE", "EU", True),
        ("US-ME", "US", True),
        ("US-ME", "US-CA", False),
        ("US", "US-CA", True),
        ("GB-ENG", "GB-SCT", False),
        ("GB", "GB", True),
        ("CH", "CN", False),
    ],
)
def test_where_a_rule_holds(rule: str, place: str, holds: bool) -> None:
    """Unknown parts of a country get the strictest of its rules (trade 8)."""
    assert holds == holds_in(rule, place)


def test_the_union_has_27_members() -> None:
    """27 member states since 2020-02-01 (Council of the EU)."""
    assert 27 == len(EUROPEAN_UNION)
