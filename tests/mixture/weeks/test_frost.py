"""What frost leaves of a tender plant that would have to live through winter."""

from dataclasses import replace

from kb.mixture.site import REFERENCE_SITE
from tests.mixture.judging.test_conflicts import bed
from tests.mixture.profiles import chosen, lasting


def test_frost_kills_what_has_to_live_through_winter() -> None:
    """A tender perennial is refused where frost comes, and taken where none does or as an annual."""
    tender = lasting("tender-one", tender=chosen("yes", "record:tender"))
    annual = replace(tender, life_cycle=chosen("annual"))
    other = lasting("hardy-one")
    frostless = replace(REFERENCE_SITE, last_frost_day=None, first_frost_day=None)

    refused = bed(tender, other)

    assert "avoid" == refused.verdict
    assert refused.limiting is not None
    assert ("hardiness", ("record:tender",)) == (refused.limiting.kind, refused.limiting.records)
    assert "avoid" != bed(tender, other, site=frostless).verdict
    assert "avoid" != bed(annual, other).verdict
