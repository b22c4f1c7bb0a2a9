"""What is not known or not computed, named: it goes into the notes and into how sure an answer is."""

from collections.abc import Iterable

from kb.mixture.conflicts import LEAST_CROWN_M
from kb.mixture.findings import Findings, Two
from kb.mixture.harm_notes import no_list
from kb.mixture.limits import Limit
from kb.mixture.profile import Profile
from kb.mixture.spread import RUNNING, runs

NOT_COMPUTED = "Not computed in this version: named pests and diseases, allelopathy."
NOT_COMPUTED_BESIDE_BOOK = (
    "Not computed in this version: how far diseases travel on the wind, which pests and diseases occur at "
    "this site."
)
"""With a book of named enemies and emissions."""
IMMOBILE = (
    "Phosphorus and potassium hardly move to roots: their loss is taken as 0.3 of that for nitrogen, and "
    "is not judged."
)

ALLELOPATHIC_FAMILIES = {"Juglandaceae"}
"""Walnuts: juglone is reported to harm neighbours, of graded evidence (`trade` 4.9)."""
TWO_HOSTS = (
    ({"Pinaceae"}, {"Grossulariaceae"}),
    ({"Cupressaceae"}, {"Rosaceae"}),
)
"""Rusts that live on both in turn: white pine and currants (`trade` B18); juniper and pome fruit
(common practice)."""
CROWNED = {"tree", "shrub", "subshrub"}
WILT_FAMILIES = {"Solanaceae", "Rosaceae", "Lamiaceae"}
"""Families with crops that share Verticillium wilt across families (`trade` 6.1 B19, 6.2 T02)."""

_FIELDS = (
    ("root depth", "root_d95_m"),
    ("height", "height_m"),
    ("season", "activity"),
    ("light to survive", "light_to_survive"),
    ("light to crop", "light_to_crop_full"),
    ("water use", "water_use"),
    ("nitrogen uptake", "nitrogen_demand_g_m2"),
    ("soil reaction", "soil_ph"),
    ("moisture", "moisture"),
)


_MAIN = {"root_d95_m", "activity"}


def left_out(findings: Findings) -> tuple[str, ...]:
    """What could matter for this pair and is not computed, or not on record though it decides."""
    if findings.kin.kinship == "species":
        return ()
    return (*left_out_of(findings.two), *to_check(findings.limits))


def left_out_of(two: Two) -> tuple[str, ...]:
    """What could matter between two plants of different species and is not computed."""
    first = (_enemies(two), _wilt(two), _two_hosts(two), _two_crowns(two))
    notes = [note for note in first if note]
    for profile in two.in_order:
        notes += _of_one(profile, two)
    notes += [
        f"What {two.named(found.emitter).name} does to {two.named(found.affected).name} rests on "
        f"{found.doubt}."
        for found in two.harm.emissions
        if found.ceiling is not None and found.doubt is not None
    ]
    return tuple(notes)


def to_check(limits: Iterable[Limit]) -> tuple[str, ...]:
    """Limits that decide and rest on a value that stands in for a missing record."""
    return tuple(
        f"Check first, since it decides and is not on record: {limit.text}"
        for limit in limits
        if limit.unproved and not limit.lifted
    )


def not_computed(*, book: bool) -> str:
    """What this version leaves out, said once; ``book`` where named enemies are computed."""
    return NOT_COMPUTED_BESIDE_BOOK if book else NOT_COMPUTED


def not_on_record(profiles: Iterable[Profile]) -> str | None:
    """The first of the two main values, root depth and season, that stands in for a missing record."""
    for profile in profiles:
        for said, field in _FIELDS:
            if field in _MAIN and not getattr(profile, field).known:
                return f"the {said} of {profile.name} is not on record"
    return None


def stand_ins(profiles: Iterable[Profile]) -> tuple[str, ...]:
    """One note for each plant on the values that stand in for missing records."""
    notes = []
    for profile in dict.fromkeys(profiles):
        missing = [said for said, field in _FIELDS if not getattr(profile, field).known]
        missing += ["nitrogen fixing"] if profile.nitrogen_fixing.value is None else []
        if missing:
            notes.append(
                f"Not on record for {profile.name}: {', '.join(missing)}. Usual values of its kind stand in; "
                "they widen the doubt and never improve the verdict."
            )
        keeps = profile.spread.value not in RUNNING and not profile.spread.known
        if keeps and not profile.annual and not (profile.spread.value is None and runs(profile)):
            notes.append(
                f"Whether {profile.name} runs through its neighbours is not on record: it is taken to "
                "keep its place."
            )
    return tuple(notes)


def _enemies(two: Two) -> str | None:
    one, other = (profile.name for profile in two.in_order)
    enemies = two.harm.enemies
    if enemies is not None and two.kin.kinship in {"genus", "family"}:
        return no_list(two) if enemies.borrowed else None
    if two.kin.kinship in {"genus", "family"}:
        return (
            f"The pests and diseases that {one} and {other} share are not computed one by one yet; their "
            "kinship stands in."
        )
    if two.kin.kinship == "unknown":
        return "A family is not on record, so the two count as related: shared diseases are not computed."
    return None


def _wilt(two: Two) -> str | None:
    if two.harm.enemies is not None:
        return None
    one, other = two.profiles
    families = {one.family.value, other.family.value}
    soft = all(profile.growth_form.value not in {"tree", "shrub"} for profile in two.profiles)
    if len(families) == 2 and families <= WILT_FAMILIES and soft:
        return "Wilts of the soil that cross families are not computed yet: not on ground with a history."
    return None


def _two_hosts(two: Two) -> str | None:
    one, other = (profile.family.value for profile in two.profiles)
    for first, second in TWO_HOSTS:
        if (one in first and other in second) or (one in second and other in first):
            enemies = two.harm.enemies
            if enemies is not None:
                return no_list(two) if enemies.borrowed else None
            return "Rusts that live on these two families in turn, and the law on them, are not computed yet."
    return None


def _two_crowns(two: Two) -> str | None:
    """Light in a bed is reckoned for mixed leaves; woody crowns keep apart (`computation-notes` 3)."""
    wide = [
        profile.growth_form.value in CROWNED and profile.crown_width_m.likely >= LEAST_CROWN_M
        for profile in two.profiles
    ]
    if two.setting == "bed" and all(wide):
        return "Woody crowns do not mix as the light in a bed is reckoned: set the two side by side."
    return None


def _of_one(profile: Profile, two: Two) -> list[str]:
    known = {found.emitter for found in two.harm.emissions}
    if profile.family.value in ALLELOPATHIC_FAMILIES and two.harm.enemies is not None:
        if profile.id in known:
            return []
        return [f"What {profile.name} gives off that may harm its neighbours is not on record."]
    if profile.family.value in ALLELOPATHIC_FAMILIES:
        return [f"What {profile.name} gives off that may harm its neighbours is not computed yet."]
    return []
