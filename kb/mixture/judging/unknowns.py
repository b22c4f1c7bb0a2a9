"""What is not known or not computed, named: it goes into the notes and into how sure an answer is."""

from collections.abc import Iterable

from kb.mixture.bodies.manner import runs
from kb.mixture.bodies.pieces import RUNNING
from kb.mixture.bodies.two_crowns import LEAST_CROWN_M
from kb.mixture.judging.findings import Findings, Two
from kb.mixture.judging.lent_words import NO_LIST, no_list
from kb.mixture.kept import KeptBy
from kb.mixture.limits import Limit
from kb.mixture.profile import Profile
from kb.mixture.results import ORDER, Verdict

NOT_COMPUTED = "Not computed in this version: named pests and diseases, allelopathy."
NOT_COMPUTED_BESIDE_BOOK = (
    "Not computed in this version: how far diseases travel on the wind, which pests and diseases occur at "
    "this site. What a plant gives off that may harm others is on record of a few, such as black walnut and "
    "wormwood; for all others it was not looked for."
)
"""With a book of named enemies and emissions: that it is silent on an emitter is no finding (`trade` 4.9)."""
IMMOBILE = (
    "Phosphorus and potassium hardly move to roots: their loss is taken as 0.3 of that for nitrogen, and "
    "is not judged."
)

MIXED_CROWNS = (
    "Two woody crowns are reckoned as if their leaves mixed, which they do not: set them side by side."
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


_MAIN = (("season", "activity"), ("root depth", "root_d95_m"))


KEPT = 64
_LEFT_OUT: KeptBy[tuple[str, ...]] = KeptBy(KEPT)
_STAND_INS: KeptBy[tuple[str, ...]] = KeptBy(KEPT)


def left_out(findings: Findings) -> tuple[str, ...]:
    """What could matter for this pair and is not computed, or not on record though it decides."""
    if findings.kin.kinship == "species":
        return ()
    two = findings.two
    return (*((no_list(two),) if lists_missing(two) else ()), *left_out_of(two), *to_check(findings.limits))


def left_out_of(two: Two) -> tuple[str, ...]:
    """What could matter between two plants of different species and is not computed, missing lists apart.

    Kept by all that two are.
    """
    values = (two.kin, two.setting, two.beyond)
    return _LEFT_OUT.of((*two.same, two.harm), values, lambda: _left_out_of(two))


def _left_out_of(two: Two) -> tuple[str, ...]:
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


def settled(limits: Iterable[Limit]) -> bool:
    """Whether a rule forbids it that rests on what is on record: nothing missing could lift that.

    Lists of what was harmed near an emitter settle nothing (`trade` 4.9).
    """
    rules = [limit for limit in limits if limit.hard and not limit.lifted and not limit.unproved]
    return any(limit.kind != "allelopathy" or not limit.thin for limit in rules)


def doubts_of(missing: tuple[str, ...], verdict: Verdict, limits: Iterable[Limit]) -> tuple[str, ...]:
    """What of it makes a verdict unsure: what can only press further down does not, where it is to avoid."""
    if verdict == ORDER[0] and settled(limits):
        return ()
    return tuple(note for note in missing if verdict != ORDER[0] or not note.startswith(NO_LIST))


def lists_missing(two: Two) -> bool:
    """Whether a list of pests and diseases is missing where kin or a rust of both families make it matter."""
    borrowed = two.harm.enemies is not None and bool(two.harm.enemies.borrowed)
    return borrowed and (two.kin.kinship in {"genus", "family"} or _in_turn(two))


def to_check(limits: Iterable[Limit]) -> tuple[str, ...]:
    """Limits that decide and rest on a value that stands in for a missing record."""
    return tuple(
        f"Check first, since it decides and {_doubt(limit)}: {limit.text}"
        for limit in limits
        if limit.unproved and not limit.lifted
    )


def _doubt(limit: Limit) -> str:
    """Why it has to be checked: nothing is on record, or what is tells no limit."""
    told = limit.kind in {"ph", "water"} and bool(limit.records)
    return "what is on record is no limit" if told else "is not on record"


def why_check(limit: Limit) -> str:
    """How a check of what decides begins."""
    doubt = _doubt(limit)
    return f"check first, for {'this ' if doubt.startswith('is ') else ''}{doubt}"


def not_computed(*, book: bool) -> str:
    """What this version leaves out, said once; ``book`` where named enemies are computed."""
    return NOT_COMPUTED_BESIDE_BOOK if book else NOT_COMPUTED


def not_on_record(profiles: Iterable[Profile], rests_on: str | None = None) -> str | None:
    """Of the first plant with such a gap, the main values, season and root depth, that stand in for records.

    ``rests_on`` is the id of the plant of `season_that_decides`, which comes first.
    """
    for profile in sorted(profiles, key=lambda profile: profile.id != rests_on):
        missing = [said for said, field in _MAIN if not getattr(profile, field).known]
        if missing:
            are = "is" if len(missing) == 1 else "are"
            return f"the {' and '.join(missing)} of {profile.name} {are} not on record"
    return None


def season_that_decides(profiles: Iterable[Profile], trait: str | None, of: str | None) -> str | None:
    """The id of the plant whose season stands in and would change the answer most; None where none does.

    ``trait`` of the plant ``of`` is what would.
    """
    if trait != "growth-window":
        return None
    return next((p.id for p in profiles if p.id == of and not p.activity.known), None)


def stand_ins(profiles: Iterable[Profile], same: tuple[Profile, ...] = ()) -> tuple[str, ...]:
    """The values that stand in for missing records, in one note; and who is taken to keep its place.

    Kept by the plants, or by those that are the ``same`` whatever their size (`findings.Two`).
    """
    plants = tuple(profiles)
    return _STAND_INS.of(same or plants, (plants[0].id,), lambda: _stand_ins(plants))


def _stand_ins(profiles: Iterable[Profile]) -> tuple[str, ...]:
    unknown: list[str] = []
    notes = []
    for profile in dict.fromkeys(profiles):
        gaps = [
            (said, getattr(profile, field)) for said, field in _FIELDS if not getattr(profile, field).known
        ]
        wider = [said for said, value in gaps if value.origin == "assumed" and value.records]
        missing = [said for said, _ in gaps if said not in wider]
        missing += ["nitrogen fixing"] if profile.nitrogen_fixing.value is None else []
        if missing:
            unknown.append(f"for {profile.name}: {', '.join(missing)}")
        if wider:
            notes.append(
                f"On record for {profile.name}, and taken wider than it says, since it tells no limit of "
                f"what the crop bears: {', '.join(wider)}."
            )
        keeps = profile.spread.value not in RUNNING and not profile.spread.known
        if keeps and not profile.annual and not (profile.spread.value is None and runs(profile)):
            notes.append(
                f"Whether {profile.name} runs through its neighbours is not on record: it is taken to "
                "keep its place."
            )
    if unknown:
        kind = "its kind" if len(unknown) == 1 else "their kinds"
        stand = f"Usual values of {kind} stand in; they widen the doubt and never improve the verdict."
        notes.insert(0, f"Not on record {'; '.join(unknown)}. {stand}")
    return tuple(notes)


def _enemies(two: Two) -> str | None:
    one, other = (profile.name for profile in two.in_order)
    enemies = two.harm.enemies
    if enemies is None and two.kin.kinship in {"genus", "family"}:
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
    if two.harm.enemies is None and _in_turn(two):
        return "Rusts that live on these two families in turn, and the law on them, are not computed yet."
    return None


def _in_turn(two: Two) -> bool:
    """Whether rusts live on the two families in turn."""
    one, other = (profile.family.value for profile in two.profiles)
    return any(
        (one in first and other in second) or (one in second and other in first)
        for first, second in TWO_HOSTS
    )


def _two_crowns(two: Two) -> str | None:
    """Light in a bed is reckoned for mixed leaves; woody crowns keep apart (`computation-notes` 3)."""
    wide = [
        profile.growth_form.value in CROWNED and profile.crown_width_m.likely >= LEAST_CROWN_M
        for profile in two.profiles
    ]
    if two.setting == "bed" and all(wide):
        return MIXED_CROWNS
    return None


def _of_one(profile: Profile, two: Two) -> list[str]:
    if two.beyond:
        return []
    known = {found.emitter for found in two.harm.emissions}
    if profile.family.value in ALLELOPATHIC_FAMILIES and two.harm.enemies is not None:
        if profile.id in known:
            return []
        return [f"What {profile.name} gives off that may harm its neighbours is not on record."]
    if profile.family.value in ALLELOPATHIC_FAMILIES:
        return [f"What {profile.name} gives off that may harm its neighbours is not computed yet."]
    return []
