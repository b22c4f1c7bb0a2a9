"""All limits of a set of plants, hardest first, and who climbs on whom.

Of two side by side they are kept but for those of the soil's depth: what keeps two apart, what the weeks, the
winters and the ground's kind ask of each, is the same however deep the soil is.
"""

from collections.abc import Sequence
from functools import partial
from math import inf

from kb.mixture.altered import altered
from kb.mixture.bodies.soil_depth import depth_limits
from kb.mixture.bodies.support import Support, supports_among
from kb.mixture.judging.bonds import Bond, Ground
from kb.mixture.judging.conflicts import DARK_SHARE, mutual_limits, own_limits
from kb.mixture.judging.encounter import meeting_at, party_at
from kb.mixture.judging.strong_light import strongest_light, too_bright
from kb.mixture.kept import KeptBy
from kb.mixture.limits import Limit, Meeting, Party, hardest_first
from kb.mixture.profile import Profile
from kb.mixture.season import FloatArray
from kb.mixture.sharing.felt import Felt, Spot
from kb.mixture.sharing.subject import Subject
from kb.mixture.sharing.variants import Variants
from kb.mixture.site import Site, above_ground, rules_of

Limits = tuple[tuple[Limit, ...], tuple[Support, ...]]
PAIR = 2
KEPT = 64
_BUT_DEPTH: KeptBy[Limits] = KeptBy(KEPT)
_OWN: KeptBy[list[Limit]] = KeptBy(KEPT)
_DEEP: KeptBy[Site] = KeptBy(KEPT)


def limits_among(
    subjects: Sequence[Subject], grounds: Sequence[Ground], bonds: Sequence[Bond], felt: Felt
) -> Limits:
    """All limits, hardest first, and who climbs on whom.

    Of two side by side those of the soil's depth come to what is kept, found as on soil without a bottom.
    """
    place = grounds[0].spot.place
    if len(subjects) != PAIR or len(grounds) > 1 or place.tree is not None or not subjects[0].draws:
        return _limits_of(subjects, grounds, bonds, felt)
    likely = [subject.likely for subject in subjects]
    objects = (
        *(part for one in likely for part in (one.profile, one.activity, one.height, one.d50)),
        bonds[0].harm,
        rules_of(place.site),
    )
    ages = (subject.age_years for subject in subjects)
    dark = felt.by_light.dark[0].tolist()
    spot = grounds[0].spot
    bright = strongest_light(likely, spot)
    values = (*above_ground(place.site), place.setting, place.given, *ages, *dark, *bright)
    limits, supports = _BUT_DEPTH.of(objects, values, lambda: _on_deep_soil(subjects, spot, bonds[0], felt))
    shallow = [limit for plant in likely for limit in depth_limits(plant.profile, place.site.soil_depth_m)]
    return (hardest_first(dict.fromkeys((*limits, *shallow))) if shallow else limits), supports


def _on_deep_soil(subjects: Sequence[Subject], spot: Spot, bond: Bond, felt: Felt) -> Limits:
    """Those of two side by side on soil too deep to limit anything."""
    here = spot.place.site
    deep: Site = _DEEP.of((here,), (), lambda: altered(here, soil_depth_m=inf))
    meeting = altered(meeting_at(spot.place), site=deep)
    return _limits_of_pair(subjects, spot, altered(bond, meeting=meeting), meeting, felt)


def _limits_of_pair(
    subjects: Sequence[Subject], spot: Spot, bond: Bond, meeting: Meeting, felt: Felt
) -> Limits:
    first, second = (
        party_at(subject.likely, spot.place, first=at == 0, age_years=subject.age_years)
        for at, subject in enumerate(subjects)
    )
    same = tuple((subject.kind, subject.likely.activity) for subject in subjects)
    found, supports = limits_of_two((first, second), same, bond, meeting, felt.by_light.dark[0].tolist())
    found += _too_bright([subject.likely for subject in subjects], spot)
    return hardest_first(dict.fromkeys(found)), supports


def _limits_of(
    subjects: Sequence[Subject], grounds: Sequence[Ground], bonds: Sequence[Bond], felt: Felt
) -> Limits:
    if len(grounds) == 1 and len(grounds[0].members) == len(subjects) == PAIR:
        place = grounds[0].spot.place
        return _limits_of_pair(subjects, grounds[0].spot, bonds[0], meeting_at(place), felt)
    found = [limit for bond in bonds for limit in bond.harm.limits]
    supports: list[Support] = []
    bond_of = {bond.places: bond for bond in bonds}
    for ground in grounds:
        place, members = ground.spot.place, ground.members
        parties = [
            party_at(subjects[i].likely, place, first=at == 0, age_years=subjects[i].age_years)
            for at, i in enumerate(members)
        ]
        for at, i in enumerate(members):
            found += own_limits(parties[at], meeting_at(place), float(felt.by_light.dark[0, i]))
        found += _too_bright([subjects[i].likely for i in members], ground.spot)
        meetings = {}
        for at, i in enumerate(members):
            for later in range(at + 1, len(members)):
                bond = bond_of[i, members[later]]
                if bond.kin.kinship != "species":
                    meetings[at, later] = bond.meeting
                    found += mutual_limits(parties[at], parties[later], bond.meeting)
        for support in supports_among(parties, meetings):
            found += support.limits
            supports.append(_placed(support, members))
    return hardest_first(dict.fromkeys(found)), tuple(supports)


def limits_of_two(
    parties: tuple[Party, Party],
    same: tuple[tuple[Profile, FloatArray], ...],
    bond: Bond,
    meeting: Meeting,
    dark: Sequence[float],
) -> tuple[list[Limit], tuple[Support, ...]]:
    """The limits of two on one ground, in no order, and what climbing brings; ``dark`` as in `conflicts`.

    ``same`` is of each what no size moves, its profile on record and its year: what the site holds against it
    is kept by that, but where it is too dark for it.
    """
    found, site = list(bond.harm.limits), meeting.site
    values = (site, meeting.given)
    for party, objects, darkness in zip(parties, same, dark, strict=True):
        if darkness > DARK_SHARE:
            found += own_limits(party, meeting, darkness)
        else:
            found += _OWN.of((*objects, rules_of(site)), values, partial(own_limits, party, meeting, 0.0))
    if bond.kin.kinship == "species":
        return found, supports_among(parties, {})
    found += mutual_limits(*parties, bond.meeting)
    supports = supports_among(parties, {(0, 1): bond.meeting})
    return found + [limit for support in supports for limit in support.limits], supports


def _too_bright(plants: Sequence[Variants], spot: Spot) -> list[Limit]:
    """What the light of a ground holds against plants of the shade that stand on it."""
    lights = strongest_light(plants, spot)
    limits = (too_bright(plant.profile, light) for plant, light in zip(plants, lights, strict=True))
    return [limit for limit in limits if limit is not None]


def _placed(support: Support, members: tuple[int, ...]) -> Support:
    """The same with climber and neighbour by their places in the whole set."""
    climber, other = (members[at] for at in support.places)
    return Support(
        support.limits, support.host, support.climber, support.records, support.carried, (climber, other)
    )
