"""Notes on a pair that follow from the site: frosts, hardiness not on record, flowering not on record."""

from collections.abc import Iterable, Sequence

from kb.mixture.answers.flowers import flowers_unknown
from kb.mixture.ground.share import CARE
from kb.mixture.judging.findings import Findings
from kb.mixture.kept import KeptBy
from kb.mixture.limits import Limit
from kb.mixture.profile import Profile
from kb.mixture.rains import longest_rains
from kb.mixture.sharing.nitrogen import CUTTING
from kb.mixture.sharing.variants import Variants
from kb.mixture.site import Site, above_ground, rules_of
from kb.mixture.weeks.hot_weeks import warm_note
from kb.mixture.weeks.sowing import sowing_note, sowings_note
from kb.mixture.weeks.winter import winter_c

KEPT = 64
_NOTES: KeptBy[tuple[str, ...]] = KeptBy(KEPT)
_SEASONS: KeptBy[tuple[str | None, ...]] = KeptBy(KEPT)


def site_notes(findings: Findings) -> tuple[str, ...]:
    """What the site leaves open for this pair, in the order in which it matters."""
    plants = sorted((findings.a, findings.b), key=lambda plant: plant.profile.id)
    told, same = findings.in_order, findings.two.same
    notes = (*plant_notes(plants, told, findings.place.site, same), flowers_unknown(findings))
    return tuple(dict.fromkeys(note for note in notes if note is not None))


def plant_notes(
    plants: Sequence[Variants], told: Iterable[Profile], site: Site, same: tuple[Profile, ...] = ()
) -> tuple[str, ...]:
    """What the site leaves open for single plants; ``told`` are their profiles in the order of telling.

    Kept, since the depth of the soil does not come into it; of two by those that are the ``same`` whatever
    their size (`findings.Two`).
    """
    told = tuple(told)
    seasons = (plant.activity for plant in plants)
    objects = (*(same or (*told, *(plant.profile for plant in plants))), *seasons, rules_of(site))
    values = (told[0].id, plants[0].profile.id, len(told), *above_ground(site))
    return _NOTES.of(objects, values, lambda: _plant_notes(plants, told, site))


def _plant_notes(plants: Sequence[Variants], told: Iterable[Profile], site: Site) -> tuple[str, ...]:
    seasons = [_season_notes(plant, site) for plant in plants]
    sowings, frosts, warm = zip(*seasons, strict=True) if seasons else ((), (), ())
    notes = [_hardiness(told, site), _bare_in_rains(told, site), *sowings, *frosts, *warm]
    return tuple(dict.fromkeys(note for note in notes if note is not None))


def _season_notes(plant: Variants, site: Site) -> tuple[str | None, ...]:
    """Of its times of sowing, its frosts and its warm weeks.

    Kept by the plant and its season: another's week of sowing leaves them as they are.
    """

    def told() -> tuple[str | None, ...]:
        profile, course = plant.profile, plant.activity[0]
        tender = profile.annual and profile.tender.value == "yes"
        frosts = sowing_note(profile, course, site) if tender else None
        return sowings_note(profile, site), frosts, warm_note(profile, course, site)

    return _SEASONS.of((plant.profile, plant.activity), above_ground(site), told)


def _hardiness(told: Iterable[Profile], site: Site) -> str | None:
    missing = [
        p.name
        for p in dict.fromkeys(told)
        if not p.annual and p.hardiness_c is None and not p.of_the_tropics and p.tender.value != "yes"
    ]
    coldest, guess = winter_c(site)
    if not missing or coldest is None:
        return None
    return (
        f"How cold a winter it bears is not on record, and not judged: {', '.join(missing)}. Winters here "
        f"fall to about {coldest:.0f} °C{' (a rough guess)' if guess else ''}."
    )


def _bare_in_rains(told: Iterable[Profile], site: Site) -> str | None:
    """Said where nobody named the months of rain, on which the leaf of such a tree turns."""
    bare = [p.name for p in dict.fromkeys(told) if p.leaf.start_driver == "dry-season"]
    if not bare or longest_rains(site) is not None:
        return None
    return (
        f"Bare in the rains: {', '.join(bare)}. Which months are wet was not said, so that it is taken to be "
        "in leaf from spring to autumn; wet_months says it."
    )


def idle_words(given: frozenset[str], limits: Iterable[Limit]) -> tuple[str, ...]:
    """Words that changed nothing: no limit asks for them, and no loss or gift turns on it."""
    idle = given - CARE - CUTTING - {limit.given for limit in limits}
    return tuple(f"Said to be provided, and it changes nothing here: {word}." for word in sorted(idle))
