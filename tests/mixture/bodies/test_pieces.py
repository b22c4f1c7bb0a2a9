"""What grows again from pieces or is set again, where the ground between is dug; all plants invented.

Outside source: Liebman, Mohler & Staver (2001), Ecological Management of Agricultural Weeds, ch. 4 (rhizome
fragments develop new shoots; tillage drags and multiplies them). The rest is common practice and says so.
"""

from dataclasses import replace

import pytest

from kb.mixture.profile import Estimate
from tests.mixture.meetings import BAMBOO, DUG, LOW, bed, condition
from tests.mixture.profiles import about, chosen, invented, lasting, woody

SHALLOW = replace(LOW, root_d50_m=about(0.1), root_d95_m=about(0.4))
CREEPS = replace(
    SHALLOW,
    id="creeper",
    name="creeper",
    spread=chosen("runs"),
    travels_by=chosen("rhizome"),
    height_m=about(0.5),
)
FORKED = lasting("forked", dug_depth_m=about(0.3, times=1.1), activity=DUG.activity)
BULB = replace(SHALLOW, id="bulb", name="bulb", root_form=chosen("bulb"), travels_by=chosen("bulb"))


@pytest.mark.parametrize("organ", ["rhizome", "tuber", "suckering"])
def test_what_grows_again_from_pieces_is_not_killed_by_the_fork(organ: str) -> None:
    """Rhizome fragments develop new shoots (Liebman et al. 2001, ch. 4): work, no loss; a clump is lost."""
    creeps = replace(CREEPS, travels_by=chosen(organ))
    clump = replace(creeps, spread=chosen("clump"), travels_by=chosen(None))
    dug = condition(bed(FORKED, creeps), "digging")

    assert ("workable", "avoid") == (bed(FORKED, creeps).verdict, bed(FORKED, clump).verdict)
    assert "grows again from every piece" in " ".join(found.text for found in bed(FORKED, creeps).reasons)
    assert "careful-lifting" == dug.given


def test_runners_above_ground_and_guesses_are_no_pieces() -> None:
    """Strawberries are lost where the ground is forked (common practice); spread has to be on record."""
    runners = replace(CREEPS, travels_by=chosen("stolon"))
    guessed = replace(CREEPS, spread=chosen("runs", origin="genus"))

    assert ["avoid", "avoid"] == [bed(FORKED, other).verdict for other in (runners, guessed)]


def test_a_crop_that_is_dug_scatters_what_creeps_through_it() -> None:
    """Tillage multiplies what creeps by pieces (Liebman et al. 2001, ch. 4): a barrier, not labour, lifts it.

    A crop that is cut, and one that is drawn from the surface, leave it where it is: yearly work and no more.
    """
    crop = replace(DUG, height_m=about(0.3))
    cut = replace(crop, dug_depth_m=about(0.0, times=1.0))
    loose = bed(CREEPS, crop)

    assert ("poor", "workable") == (loose.verdict, bed(CREEPS, cut).verdict)
    assert "each grows again" in loose.saying
    assert "barrier" == condition(loose, "spread").given
    assert bed(CREEPS, crop, "barrier").verdict in {"good", "workable"}


def test_bulbs_that_come_up_are_set_again() -> None:
    """Clumps of chives are lifted and parted every few years (common practice): a step less."""
    root = invented("root", dug_depth_m=about(0.25, times=1.1), root_form=chosen("tap"))

    assert ("poor", "avoid") == (bed(FORKED, BULB).verdict, bed(FORKED, SHALLOW).verdict)
    assert ("workable", "poor") == (bed(root, BULB).verdict, bed(root, SHALLOW).verdict)
    assert "have to be set again" in bed(root, BULB).saying
    assert ["good", "workable"] == [bed(root, one, "careful-lifting").verdict for one in (BULB, SHALLOW)]


def test_a_crown_of_roots_is_lifted_whole() -> None:
    """Skirret is loosened and lifted as one plant (common practice), like a single root; rows are forked."""
    clump = lasting("clump", dug_depth_m=Estimate(0.15, 0.25, 0.35, "cited", ("record:dug",)))
    crown = replace(clump, spread=chosen("clump"), travels_by=chosen("rhizome"), root_form=chosen("rhizome"))
    tubers = replace(crown, travels_by=chosen("tuber"), root_form=chosen("tuber"))

    assert ("poor", "avoid") == (bed(crown, SHALLOW).verdict, bed(tubers, SHALLOW).verdict)


def test_a_bamboo_comes_up_through_a_low_shrub_and_a_raspberry_beside_it() -> None:
    """Running bamboo among currants: a barrier or nothing (common practice); raspberries stand by them."""
    bamboo = replace(BAMBOO, height_m=about(4))
    canes = woody("canes", "cane", 2.2, spread=chosen("runs"), travels_by=chosen("suckering"))
    currant = woody("currant", "shrub", 1.4)
    loose = bed(bamboo, currant)

    assert ("avoid", "workable") == (loose.verdict, bed(canes, currant).verdict)
    assert "overtops currant" in loose.saying
    assert "60 cm" in condition(loose, "spread").text
    assert "avoid" != bed(bamboo, woody("hazel", "shrub", 4.5)).verdict


def test_shears_cut_a_bamboo_as_they_do_a_shrub() -> None:
    """A bamboo hedge is topped (common practice): what is said of its height is the height it is kept at."""
    bamboo = replace(BAMBOO, height_m=about(8))
    currant = woody("currant", "shrub", 1.4)
    kept = bed(bamboo, currant, setting="hedge", kept_m=2.5)

    assert "about 2.5 m tall" in kept.saying
    assert "about 8 m tall" in bed(bamboo, currant, setting="hedge").saying
