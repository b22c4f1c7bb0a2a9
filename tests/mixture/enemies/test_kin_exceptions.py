"""Kin that a published statement excepts from the family rule, and two kinds of one species."""

from dataclasses import replace

import pytest

from api.cli.output import GOES_WITHOUT, SET_AGAINST
from kb.mixture.answers.pair import judge_pair
from kb.mixture.follow.grown_after import kin_share
from kb.mixture.relatedness import CARRIED_OVER, EXCEPTED, SHARED_ENEMIES, relation
from kb.mixture.site import REFERENCE_SITE, Arrangement
from kb.statements.kin_exceptions import FILE, kin_exceptions
from tests.mixture.profiles import invented
from tests.mixture.real import shipped

PLANTS = {plant.id: plant for plant in shipped()[0]}


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("malus-domestica", "rubus-idaeus"),
        ("pyrus-communis", "rubus-idaeus"),
    ],
)
def test_kin_of_which_a_source_says_so_share_less(one: str, other: str) -> None:
    """The plant health service on fire blight of fruit trees and of brambles (EPPO 1995/56; the list)."""
    a, b = PLANTS[one], PLANTS[other]

    assert (EXCEPTED, True) == (relation(a, b).shared, bool(relation(a, b).exception))
    assert relation(a, b) == relation(b, a)
    assert kin_share(a, b, 1.0) >= CARRIED_OVER["family"]


def test_the_rule_stands_for_all_other_kin() -> None:
    """Apple and pear keep the step of their family (`trade` 4.6)."""
    found = relation(PLANTS["malus-domestica"], PLANTS["pyrus-communis"])

    assert (SHARED_ENEMIES["family"], None) == (found.shared, found.exception)


def test_every_exception_names_two_kin_that_are_here() -> None:
    """A row about strangers, or about a plant that is not here, would do nothing (the shipped base)."""
    rows = [(PLANTS[one], PLANTS[other]) for one, kin in kin_exceptions().items() for other, _ in kin]

    assert rows, FILE
    assert {"genus", "family"} >= {relation(one, other).kinship for one, other in rows}


def test_apple_with_raspberry_says_why_kinship_is_no_matter() -> None:
    """`trade` T01: same family, few shared troubles in practice."""
    said = judge_pair(
        PLANTS["malus-domestica"], PLANTS["rubus-idaeus"], REFERENCE_SITE, Arrangement(), draws=0
    )

    assert said.verdict in {"good", "workable"}
    assert "fire blight" in said.saying
    assert 0.15 == pytest.approx(said.loss["rubus-idaeus"].enemies)


def test_two_kinds_of_one_species_are_one_crop_in_the_rotation() -> None:
    """Cabbage and cauliflower: one place in the rotation, each its own spacing (teaching of rotations)."""
    cabbage, cauliflower = (PLANTS[f"brassica-oleracea.{kind}-group"] for kind in ("capitata", "botrytis"))
    two = judge_pair(cabbage, cauliflower, REFERENCE_SITE, Arrangement(), draws=0)
    one = judge_pair(cabbage, cabbage, REFERENCE_SITE, Arrangement(), draws=0)

    assert "one crop in the rotation" in two.saying
    assert "rotation" not in one.saying


def test_enemies_are_not_told_as_a_loss_against_ground_of_its_own() -> None:
    """A bed of its own shares every enemy (common teaching), so that column is set against nothing."""
    assert "ground of its own" not in GOES_WITHOUT
    assert "enemies are not" in SET_AGAINST


def test_an_exception_needs_no_kin_of_the_same_name() -> None:
    """Strangers stay strangers: the list is of kin (`trade` 4.6)."""
    a = replace(invented("arula"), kin_exceptions=(("belta", "so it is printed"),))
    b = invented("belta")

    assert (SHARED_ENEMIES["none"], None) == (relation(a, b).shared, relation(a, b).exception)
