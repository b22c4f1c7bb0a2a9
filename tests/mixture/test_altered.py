"""What is altered is as ``dataclasses.replace`` makes it."""

from dataclasses import replace

import pytest

from kb.mixture.altered import altered
from kb.mixture.bodies.growth import tree_at
from kb.mixture.site import REFERENCE_SITE, Arrangement
from tests.mixture.profiles import SMALL_TREE


def test_it_is_what_replace_makes() -> None:
    """Some of many fields, in any order, and none."""
    tree = tree_at(SMALL_TREE, 7.0)

    assert altered(tree, ends_m=3.0, height_m=2.0) == replace(tree, ends_m=3.0, height_m=2.0)
    assert altered(SMALL_TREE, name="x") == replace(SMALL_TREE, name="x")
    assert altered(REFERENCE_SITE) == REFERENCE_SITE
    assert altered(Arrangement(), tree=tree).tree is tree


def test_a_field_that_is_none_is_refused() -> None:
    with pytest.raises(KeyError):
        altered(Arrangement(), trunk=1.0)
