"""What describes a planting: how its roots, cover, flowers, families and kinds are spread.

None of it judges: plain cabbage fills the root layers more evenly than most mixtures, and maize, bean
and squash score low on variety (`trade` 5.1). Compare sets of the same size only.
"""

import numpy as np

from kb.mixture.answers.jobs import COVERED, Work
from kb.mixture.ground.roots import depth_overlap
from kb.mixture.judging.findings import mean_depth
from kb.mixture.profile import Profile
from kb.mixture.results import Measures
from kb.mixture.season import FloatArray
from kb.mixture.sharing.variants import Variants

HEIGHT_STEPS = 5.0
"""Heights that differ by so many doublings are wholly apart (`trade` 5.1)."""


def measures_of(work: Work) -> Measures:
    """The measures of a planting; plants weigh by their share of the ground."""
    shares = np.array(work.stand.shares)
    weights: FloatArray = shares / shares.sum()
    plants = [subject.likely for subject in work.stand.subjects]
    growing = work.growing
    draw = work.shares.draw_by_layer()
    return Measures(
        root_draw=tuple(draw.tolist()),
        evenness=evenness(draw),
        covered=float((work.covered[growing] >= COVERED).mean()),
        growing_weeks=int(growing.sum()),
        bloom_weeks=int(work.bloom.sum()),
        weeks_in_flower=_weeks_with(list(work.flowers.values()), work.bloom),
        weeks_of_harvest=_weeks_with(list(work.harvest.values()), np.ones_like(growing)),
        families=effective_families(work.stand.profiles, weights),
        diversity=rao(plants, weights),
        diversity_most=1 - 1 / len(plants),
    )


def evenness(shares: FloatArray) -> float:
    """Pielou's J of shares that sum to 1: -sum p ln p over the log of their number; 0 for one alone."""
    there = shares[shares > 0]
    return float(max(0.0, -(there * np.log(there)).sum() / np.log(shares.size)))


def effective_families(profiles: tuple[Profile, ...], weights: FloatArray) -> float:
    """1 over the sum of squared family shares (inverse Simpson); an unknown family counts as one more."""
    by_family: dict[str | None, float] = {}
    for profile, weight in zip(profiles, weights, strict=True):
        by_family[profile.family.value] = by_family.get(profile.family.value, 0.0) + float(weight)
    return 1 / sum(share**2 for share in by_family.values())


def rao(plants: list[Variants], weights: FloatArray) -> float:
    """Rao's Q = sum over pairs of p_i p_j d_ij (Rao 1982), d in 0-1 as `distance`."""
    total = 0.0
    depths = [mean_depth(plant) for plant in plants]
    for i, one in enumerate(plants):
        for j in range(i + 1, len(plants)):
            apart = distance(one, plants[j], depth_overlap(depths[i], depths[j]))
            total += 2 * float(weights[i] * weights[j]) * apart
    return total


def distance(one: Variants, other: Variants, depth_shared: float) -> float:
    """How unlike two plants are, 0-1: mean over root depth, season, height and family (`trade` 5.1).

    ``depth_shared`` is the shared part of their root depths. Families count 0 alike and 1 apart: orders,
    which would stand between, are not on record.
    """
    depth = 1 - depth_shared
    most = float(np.maximum(one.activity[0], other.activity[0]).sum())
    season = 1 - float(np.minimum(one.activity[0], other.activity[0]).sum()) / most if most > 0 else 0.0
    height = min(1.0, abs(float(np.log2(one.height[0] / other.height[0]))) / HEIGHT_STEPS)
    families = one.profile.family.value, other.profile.family.value
    apart = float(None not in families and families[0] != families[1])
    return (max(0.0, depth) + season + height + apart) / 4


def _weeks_with(windows: list[np.ndarray], season: np.ndarray) -> int:
    there = np.zeros(season.shape, dtype=bool)
    for weeks in windows:
        there |= weeks
    return int((there & season).sum())
