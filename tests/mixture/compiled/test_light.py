"""Light on a grid, compiled: plain numpy is the reference."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kb.mixture import kernels
from kb.mixture.compiled.light import shares
from kb.mixture.compiled.single import exp
from kb.mixture.light.near_tree import LARGE, _lone_or_row, _lone_or_row_compiled, light_near_tree
from kb.mixture.light.sun import sky_at
from kb.mixture.site import Site, Stand, Tree

LEAF = np.clip(2 * np.sin((np.arange(52) - 10) / 52 * 2 * np.pi), 0, 1)
AREA = np.linspace(0.16, 1.04, 12)
GRAZING = float(np.sqrt(np.finfo(np.float32).eps / 2))


@given(
    st.floats(2, 30),
    st.floats(0.05, 0.9),
    st.floats(0.5, 8),
    st.floats(0, 8),
    st.sampled_from([-66.0, -35.0, 0.0, 23.0, 51.0, 65.0, 85.0]),
    st.sampled_from(["lone", "row"]),
)
@settings(max_examples=40, deadline=None)
def test_both_ways_give_the_same_light(
    height: float, base: float, radius: float, leaf_area: float, latitude: float, stand: Stand
) -> None:
    """Any crown at any latitude, in and out of its shade, on the ground and above it.

    A ray that only grazes the crown is good to the root of float32's precision (2.4e-4); its weight is small.
    """
    tree = Tree(height, radius, base * height, leaf_area, stand)
    east, north, up = np.meshgrid(
        np.linspace(-2 * radius, 2 * radius, 9), np.linspace(-12, 12, 9), [0.0, 0.4 * height]
    )
    places = np.stack([east.ravel(), north.ravel(), up.ravel()], axis=1).astype(np.float32)
    plain, fast = (way(tree, AREA, sky_at(latitude), places) for way in (_lone_or_row, _lone_or_row_compiled))

    assert plain == pytest.approx(fast, abs=GRAZING)


def test_a_grid_takes_the_compiled_way_and_says_the_same() -> None:
    """One place more or less does not change the light of the others."""
    tree = Tree(6.0, 3.0, 1.5, 2.5)
    east = np.linspace(-8, 8, LARGE)
    many = light_near_tree(tree, LEAF, Site(), east_m=east, north_m=1.0)
    few = light_near_tree(tree, LEAF, Site(), east_m=east[: LARGE - 1], north_m=1.0)

    assert few == pytest.approx(many[:-1], abs=1e-5)
    assert ((many > 0) & (many <= 1)).all()


@pytest.mark.parametrize("fault", [ImportError("no numba"), RuntimeError("cannot cache function")])
def test_without_a_compiler_the_plain_way_answers(monkeypatch: pytest.MonkeyPatch, fault: Exception) -> None:
    """Where numba is missing, or has nowhere to keep its work, the light is the same."""
    tree, east = Tree(6.0, 3.0, 1.5, 2.5), np.linspace(-8, 8, LARGE)
    compiled = light_near_tree(tree, LEAF, Site(), east_m=east, north_m=1.0)

    def refuse(name: str) -> None:
        raise fault

    kernels.compiled.cache_clear()
    monkeypatch.setattr(kernels, "import_module", refuse)
    plain = light_near_tree(tree, LEAF, Site(), east_m=east, north_m=1.0)
    kernels.compiled.cache_clear()

    assert plain == pytest.approx(compiled, abs=1e-5)


def test_several_trees_dim_together() -> None:
    """Ways through several crowns add up: light among two is the product of rays, not of sums."""
    crown = np.array([[0.0, 0.0, 3.0, 4.5, 1.5, -0.4]])
    places = np.array([[0.5, -1.0, 0.0]], dtype=np.float32)
    twice = crown.copy()
    twice[0, 5] *= 2
    both = shares(np.concatenate([crown, crown]), AREA, sky_at(51.0), places)

    assert shares(twice, AREA, sky_at(51.0), places) == pytest.approx(both, abs=1e-6)


@pytest.mark.parametrize("x", [0.0, -1e-6, -0.3, -1.0, -5.5, -40.0, -86.0])
def test_the_exponential_is_that_of_numpy(x: float) -> None:
    """Within 3 parts in ten million of its value."""
    assert np.exp(np.float64(np.float32(x))) == pytest.approx(float(exp(np.float32(x))), rel=3e-7)
