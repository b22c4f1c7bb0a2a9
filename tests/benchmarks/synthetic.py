"""Synthetic plants made from the real ones, for measuring long lists; none of them exists."""

import numpy as np

from kb.mixture.lists.index import Ground, Plants, plants_of
from kb.mixture.sharing.place import Place, place_in_bed
from kb.mixture.sharing.variants import plant_variants
from kb.mixture.site import Arrangement, Site
from kb.snapshot import Snapshot

SEED = 5
WEEKS_LATER = 3
LOG_SD = 0.2


def real_plants(snapshot: Snapshot, place: Place) -> Plants:
    """Every plant of the base by its likely values."""
    profiles = list(snapshot.profiles())
    supply = place.coarse.open
    return plants_of(profiles, [plant_variants(p, place.site, supply, draws=0) for p in profiles])


def ground_of(place: Place) -> Ground:
    """The bed of a place."""
    return Ground.of(
        place.coarse.open,
        place.site.soil_depth_m,
        place.site.open_light,
        (place.share_a, place.share_b),
    )


def usual_place() -> Place:
    """Half and half in a bed at the reference site."""
    return place_in_bed(Site(), Arrangement())


def made_from(real: Plants, count: int, *, seed: int = SEED) -> Plants:
    """Real plants drawn again, with depth, demands, size and dates moved (log-SD 0.2, 3 weeks)."""
    rng = np.random.default_rng(seed)
    chosen = rng.integers(len(real), size=count)
    made = real.only(chosen)
    later = rng.integers(-WEEKS_LATER, WEEKS_LATER + 1, size=count)
    weeks = np.arange(real.activity.shape[1])
    at = (weeks - later[:, None]) % len(weeks)
    shape = made.shape.copy()
    moved = np.exp(LOG_SD * rng.standard_normal((count, 4))).astype(np.float32)
    shape[:, 0] *= moved[:, 0]
    shape[:, 2:4] *= moved[:, 1:3]
    shape[:, 9] *= moved[:, 2]
    shape[:, 4:6] *= moved[:, 3:]
    return Plants(
        activity=np.take_along_axis(made.activity, at, axis=1),
        leaf=np.take_along_axis(made.leaf, at, axis=1),
        shape=shape,
        kin=made.kin,
        fixer=made.fixer,
        known=made.known,
        annual=made.annual,
    )
