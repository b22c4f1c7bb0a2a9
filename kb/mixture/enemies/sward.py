"""Kin that are cut green together: swards of several grasses and several clovers, mixed green cover.

What a family shares counts as a loss of the crop (`trade` 4.6). A stand that is mown green bears none of its
own and is cut before much spreads; its kin are sown together for good reason: timothy and smooth meadow grass
with red and white clover gave more than they do alone at six sites of the north (Sturludóttir et al.,
Benefits of mixing grasses and legumes for herbage yield and nutritive value in Northern Europe and Canada,
Grass and Forage Science, abstract), and so did two grasses with two legumes at 31 (Finn et al. 2013, Journal
of Applied Ecology 50: 365-375, abstract). Enemies that a source names are counted as ever.
"""

from dataclasses import replace

from kb.mixture.profile import Profile
from kb.mixture.relatedness import EXCEPTED, Relation, relation
from kb.mixture.site import Setting

WHY = "grasses and clovers that are mown green yield more mixed than alone (trials of leys)"


def relation_in(a: Profile, b: Profile, setting: Setting, given: frozenset[str]) -> Relation:
    """How two plants are related, and what their kin lets expect where they stand; either comes first.

    Of kin that are cut green together as little as of kin that are known to do well (`EXCEPTED`): judgement.
    """
    kin = relation(a, b)
    related = kin.kinship in {"genus", "family"} and kin.exception is None
    if not (related and setting == "bed" and "mown" in given and _cut_green(a) and _cut_green(b)):
        return kin
    return replace(kin, shared=EXCEPTED, exception=WHY)


def _cut_green(plant: Profile) -> bool:
    """Whether mowing is its harvest: a lasting grass, or a herb grown for the ground alone."""
    if plant.woody or plant.dug_depth_m.likely > 0:
        return False
    return plant.covers.value == "yes" or (plant.growth_form.value == "graminoid" and not plant.annual)
