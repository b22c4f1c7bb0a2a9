"""How the plants stand: from what was asked to what is computed, every default made visible."""

from dataclasses import dataclass

from api.answers.evidence import rounded
from api.answers.knowledge import Answer
from api.questions import SettingAsked, SiteAsked, TreeAsked
from kb.errors import BadParameter, ParameterFault
from kb.mixture.growth import tree_from_measure
from kb.mixture.profile import Profile
from kb.mixture.site import Arrangement, Tree

HALF = 0.5
"""Share of the ground that each of two plants has where nothing is said."""
TREE_FORMS = ("tree", "shrub")
FROST_NOTE = (
    "Frost dates were not both given: those of the reference site stand in, moved half a year "
    "south of the equator; they are rough away from 51°."
)


@dataclass(frozen=True, slots=True)
class Standing:
    """The arrangement that is computed, how it is shown in the question, what was assumed."""

    arrangement: Arrangement
    understood: Answer
    notes: tuple[str, ...]


def refuse(parameter: str, detail: str) -> BadParameter:
    return BadParameter((ParameterFault(parameter, detail),))


def tree_standing(profile: Profile, asked: TreeAsked, *, parameter: str) -> tuple[Tree, tuple[str, ...]]:
    """The tree as it stands and what was assumed. Raises BadParameter where it can be no tree."""
    form = profile.growth_form.value
    if form is not None and form not in TREE_FORMS:
        detail = f"'{profile.name}' grows as {form.replace('-', ' ')}; name a tree or shrub to plant under."
        raise refuse(parameter, detail)
    try:
        return tree_from_measure(
            profile,
            height_m=asked.height_m,
            crown_radius_m=asked.crown_radius_m,
            crown_base_m=asked.crown_base_m,
            leaf_area_index=asked.leaf_area_index,
            age_years=asked.age_years,
            stand=asked.stand,
        )
    except ValueError as fault:
        culprit = "crown_base_m" if asked.crown_base_m is not None else "height_m"
        raise refuse(culprit, f"{fault}.") from None


def tree_dict(profile: Profile, tree: Tree, asked: TreeAsked) -> Answer:
    """The tree as understood; ``given`` names what was measured, the rest is from its records."""
    given = [
        name
        for name in ("stock", "height_m", "crown_radius_m", "crown_base_m", "leaf_area_index", "age_years")
        if getattr(asked, name) is not None
    ]
    return {
        "id": profile.id,
        "height_m": round(tree.height_m, 2),
        "crown_radius_m": round(tree.crown_radius_m, 2),
        "crown_base_m": round(tree.crown_base_m, 2),
        "leaf_area_index": round(tree.leaf_area_index, 2),
        "age_years": tree.planted_years,
        "stand": tree.stand,
        "given": given,
    }


def _share(asked: float | None, spacing_m: float | None, profile: Profile | None, side: str) -> float | None:
    """A share of the ground, from itself or from the spacing. Raises BadParameter above a full stand."""
    if spacing_m is None or profile is None:
        return asked
    share = (profile.sole_spacing_m.likely / spacing_m) ** 2
    if share > 1:
        detail = (
            f"is closer than a stand of {profile.name} alone ({profile.sole_spacing_m.likely:.2g} m apart); "
            f"give that or more."
        )
        raise refuse(f"spacing_{side}_m", detail)
    return share


def _bed(a: Profile, b: Profile | None, asked: SettingAsked) -> Standing:
    share_a = _share(asked.share_a, asked.spacing_a_m, a, "a")
    share_b = _share(asked.share_b, asked.spacing_b_m, b, "b")
    notes: list[str] = []
    if share_a is None and share_b is None:
        share_a = share_b = HALF
        notes.append("Shares of the ground were not given: half each.")
    elif share_a is None or share_b is None:
        said, missing = ("a", "b") if share_b is None else ("b", "a")
        rest = 1 - (share_a if share_a is not None else share_b if share_b is not None else HALF)
        if rest <= 0:
            raise refuse(f"share_{said}", f"leaves no ground for the other; give share_{missing} too.")
        share_a, share_b = (rest if share_a is None else share_a), (rest if share_b is None else share_b)
        notes.append(f"Share of {missing.upper()} was not given: what {said.upper()} leaves.")
    arrangement = Arrangement(
        setting="bed",
        share_a=share_a,
        share_b=share_b,
        sow_week_a=asked.sow_week_a,
        sow_week_b=asked.sow_week_b,
        age_a_years=asked.age_a_years,
        age_b_years=asked.age_b_years,
        given=frozenset(asked.given),
    )
    understood: Answer = {
        "setting": "bed",
        "share_a": rounded(share_a),
        "share_b": rounded(share_b),
        "spacing_a_m": asked.spacing_a_m,
        "spacing_b_m": asked.spacing_b_m,
        "sow_week_a": asked.sow_week_a,
        "sow_week_b": asked.sow_week_b,
        "age_a_years": asked.age_a_years,
        "age_b_years": asked.age_b_years,
        "given": list(asked.given),
    }
    return Standing(arrangement, understood, tuple(notes))


def _under(a: Profile, b: Profile | None, asked: SettingAsked, parameter: str) -> Standing:
    tree, assumed = tree_standing(a, asked.tree, parameter=parameter)
    notes = list(assumed)
    distance = asked.distance_m
    if distance is None:
        distance = tree.crown_radius_m
        notes.append(f"Distance from the trunk was not given: the edge of the crown, {distance:.1f} m.")
    share_b = _share(asked.share_b, asked.spacing_b_m, b, "b")
    arrangement = Arrangement(
        setting="under",
        share_b=share_b,
        distance_m=distance,
        side=asked.side,
        tree=tree,
        sow_week_b=asked.sow_week_b,
        age_a_years=tree.planted_years,
        age_b_years=asked.age_b_years,
        given=frozenset(asked.given),
    )
    understood: Answer = {
        "setting": "under",
        "distance_m": round(distance, 2),
        "side": asked.side,
        "tree": tree_dict(a, tree, asked.tree),
        "share_b": 1.0 if share_b is None else rounded(share_b),
        "spacing_b_m": asked.spacing_b_m,
        "sow_week_b": asked.sow_week_b,
        "age_b_years": asked.age_b_years,
        "given": list(asked.given),
    }
    return Standing(arrangement, understood, tuple(notes))


def stand(a: Profile, b: Profile | None, asked: SettingAsked, *, parameter: str) -> Standing:
    """The arrangement of two plants; ``b`` None is any second plant. Raises BadParameter."""
    refuse_sowing(a, asked.sow_week_a, "sow_week_a")
    refuse_sowing(b, asked.sow_week_b, "sow_week_b")
    return _bed(a, b, asked) if asked.setting == "bed" else _under(a, b, asked, parameter)


def refuse_sowing(profile: Profile | None, week: int | None, parameter: str) -> None:
    """A sowing week moves an annual; of a plant that stays it would be taken and ignored."""
    if week is not None and profile is not None and not profile.annual:
        cycle = profile.life_cycle.value or "of unknown life cycle"
        raise refuse(parameter, f"acts only on annuals and biennials; {profile.name} is {cycle}.")


def site_notes(asked: SiteAsked) -> list[str]:
    """What was assumed of the site, where that matters."""
    if not asked.given:
        return ["No site was given: the reference site stands in (see the question)."]
    if "latitude" in asked.given and not {"last_frost", "first_frost"} <= set(asked.given):
        return [FROST_NOTE]
    return []
