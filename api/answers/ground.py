"""Ground shares and spacings: from what was said to what is computed, each with how it was come by."""

from dataclasses import dataclass

from api.answers.evidence import rounded
from api.answers.knowledge import Answer
from api.questions import SettingAsked
from kb.errors import BadParameter, ParameterFault
from kb.mixture.answers.judgement import ground_notes
from kb.mixture.profile import Estimate, Profile

HALF = 0.5
"""Share of the ground that each of two plants has where nothing is said."""
HALF_EACH = "not said: half each"
GIVEN = "given"
CLOSEST = 0.1
"""Nobody sets a plant closer than this share of the spacing of a stand of its own, on record or guessed:
trained forms and thick sowings stand closer than the books say, but not so much (judgement)."""


def refuse(parameter: str, detail: str) -> BadParameter:
    return BadParameter((ParameterFault(parameter, detail),))


@dataclass(frozen=True, slots=True)
class Ground:
    """A plant's share of the ground and its spacing, each with how it was come by."""

    share: float | None
    share_from: str | None = None
    spacing_m: float | None = None
    spacing_from: str | None = None

    def known_as(self, share: float, share_from: str, profile: Profile | None) -> "Ground":
        """With a share that was worked out, and the spacing that it means."""
        return _with_spacing(Ground(share, share_from), profile)


def ground_of(asked: float | None, spacing_m: float | None, profile: Profile | None, side: str) -> Ground:
    """What was said of one plant. Raises BadParameter where it is far closer than a full stand.

    A share is plants per m2 times the square of the spacing of a stand of its own, and closer than that the
    whole ground. Where that stand is on no record a closer spacing says nothing of its share.
    """
    if spacing_m is None or profile is None:
        return Ground(None) if asked is None else _with_spacing(Ground(asked, GIVEN), profile)
    alone, closest = profile.sole_spacing_m, closest_m(profile)
    if spacing_m < closest:
        raise refuse(f"spacing_{side}_m", too_close(profile, closest))
    share = share_by(spacing_m, profile)
    if share is None:
        return Ground(None, None, spacing_m, GIVEN)
    how = f"spacing_{side}_m against the {alone.likely:.2g} m of a stand of its own{_stand_in(alone)}"
    return Ground(share, how, spacing_m, GIVEN)


def closest_m(profile: Profile) -> float:
    """The closest spacing that is taken."""
    return CLOSEST * profile.sole_spacing_m.likely


def share_by(spacing_m: float, profile: Profile) -> float | None:
    """The share that a spacing means; None for one closer than a stand that is on no record."""
    alone = profile.sole_spacing_m
    if spacing_m < alone.likely and not alone.known:
        return None
    return min(1.0, (alone.likely / spacing_m) ** 2)


def beyond_books(profile: Profile, spacing_m: float | None) -> str:
    """What is said of a spacing closer than a stand of its own; nothing of any other."""
    alone = profile.sole_spacing_m
    if spacing_m is None or spacing_m >= alone.likely:
        return ""
    if alone.known:
        return (
            f"{profile.name[:1].upper()}{profile.name[1:]} {spacing_m:g} m apart stands closer than it does "
            f"alone ({alone.likely:.2g} m): its share is taken as all of the ground, and no more."
        )
    return (
        f"How far apart a stand of {profile.name} alone stands is not on record, so its spacing of "
        f"{spacing_m:g} m says nothing of its share."
    )


def share_told_by(spacing_m: float | None, share: float | None, profile: Profile) -> str:
    """What a share in a planting was told by."""
    if spacing_m and share_by(spacing_m, profile) is not None:
        return "spacing"
    return "share" if share else "equal parts"


def too_close(profile: Profile, closest: float) -> str:
    return f"is far closer than a stand of {profile.name} alone; give {closest:.2g} m or more."


def _with_spacing(ground: Ground, profile: Profile | None) -> Ground:
    if profile is None or ground.share is None:
        return ground
    alone = profile.sole_spacing_m
    how = f"the share, and the {alone.likely:.2g} m of a stand of its own{_stand_in(alone)}"
    return Ground(ground.share, ground.share_from, round(alone.likely / ground.share**0.5, 2), how)


def _stand_in(alone: Estimate) -> str:
    return "" if alone.known else " (a usual figure of its kind, none is on record)"


def shared_out(a: Profile, b: Profile | None, asked: SettingAsked) -> tuple[Ground, Ground, tuple[str, ...]]:
    """The ground of two plants in one bed: as said, what the other leaves, or half each and a note."""
    one = ground_of(asked.share_a, asked.spacing_a_m, a, "a")
    other = ground_of(asked.share_b, asked.spacing_b_m, b, "b")
    close = tuple(
        note
        for profile, spacing_m in ((a, asked.spacing_a_m), (b, asked.spacing_b_m))
        if profile is not None and (note := beyond_books(profile, spacing_m))
    )
    if any(ground.share is None and ground.spacing_m is not None for ground in (one, other)):
        one, other = (ground if ground.share is not None else Ground(None) for ground in (one, other))
    if one.share is not None and other.share is not None:
        return one, other, (*close, *ground_notes(one.share + other.share))
    if one.share is None and other.share is None:
        row = "row" if asked.setting == "hedge" else "ground"
        note = f"Shares of the {row} were not given: half each. Shares move the verdict most."
        return one.known_as(HALF, HALF_EACH, a), other.known_as(HALF, HALF_EACH, b), (*close, note)
    said, missing = ("a", "b") if other.share is None else ("b", "a")
    taken = one.share if one.share is not None else other.share
    rest = 1 - (HALF if taken is None else taken)
    if rest <= 0:
        raise refuse(_parameter(asked, said), f"leaves no ground for the other; give share_{missing} too.")
    how = f"not said: what {said.upper()} leaves"
    note = f"Share of {missing.upper()} was not given: what {said.upper()} leaves."
    if missing == "a":
        return one.known_as(rest, how, a), other, (*close, note)
    return one, other.known_as(rest, how, b), (*close, note)


def _parameter(asked: SettingAsked, side: str) -> str:
    """Which parameter told the share of one side."""
    spacing_m = asked.spacing_a_m if side == "a" else asked.spacing_b_m
    return f"share_{side}" if spacing_m is None else f"spacing_{side}_m"


def told(side: str, ground: Ground) -> Answer:
    """Share and spacing of one plant as the question shows them."""
    return {
        f"share_{side}": None if ground.share is None else rounded(ground.share),
        f"share_{side}_from": ground.share_from,
        f"spacing_{side}_m": ground.spacing_m,
        f"spacing_{side}_from": ground.spacing_from,
    }
