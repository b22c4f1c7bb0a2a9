"""Where the roots of a plant lie, as the computation takes them, with where that comes from."""

from api.answers.evidence import rounded
from kb.mixture.profile import Estimate, Profile


def root_profile(profile: Profile) -> dict[str, object]:
    """Depths in m above which half and nearly all (95 %) of the roots lie."""
    return {"half_m": _estimate(profile.root_d50_m), "most_m": _estimate(profile.root_d95_m)}


def _estimate(estimate: Estimate) -> dict[str, object]:
    return {
        "low": rounded(estimate.low),
        "likely": rounded(estimate.likely),
        "high": rounded(estimate.high),
        "origin": estimate.origin,
        "records": list(estimate.records),
    }
