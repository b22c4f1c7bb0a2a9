"""How the plants stand: from what was asked to what is computed, every default made visible."""

from dataclasses import dataclass, replace
from math import pi

from api.answers.ground import Ground, beyond_books, ground_of, refuse, shared_out, told
from api.answers.knowledge import Answer
from api.answers.site_words import site_notes
from api.questions import SettingAsked, TreeAsked
from kb.mixture.altered import altered
from kb.mixture.bodies.growth import tree_from_measure
from kb.mixture.bodies.trained import TRAINED_FORM, frame_note
from kb.mixture.ground.roots import planted_share, root_radius
from kb.mixture.profile import Profile
from kb.mixture.sharing.place import AT_TRUNK_M, usual_distance
from kb.mixture.site import Arrangement, Stand, Tree

__all__ = ["Standing", "refuse", "site_notes", "stand", "tree_dict", "tree_standing"]

TREE_FORMS = ("tree", "shrub", TRAINED_FORM)
HARDLY = 0.01
"""Where so small a share of a tree's roots lies farther out, a plant is beyond them (judgement)."""

CHECK_HEIGHT = "Check the height"
TALLER = 1.25
"""A tree that is said to be so many times as high as its records reach is asked about (judgement)."""

ONE_SEASON = "acts only on annuals and biennials, and on lasting crops lifted or ripe in their first year"
NEWLY_SOWN = "ask for its first year by its age, 0 years"
"""How the first season of a lasting plant is asked for."""
LONG = 53
LONG_YEAR = "Week 53, which only some years have, is reckoned as week 1: the year here has 52 weeks."


@dataclass(frozen=True, slots=True)
class Standing:
    """The arrangement that is computed, how it is shown in the question, what was assumed.

    ``at_edge`` where the edge of the crown stands in for a distance that was not said.
    """

    arrangement: Arrangement
    understood: Answer
    notes: tuple[str, ...]
    at_edge: bool = False


def tree_standing(profile: Profile, asked: TreeAsked, *, parameter: str) -> tuple[Tree, tuple[str, ...]]:
    """The tree as it stands and what was assumed. Raises BadParameter where it can be no tree.

    A woody climber comes here as it is on its frame (`trained.on_its_frame`), and stands in a row.
    """
    form = profile.growth_form.value
    if form is not None and form not in TREE_FORMS:
        what = form.replace("-", " ")
        detail = f"'{profile.name}' is no tree or shrub ({what}); name one to plant under."
        raise refuse(parameter, detail)
    trained = form == TRAINED_FORM
    usual: Stand = "row" if trained else "lone"
    try:
        tree, notes = tree_from_measure(
            profile,
            height_m=asked.height_m,
            crown_radius_m=asked.crown_radius_m,
            crown_base_m=asked.crown_base_m,
            leaf_area_index=asked.leaf_area_index,
            age_years=asked.age_years,
            stand=asked.stand or usual,
        )
    except ValueError as fault:
        culprit = "crown_base_m" if asked.crown_base_m is not None else "height_m"
        raise refuse(culprit, f"{fault}.") from None
    doubt = (*_too_high(profile, asked.height_m), *notes)
    return tree, ((*doubt, frame_note(profile)) if trained else doubt)


def _too_high(profile: Profile, height_m: float | None) -> tuple[str, ...]:
    """That a height that was said is far beyond the tree's records: a slip, or another stock."""
    own = profile.height_m
    if height_m is None or not own.known or height_m <= TALLER * own.high:
        return ()
    grown = f"{profile.name} is about {own.likely:.1f} m high when full-grown"
    return (
        f"{CHECK_HEIGHT}: {height_m:g} m was said, and {grown}, at most {own.high:.1f} m by its records.",
    )


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


def _bed(a: Profile, b: Profile | None, asked: SettingAsked) -> Standing:
    """In a bed, or in a row of hedge."""
    one, other, notes = shared_out(a, b, asked)
    row = asked.setting == "hedge"
    kept = asked.tree.height_m if row else None
    arrangement = Arrangement(
        setting="hedge" if row else "bed",
        share_a=one.share,
        share_b=other.share,
        sow_week_a=of_year(asked.sow_week_a),
        sow_week_b=of_year(asked.sow_week_b),
        age_a_years=asked.age_a_years,
        age_b_years=asked.age_b_years,
        given=frozenset(asked.given),
        kept_m=kept,
    )
    understood: Answer = {
        "setting": arrangement.setting,
        **({"height_m": kept} if row else {}),
        **told("a", _in_row(one) if row else one),
        **told("b", _in_row(other) if row else other),
        "sow_week_a": asked.sow_week_a,
        "sow_week_b": asked.sow_week_b,
        "age_a_years": asked.age_a_years,
        "age_b_years": asked.age_b_years,
        "given": list(asked.given),
    }
    return Standing(arrangement, understood, notes)


def _in_row(ground: Ground) -> Ground:
    """A share of a row means no spacing over the ground."""
    return replace(ground, spacing_m=None, spacing_from=None)


def _under(a: Profile, b: Profile | None, asked: SettingAsked, parameter: str) -> Standing:
    tree, assumed = tree_standing(a, asked.tree, parameter=parameter)
    notes = list(assumed)
    distance = asked.distance_m
    at_trunk = distance is None and b is not None and b.support_mode.value == "root-clinger"
    ground = ground_of(asked.share_b, asked.spacing_b_m, b, "b")
    if b is not None and (close := beyond_books(b, asked.spacing_b_m)):
        notes.append(close)
    if at_trunk and b is not None:
        distance = AT_TRUNK_M
        crown_m2, own_m2 = pi * tree.crown_radius_m**2, b.sole_spacing_m.likely**2
        if ground.share is None:
            how = f"not said: one plant, {own_m2:.2g} m² of the {crown_m2:.2g} m² under the crown"
            ground = ground.known_as(min(1.0, own_m2 / crown_m2), how, b)
        notes.append(
            f"Distance from the trunk was not given: {b.name} climbs the trunk by its roots and is taken to "
            "stand at its foot; its roots have the ground under the crown."
        )
    elif distance is None:
        distance, where = usual_distance(tree)
        notes.append(f"Distance from the trunk was not given: {where}, {distance:.1f} m.")
    else:
        notes += _beyond_roots(a.name, tree, distance)
    share_b = ground.share
    if share_b is None:
        ground = ground.known_as(1.0, "not said: the whole ring", b)
    arrangement = Arrangement(
        setting="under",
        share_b=share_b,
        distance_m=distance,
        side=asked.side,
        tree=tree,
        sow_week_b=of_year(asked.sow_week_b),
        age_a_years=tree.planted_years,
        age_b_years=asked.age_b_years,
        given=frozenset(asked.given),
        at_trunk=at_trunk,
    )
    understood: Answer = {
        "setting": "under",
        "distance_m": round(distance, 2),
        "side": asked.side,
        "tree": tree_dict(a, tree, asked.tree),
        **told("b", ground),
        "sow_week_b": asked.sow_week_b,
        "age_b_years": asked.age_b_years,
        "given": list(asked.given),
    }
    at_edge = asked.distance_m is None and distance == tree.crown_radius_m
    return Standing(arrangement, understood, tuple(notes), at_edge)


def _beyond_roots(name: str, tree: Tree, distance_m: float) -> list[str]:
    """What a distance means at which the roots of the tree have ended; nothing where they have not."""
    if planted_share(distance_m / root_radius(tree), float("inf")) >= HARDLY:
        return []
    most = f"four fifths of them lie within {tree.roots_80_m:.2g} m, " if tree.roots_80_m else ""
    beyond = (
        f"{distance_m:g} m from the trunk is beyond the roots of {name}: {most}less than a hundredth of them"
    )
    return [f"{beyond} lie so far out. Below ground nothing there meets it, whatever depths the two share."]


def stand(a: Profile, b: Profile | None, asked: SettingAsked, *, parameter: str) -> Standing:
    """The arrangement of two plants; ``b`` None is any second plant. Raises BadParameter."""
    refuse_sowing(a, asked.sow_week_a, "sow_week_a")
    refuse_sowing(b, asked.sow_week_b, "sow_week_b")
    standing = _under(a, b, asked, parameter) if asked.setting == "under" else _bed(a, b, asked)
    return altered(standing, notes=(*standing.notes, *long_year_notes(asked.sow_week_a, asked.sow_week_b)))


def of_year(week: int | None) -> int | None:
    """An ISO week (1-53) as a week of the reckoned year (1-52); what is computed knows no other."""
    return 1 if week == LONG else week


def long_year_notes(*weeks: int | None) -> tuple[str, ...]:
    """What is said where a week is named that the reckoned year of 52 weeks (``season``) does not have."""
    return (LONG_YEAR,) if LONG in weeks else ()


def refuse_sowing(
    profile: Profile | None, week: int | None, parameter: str, instead: str = NEWLY_SOWN
) -> None:
    """A sowing week moves a crop of one season; of a plant that stays it would be taken and ignored.

    ``instead`` says what to ask for such a plant.
    """
    if week is not None and profile is not None and not profile.annual:
        raise refuse(parameter, f"{ONE_SEASON}; {profile.name} is {life_of(profile)}: {instead}.")


def life_of(profile: Profile) -> str:
    """How long it lives, in words."""
    return profile.life_cycle.value or "of unknown life cycle"
