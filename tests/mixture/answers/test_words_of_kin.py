"""What the answers say of kin that share enemies: how near they are, with whom, and the rotation."""

from dataclasses import replace

from kb.mixture.answers.judgement import judge_planting
from kb.mixture.answers.pair import judge_pair
from kb.mixture.deeds import told
from kb.mixture.judging.planting import Member, Planting
from kb.mixture.site import REFERENCE_SITE, Arrangement, Site
from tests.mixture.real import shipped

PLANTS = {plant.id: plant for plant in shipped()[0]}
NIGHTSHADES = ("solanum-lycopersicum", "capsicum-annuum", "solanum-melongena", "ocimum-basilicum")


def bed(names: tuple[str, ...]) -> Planting:
    return Planting(tuple(Member(PLANTS[name], share=1 / len(names)) for name in names), REFERENCE_SITE)


def test_aubergine_beside_potato_is_one_genus_and_one_beetle() -> None:
    """EFSA 2020, 6359 (major defoliator of potatoes); UMass Extension (bane of potato and eggplant)."""
    said = judge_pair(
        PLANTS["solanum-melongena"],
        PLANTS["solanum-tuberosum"],
        REFERENCE_SITE,
        Arrangement(),
        book=shipped()[1],
        draws=0,
    )

    assert "poor" == said.verdict
    assert "of one genus and share an enemy that does harm: Colorado beetle" in said.saying


def test_a_set_names_the_kin_that_share_an_enemy_and_their_place_in_the_rotation() -> None:
    """One family, one crop in the rotation (common teaching of rotation); basil is a stranger."""
    warm = Site(latitude=37.0, last_frost_day=74.0, first_frost_day=344.0)
    fed = replace(bed(NIGHTSHADES), site=warm, given=frozenset({"fed", "irrigated"}))
    said = judge_planting(fed, book=shipped()[1])
    rotation = [note for note in said.notes if "one crop in the rotation" in note]

    assert "with its kin here, pepper and tomato" in said.saying
    assert 1 == len(rotation)
    assert "Solanaceae" in rotation[0]
    assert "basil" not in rotation[0]


def test_what_several_have_to_do_alike_is_said_once() -> None:
    """Three crops on ground with clubroot: one deed, not three (judgement: what is read at a glance)."""
    until = "to other ground until clubroot is gone: it lasts 10 years or more"
    deeds = [f"{name} goes {until}" for name in ("kale", "turnip", "radish")]

    assert f"kale, turnip and radish go {until}" == told(deeds, most=5)
    assert f"kale goes {until}" == told(deeds[:1], most=5)
