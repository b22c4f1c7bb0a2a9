"""Every limit on a pair: soils apart, the site itself, spread, digging, climbing, young trees, dark."""

from dataclasses import replace

from kb.mixture.bodies.digging import cut_roots
from kb.mixture.bodies.picking import stands_in_the_way
from kb.mixture.bodies.pieces import DUG_M
from kb.mixture.bodies.soil_depth import depth_limits
from kb.mixture.bodies.spread import overrun
from kb.mixture.bodies.support import Support, supports_among
from kb.mixture.bodies.two_crowns import two_crowns
from kb.mixture.bodies.uncut_hedge import outgrown
from kb.mixture.bodies.young_crops import among_a_carpet, in_a_sod
from kb.mixture.ground.reaction import by_lime, ph_of, reaction_limit, reaction_of_site
from kb.mixture.judging.site_rules import rule_limits
from kb.mixture.limits import Apart, Limit, Meeting, Party, hardest_first, records_of
from kb.mixture.profile import Profile, Span
from kb.mixture.results import Kind, Verdict
from kb.mixture.site import Site
from kb.mixture.weeks.cool_summer import cool_summer
from kb.mixture.weeks.sowing import sowing_limits
from kb.mixture.weeks.winter import winter_limits

PH_OVERLAP, PH_COMFORT = 0.2, 0.6
"""Two pH ranges that share no more than the first are apart; under the second, care (`trade` 4.8)."""
PH_DOUBT = 0.4
"""The ends of one published range of pH are in doubt by so much (`trade` 3.2)."""
MOISTURE_GAP = 0.5
"""Moisture ranges further apart than this (steps of the 1-12 scale) have no common soil."""
MOISTURE_DOUBT = 1.0
"""The ends of one published range of moisture are in doubt by so many steps (`trade` 3.2: a class)."""
MOISTURE_COMFORT = 0.5
"""Moisture ranges that share less than this only just meet: care (`trade` 4.8, "touching"; judgement)."""
MOISTURE_MIDDLES = 4.0
"""Ranges whose middles lie so many steps apart touch by their widening alone, where neither does well: a
class of an indicator scale is taken two steps wide either way (`intervals.CLASSES_EITHER_SIDE`)."""
PH_MISFIT, MOISTURE_MISFIT = 0.5, 1.0
"""Outside its range by more than this, a plant fails on the site (judgement); by less, it is cramped."""
PH_CRAMPED = 0.25
"""So far out it still grows passably, and from there to `PH_MISFIT` poorly: even steps from the end of what
it bears, which is in doubt by `PH_DOUBT` (judgement)."""
Steps = tuple[tuple[float, Verdict], ...]
PH_STEPS: Steps = ((PH_CRAMPED, "workable"), (PH_MISFIT, "poor"))
MOISTURE_STEPS: Steps = ((MOISTURE_MISFIT, "workable"),)
"""How far outside its range, and the best word that is left there; further out it is to be avoided."""
YOUNG_YEARS, BARE_M = 5.0, 1.0
"""No living cover this near a tree younger than this (`computation-notes` 3)."""
NURSED_CROP, NURSED_SURVIVE = 0.6, 0.1
"""A tree that crops in full in so little of open light, and bears so little, wants shade when young
(judgement: cacao by its records of both; no fruit tree of open orchards comes near)."""
DARK_SHARE = 0.5
"""Too dark to keep: light below what it survives in more than this share of its weeks."""


def all_limits(
    a: Party, b: Party, meeting: Meeting, *, dark: tuple[float, float]
) -> tuple[tuple[Limit, ...], tuple[Support, ...]]:
    """The limits on a pair, hardest first, and what climbing brings.

    ``dark`` is, for each, the share of its active weeks that are darker than it survives. The
    answer is the same whichever plant comes first.
    """
    supports = supports_among((a, b), {(0, 1): meeting})
    found = [limit for support in supports for limit in support.limits]
    found += own_limits(a, meeting, dark[0]) + own_limits(b, meeting, dark[1])
    return hardest_first(found + mutual_limits(a, b, meeting)), supports


def own_limits(party: Party, meeting: Meeting, darkness: float) -> list[Limit]:
    """What the place itself, with the light that is left there, forbids a plant."""
    profile, site = party.profile, meeting.site
    found = [_too_dark(party, darkness), _no_season(party), *soil_misfits(profile, site, meeting.given)]
    found += [*rule_limits(profile, site), *winter_limits(profile, site, meeting.given)]
    found += [*sowing_limits(party, meeting), cool_summer(profile, party.activity, site)]
    return [limit for limit in found if limit is not None]


def mutual_limits(a: Party, b: Party, meeting: Meeting) -> list[Limit]:
    """What two plants forbid each other, climbing apart."""
    found: list[Limit | None] = []
    for one, other in ((a, b), (b, a)):
        found += [overrun(one, other, meeting), cut_roots(one, other, meeting)]
        found += [
            _young_tree(one, other, meeting),
            two_crowns(one, other, meeting),
            stands_in_the_way(one, other, meeting),
        ]
        found += [among_a_carpet(one, other, meeting), in_a_sod(one, other, meeting)]
    found += [_ph_apart(a, b, meeting.site), _moisture_apart(a, b, meeting.site), outgrown(a, b, meeting)]
    return [limit for limit in found if limit is not None]


def ph_shared(a: Profile, b: Profile) -> float:
    """How much of their ranges of pH two plants share; below 0 the gap between them."""
    return min(a.soil_ph.high, b.soil_ph.high) - max(a.soil_ph.low, b.soil_ph.low)


def _in_order(a: Party, b: Party) -> tuple[Party, Party]:
    """The two in the order of their ids, so that texts do not depend on who was asked first."""
    return (a, b) if a.profile.id <= b.profile.id else (b, a)


def _no_soil(one: Span, other: Span, shared: float, *, guessed: bool) -> str:
    """That no soil suits both; where their ranges touch, that they meet in a span too narrow to keep to."""
    if shared > 0.05:
        low, high = max(one.low, other.low), min(one.high, other.high)
        return f"they meet at pH {low:g} to {high:g} only, too narrow a span to keep ground in"
    return f"no soil {'is known to suit' if guessed else 'suits'} both"


def _ph_apart(a: Party, b: Party, site: Site) -> Limit | None:
    a, b = _in_order(a, b)
    one, other = a.profile.soil_ph, b.profile.soil_ph
    shared = ph_shared(a.profile, b.profile)
    if shared >= PH_COMFORT:
        return reaction_limit(a.profile, b.profile)
    text = f"{ph_of(a.profile)}, {ph_of(b.profile)}"
    common = (one, other)
    guessed = one.found and other.found and shared > -PH_DOUBT
    at_fault, sweet = (a, b) if one.low < other.low else (b, a)
    # On ground that suits the one it is the other that has to stand elsewhere.
    off = [
        0.0 if site.soil_ph is None else misses(p.profile.soil_ph, site.soil_ph) for p in (at_fault, sweet)
    ]
    at_fault = sweet if off[1] > off[0] else at_fault
    if shared <= PH_OVERLAP + 1e-9:
        return Limit(
            kind="ph",
            of=at_fault.profile.id,
            text=f"{text}: {_no_soil(one, other, shared, guessed=guessed)}.",
            records=_span_records(*common),
            ceiling="workable" if guessed else _as_far_as_known(shared, thin=one.thin or other.thin),
            lift=f"{at_fault.profile.name} gets a separate bed with soil of its own",
            apart=Apart(at_fault.profile.id, kind="ph", suits=(at_fault.profile.id,)),
            check=not (one.known and other.known),
            ask=guessed,
            thin=one.thin or other.thin,
        )
    # A narrow span is told as a condition; on soil whose pH is said each plant is judged by itself.
    told = site.soil_ph is None and one.known and other.known
    low, high = max(one.low, other.low), min(one.high, other.high)
    return Limit(
        kind="ph",
        of=at_fault.profile.id,
        text=f"{text}: the soil has to be kept where both agree.",
        records=_span_records(*common),
        ceiling="workable" if told else "good",
        lift=f"the soil has a pH of {low:.2g} to {high:.2g}, where both agree" if told else None,
        small=told,
    )


def _as_far_as_known(shared: float, *, thin: bool) -> Verdict:
    """A conflict of two ranges of pH that nearly meet, where one study stands behind either.

    Such a conflict is a strong warning and no hard one (`trade` 4.13: of little confidence, poor at best);
    ranges that meet ask for care. Two plants of neither of which a limit is on record, only where they do
    best or are found, are asked about (`_ph_apart`): both ends are moved out by a usual distance.
    """
    if not thin or shared <= -PH_DOUBT:
        return "avoid"
    return "poor" if shared < 0 else "workable"


def _moisture_apart(a: Party, b: Party, site: Site) -> Limit | None:
    """Two ranges of moisture that hardly meet, by how far; watering one of them brings them no nearer."""
    a, b = _in_order(a, b)
    one, other = a.profile.moisture, b.profile.moisture
    gap = max(one.low, other.low) - min(one.high, other.high)
    if gap <= -MOISTURE_COMFORT + 1e-9:
        return None
    dry, wet = (a, b) if one.low < other.low else (b, a)
    apart = gap > 1e-9
    far = gap > MOISTURE_GAP + 1e-9
    thin = one.thin or other.thin
    # Of one study each, ends that lie within their doubt: a strong warning, no hard conflict (`trade` 4.13).
    hard = far and not (thin and gap <= MOISTURE_DOUBT + 1e-9)
    unlike = abs(_middle(one) - _middle(other)) >= MOISTURE_MIDDLES - 1e-9
    meet = "they only just meet, where neither does best" if unlike else "they only just meet"
    text = f"{wet.profile.name} wants {'far ' if hard else ''}moister ground than {dry.profile.name}"
    # On ground that suits the one it is the other that cannot stand.
    off = [misses(plant.profile.moisture, site.moisture) for plant in (wet, dry)]
    moister = f"{wet.profile.name} stands in moister ground than {dry.profile.name}"
    return Limit(
        kind="water",
        of=(dry if off[1] > off[0] else wet).profile.id,
        text=f"{text} bears: no ground {'suits' if hard else 'is known to suit'} both."
        if apart
        else f"{text}: {meet}.",
        records=_span_records(one, other),
        ceiling="avoid" if hard else "poor" if apart else "workable" if unlike else "good",
        lift="each stands in ground of its own" if apart else moister if unlike else None,
        apart=Apart(wet.profile.id, kind="water", suits=_suited(wet, dry, apart=apart))
        if apart or unlike
        else None,
        check=not (one.known and other.known),
        thin=thin,
    )


def _suited(wet: Party, dry: Party, *, apart: bool) -> tuple[str, ...]:
    """Who has its own kind of ground then: each of two that no ground suits, else the one that is moved."""
    return tuple(party.profile.id for party in ((wet, dry) if apart else (wet,)))


def _middle(span: Span) -> float:
    return (span.low + span.high) / 2


def _span_records(*spans: Span) -> tuple[str, ...]:
    return records_of(*(span.records for span in spans))


def soil_misfits(profile: Profile, site: Site, given: frozenset[str]) -> tuple[Limit, ...]:
    """A plant against the depth, reaction and moisture of the ground it is asked to stand in."""
    found: list[Limit | None] = [*depth_limits(profile, site.soil_depth_m)]
    if site.soil_ph is not None:
        off = misses(profile.soil_ph, site.soil_ph)
        beyond = "a little beyond" if off <= PH_CRAMPED else "outside"
        bears = _bears(profile.soil_ph)
        lime = by_lime(profile, site.soil_ph) if off > PH_CRAMPED else ""
        text = f"the soil here (pH {site.soil_ph:.2g}) is {beyond} what {profile.name} {bears}{lime}"
        misfit = _misfit("ph", profile, profile.soil_ph, (off, PH_STEPS), text)
        if misfit is not None and misfit.hard and misfit.thin and off <= PH_MISFIT + PH_DOUBT:
            # One study's end may lie so far out: a strong warning, no hard conflict (`trade` 4.13).
            misfit = replace(misfit, ceiling="poor")
        found.append(misfit)
        found.append(reaction_of_site(profile, site.soil_ph))
    off = misses(profile.moisture, site.moisture)
    dry = site.moisture < profile.moisture.low
    little = "a little " if off <= MOISTURE_STEPS[0][0] + 1e-9 else ""
    bears = _bears(profile.moisture)
    text = f"the ground here is {little}{'drier' if dry else 'wetter'} than {profile.name} {bears}"
    wet = _misfit("water", profile, profile.moisture, (off, MOISTURE_STEPS), text)
    if wet is not None and wet.hard and wet.thin and off <= MOISTURE_MISFIT + MOISTURE_DOUBT + 1e-9:
        wet = replace(wet, ceiling="poor")
    if wet is not None and dry:
        met = True if "irrigated" in given else None
        lift = "the ground is watered in dry weeks"  # all that stand on it are: no care for one alone
        wet = replace(wet, lift=lift, given="irrigated", met=met)
    found.append(wet)
    return tuple(limit for limit in found if limit is not None)


def _bears(span: Span) -> str:
    """Whether a range says what a plant bears, is drawn from advice and finds, or stands in for a record."""
    if not span.known:
        return "is taken to bear, as none is on record"
    return "is taken to bear" if span.found else "bears"


def misses(span: Span, value: float) -> float:
    """How far a value lies outside a range; 0 inside it."""
    return max(0.0, span.low - value, value - span.high)


def _misfit(kind: Kind, profile: Profile, span: Span, off: tuple[float, Steps], text: str) -> Limit | None:
    """``off`` is how far the ground is outside its range, and what is left of the verdict how far out."""
    outside, steps = off
    if outside <= 0:
        return None
    return Limit(
        kind=kind,
        of=profile.id,
        text=f"{text[0].upper()}{text[1:]}.",
        records=span.records,
        ceiling=next((word for far, word in steps if outside <= far + 1e-9), "avoid"),
        check=not span.known,
        thin=span.thin,
    )


def _no_season(party: Party) -> Limit | None:
    if party.activity.any():
        return None
    text = f"The frosts of this site leave {party.profile.name} no season."
    return Limit("season", party.profile.id, text, party.profile.activity.records, "avoid")


def _too_dark(party: Party, darkness: float) -> Limit | None:
    if darkness <= DARK_SHARE:
        return None
    survive = party.profile.light_to_survive
    return Limit(
        kind="light",
        of=party.profile.id,
        text=f"It is too dark here to keep {party.profile.name} through most of its weeks.",
        records=survive.records,
        ceiling="avoid",
        lift=f"{party.profile.name} stands in the open",
        apart=Apart(party.profile.id),
        check=not survive.known,
    )


def _nurses(cover: Party, tree: Party) -> bool:
    """Whether it shades a young tree of the shade for a time: a crop of a season or two, or a herb above it.

    Cacao is raised among cassava, taro and bananas (cacao growing handbooks). Both values of the tree's light
    have to be on record.
    """
    crops, lives = tree.profile.light_to_crop_full, tree.profile.light_to_survive
    of_shade = crops.known and crops.likely <= NURSED_CROP and lives.known and lives.likely <= NURSED_SURVIVE
    passing = cover.profile.annual or cover.profile.dug_depth_m.likely >= DUG_M
    return of_shade and (passing or (not cover.profile.woody and cover.height_m > tree.height_m))


def _young_tree(tree: Party, cover: Party, meeting: Meeting) -> Limit | None:
    """Living cover takes from a young tree what its small root system cannot spare.

    Woody plants of one hedge are set together and no cover to each other. Plants stand where they were said
    to stand: the ring that is reckoned round that distance is nobody's choice. What nurses a tree that wants
    shade when young is no such cover.
    """
    young = tree.age_years is not None and tree.age_years < YOUNG_YEARS
    if not young or (meeting.setting == "hedge" and cover.profile.woody) or _nurses(cover, tree):
        return None
    stands_m = meeting.nearest_m if meeting.at_m is None else meeting.at_m
    near = stands_m is None or stands_m < BARE_M
    is_tree = tree.overhead or tree.profile.growth_form.value == "tree"
    if not (is_tree and near):
        return None
    return Limit(
        kind="roots",
        of=tree.profile.id,
        text=f"{cover.profile.name} grows within 1 m of {tree.profile.name}, younger than five years: it "
        "takes water and nitrogen before the tree's roots reach beyond it.",
        records=(),
        ceiling="poor",
        lift="the ground within 1 m of the trunk is kept under mulch",
        given="mulch",
        met=meeting.met("mulch"),
    )
