"""What lets plants live side by side without any gift: ground alike, shade that suits, time apart.

None of it is points (`computation-notes` 1.14): it says why nothing much is lost.
"""

from collections.abc import Sequence

import numpy as np

from kb.mixture.counting import listed
from kb.mixture.judging.findings import Findings
from kb.mixture.judging.strong_light import in_fives, strongest_light
from kb.mixture.kept import KeptBy
from kb.mixture.limits import records_of
from kb.mixture.profile import Profile
from kb.mixture.results import Reason
from kb.mixture.sharing.felt import spot_of_two
from kb.mixture.sharing.light_kept import mean_kept
from kb.mixture.sharing.variants import Variants

ALIKE_CLASSES = 1.5
"""Middles of moisture so near (of 12 classes) are of one kind of ground (judgement)."""
ALIKE_PH = 1.0
"""Least common width of pH that is worth naming as one ground for all (judgement; a usual plant bears 2)."""
GROUNDS = ((4.0, "dry"), (6.0, "of ordinary moisture"), (8.0, "moist"), (12.1, "wet"))
"""Middle of the common moisture below which the ground is called so: the words of a question lie between."""
SHADED = 0.875
"""Share of open light below which a plant is said to stand in shade: an eighth is taken (judgement)."""
HALF_LEAF = 0.5
"""Of its fullest leaf; and the share of a season that has to lie outside those weeks to be said."""


KEPT = 64
_ALIKE: KeptBy[Reason | None] = KeptBy(KEPT)
_OUT_OF_LEAF: KeptBy[Reason | None] = KeptBy(KEPT)
"""Kept by what they are said of: another soil or share moves neither."""


def alike(profiles: Sequence[Profile]) -> Reason | None:
    """The one ground that all want, where it is on record for all of them."""
    return _ALIKE.of(tuple(profiles), (), lambda: _alike(profiles))


def _alike(profiles: Sequence[Profile]) -> Reason | None:
    kinds = list(dict.fromkeys(profiles))
    moist, reaction = [p.moisture for p in kinds], [p.soil_ph for p in kinds]
    if len(kinds) < 2 or not all(span.known for span in moist):
        return None
    middles = [(span.low + span.high) / 2 for span in moist]
    low, high = max(span.low for span in moist), min(span.high for span in moist)
    if max(middles) - min(middles) > ALIKE_CLASSES or high <= low:
        return None
    ground = next(word for below, word in GROUNDS if (low + high) / 2 < below)
    records = records_of(*(span.records for span in moist))
    sour, sweet = max(span.low for span in reaction), min(span.high for span in reaction)
    if all(span.known for span in reaction) and sweet - sour >= ALIKE_PH:
        ground += f", at pH {sour:.2g} to {sweet:.2g}"
        records = records_of(records, *(span.records for span in reaction))
    names = [p.name for p in sorted(kinds, key=lambda p: p.id)]
    return Reason("water", f"{listed(names)} want ground alike: {ground}.", records)


def shade_suits(findings: Findings, lost: float) -> Reason | None:
    """Who stands in the other's shade and loses less than ``lost`` of its crop by it, with both figures.

    One that bears no full sun comes first: the shade is what it needs.
    """
    found: list[tuple[bool, float, Profile, Profile, int, str]] = []
    two, losses = (findings.a, findings.b), findings.felt.light[0].tolist()
    shaded = (1,) if findings.place.setting == "under" else (0, 1)
    # Most lose more, or want what is not on record: then nobody asks how much light there is.
    suited = [i for i in shaded if losses[i] < lost and _wants_known(two[i].profile)]
    if not suited:
        return None
    spot = spot_of_two(findings.place)
    left, strongest = mean_kept(two, spot), strongest_light(two, spot)
    for i in suited:
        own, other = two[i].profile, two[1 - i].profile
        here = left[i] / findings.place.site.open_light
        if here >= SHADED:
            continue
        told, most, enough = in_fives(left[i]), strongest[i], own.light_to_crop_full
        if own.most_light is not None:
            if most is not None and most <= own.most_light.low:
                bears = f"more than about {in_fives(own.most_light.low)} % would be too much for it"
                found.append((False, here, own, other, in_fives(most), bears))
        elif enough.known and told >= in_fives(enough.likely):
            gives = f"about {in_fives(enough.likely)} % gives {own.name} a full crop"
            found.append((True, here, own, other, told, gives))
    if not found:
        return None
    needs, _, plant, tall, leaves, why = min(found, key=lambda one: (one[0], one[1], one[2].id))
    text = (
        f"The shade of {tall.name} suits {plant.name}: it leaves about {leaves} % of full light, and {why}."
    )
    bound = () if needs or plant.most_light is None else plant.most_light.records
    own_records = bound or plant.light_to_crop_full.records
    return Reason("light", text, records_of(own_records, tall.height_m.records, tall.leaf_area_index.records))


def _wants_known(plant: Profile) -> bool:
    return plant.light_to_crop_full.known or plant.most_light is not None


def out_of_leaf(findings: Findings) -> Reason | None:
    """Who does half of its growing or more while the other, taller one carries less than half of its leaf."""
    a, b = findings.a, findings.b
    seasons = (a.activity, b.activity, a.leaf_area, b.leaf_area, a.height, b.height)
    return _OUT_OF_LEAF.of((a.profile, b.profile, *seasons), (), lambda: _grows_bare(a, b))


def _grows_bare(a: Variants, b: Variants) -> Reason | None:
    for own, other in ((a, b), (b, a)):
        if other.height[0] > own.height[0] and (share := _outside(own, other)) >= HALF_LEAF:
            plant, tall = own.profile, other.profile
            known = "" if plant.activity.known and tall.leaf.known else "As far as known, "
            text = (
                f"{known}{plant.name} does about {in_fives(share)} % of its growing while {tall.name} "
                "carries less than half of its leaf."
            )
            return Reason("season", text, records_of(plant.activity.records, tall.leaf.records))
    return None


def _outside(own: Variants, other: Variants) -> float:
    """Share of a plant's growing that lies outside the weeks in which the other has half its leaf or more."""
    leaf, season = other.leaf_area[0], own.activity[0]
    if not (season.any() and leaf.any()) or own.profile.id == other.profile.id:
        return 0.0
    bare = leaf < HALF_LEAF * np.max(leaf)
    return float(season[bare].sum() / season.sum())
