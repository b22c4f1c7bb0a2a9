"""The single things said of a pair, each with the records it rests on."""

from kb.mixture.answers.course_words import goes_on, year_before
from kb.mixture.answers.flowers import flower_reason
from kb.mixture.bodies.digging import SOME_DRAW
from kb.mixture.bodies.uncut_hedge import even_row
from kb.mixture.counting import listed
from kb.mixture.judging.findings import Findings, once
from kb.mixture.judging.lent_words import lent_reason
from kb.mixture.judging.merits import alike, out_of_leaf, shade_suits
from kb.mixture.limits import Limit, records_of
from kb.mixture.profile import Profile
from kb.mixture.relatedness import ENEMY_WEIGHT
from kb.mixture.results import Kind, Limiting, Reason
from kb.mixture.season import FloatArray
from kb.mixture.sharing.asked_beneath import less_in_shade
from kb.mixture.sharing.light_words import WORTH_SAYING, light_lost, percent
from kb.mixture.sharing.nitrogen import WORTH_NAMING_G_M2, Giving, leads
from kb.mixture.stress import verdict_of

MOST_NAMED = 3
SEASONS_APART, DEPTHS_APART = 0.35, 0.5
"""Shares of season and of root depth below which the two are said to be apart (judgement)."""


def limiting(findings: Findings) -> Limiting | None:
    """The one thing that holds the pair back most; None where nothing does."""
    if findings.verdict == "like":
        return None
    if findings.holding:
        limit = findings.holding[0]
        return Limiting(limit.kind, limit.of, limit.text, limit.records)
    # The plant that feels most; the ids decide between equals, so that order does not.
    worse = max((0, 1), key=lambda i: (round(findings.each[i], 9), findings.profiles[i].id))
    felt = findings.felt
    parts: dict[Kind, float] = {
        "roots": float(felt.roots[0, worse]),
        "light": float(felt.light[0, worse]),
        "enemies" if findings.harm.counted else "family": ENEMY_WEIGHT * findings.harm.shared,
    }
    kind = max(parts, key=lambda name: parts[name])
    if parts[kind] < WORTH_SAYING:
        return None
    return _felt_limit(findings, worse, kind)


def _felt_limit(findings: Findings, worse: int, kind: Kind) -> Limiting:
    plant, other = findings.profiles[worse], findings.profiles[1 - worse]
    if kind in {"family", "enemies"}:
        reason = enemies(findings) or family(findings)
        return Limiting(reason.kind, plant.id, reason.text, reason.records)
    if kind == "light":
        text, records = _light_text(findings, worse)
        return Limiting("light", plant.id, text, records)
    water = float(findings.felt.by_roots.water[0, worse]) >= float(findings.felt.by_roots.nitrate[0, worse])
    lost = percent(float(findings.felt.roots[0, worse]))
    sides = (findings.a, findings.b)
    over = year_before(sides[worse], [sides[1 - worse]])
    less = less_in_shade(sides[worse], findings.place) if water and worse == 1 else ""
    text = (
        f"{plant.name} goes without {lost} of the {'water' if water else 'nitrogen'} it would find in a "
        f"bed of its own{less}: {other.name} roots in the same ground in the same weeks{over}."
    )
    return Limiting("roots", plant.id, text, _root_records(findings))


def _light_text(findings: Findings, worse: int) -> tuple[str, tuple[str, ...]]:
    plant, other = findings.profiles[worse], findings.profiles[1 - worse]
    lost = float(findings.felt.light[0, worse])
    records = records_of(
        plant.light_to_crop_full.records,
        other.height_m.records,
        other.leaf_area_index.records,
        other.extinction.records,
        other.leaf.records,
        plant.activity.records,
    )
    what = "crop" if cropped(plant, findings.place.setting) else "growth"
    own = (findings.a, findings.b)[worse]
    return light_lost(own, lost, [other.name], what, findings.place.site.open_light), records


def cropped(plant: Profile, setting: str) -> bool:
    """Whether one speaks of its crop: not in a hedge, nor of a lasting grass (lawn, sward)."""
    return setting != "hedge" and (plant.growth_form.value != "graminoid" or plant.annual)


def limit_reasons(limits: tuple[Limit, ...]) -> tuple[Reason, ...]:
    return tuple(Reason(limit.kind, limit.text, limit.records) for limit in limits)


@once
def _root_records(findings: Findings) -> tuple[str, ...]:
    return records_of(*(plant.root_records for plant in findings.in_order))


@once
def roots(findings: Findings) -> Reason:
    """How much of their root depth they share."""
    one, other = findings.in_order
    shared = findings.depth_shared
    text = f"{one.name} and {other.name} share {percent(shared)} of their root depth."
    if findings.place.setting == "under" and findings.place.share_a < SOME_DRAW:
        text = f"Few roots of {one.name} come as far out as {other.name} stands."
    return Reason("roots", text, _root_records(findings))


@once
def season(findings: Findings) -> Reason:
    """How far they grow at the same time; as far as known, where a season stands in."""
    one, other = findings.in_order
    records = records_of(one.activity.records, other.activity.records)
    shared = findings.season_shared
    known = "" if one.activity.known and other.activity.known else "As far as known, "
    if shared < SEASONS_APART:
        text = (
            f"{known}{one.name} and {other.name} grow at different times: they share {percent(shared)} of "
            "the shorter season."
        )
    else:
        text = (
            f"{known}{one.name} and {other.name} grow at the same time for {percent(shared)} of the shorter "
            "season."
        )
    return Reason("season", text, records)


def family(findings: Findings) -> Reason:
    """How they are related, which says how likely they are to share enemies."""
    one, other = findings.in_order
    kinship, records = findings.kin.kinship, findings.kin.records
    if kinship == "unknown":
        text = "A family is not on record: the two are taken as related, which may mean shared diseases."
    elif kinship == "species":
        text = "They are of one species: like with like, and every pest and disease is shared."
    elif findings.kin.exception is not None:
        text = f"{one.name} and {other.name} are kin, which might share pests, but {findings.kin.exception}."
    elif kinship == "genus":
        text = f"{one.name} and {other.name} are of one genus and likely to share pests and diseases."
    elif kinship == "family":
        text = (
            f"{one.name} and {other.name} are of one family ({one.family.value}) and may share pests and "
            "diseases."
        )
    else:
        text = f"They come from different families ({one.family.value}, {other.family.value})."
    return Reason("family", text, records)


@once
def enemies(findings: Findings) -> Reason | None:
    """The named pests and diseases that count for the pair, the weightiest first; else those lent by kin."""
    counted = findings.harm.counted[:MOST_NAMED]
    if not counted:
        return lent_reason(findings.two)
    one, other = findings.in_order
    more = len(findings.harm.counted) - len(counted)
    named = [agent.name for agent in counted] + ([f"{more} more"] if more else [])
    what = "an enemy that does harm" if len(named) == 1 else "pests and diseases that do harm"
    kin = findings.kin
    near = kin.kinship in {"genus", "family"} and kin.exception is None
    of_kin = f" are of one {kin.kinship} and" if near else ""
    text = f"{one.name} and {other.name}{of_kin} share {what}: {listed(named)}."
    return Reason("enemies", text, records_of(*(agent.records for agent in counted)))


def enemies_beside(findings: Findings) -> Reason | None:
    """The named enemies where they alone would keep the pair from good, whatever else holds it."""
    alone = ENEMY_WEIGHT * findings.harm.shared
    return enemies(findings) if findings.harm.counted and verdict_of(alone) != "good" else None


@once
def light(findings: Findings) -> Reason:
    """Light that either loses, or that neither loses any."""
    lost: FloatArray = findings.felt.light[0]
    if float(lost.max()) < WORTH_SAYING:
        one, other = findings.in_order
        records = records_of(one.height_m.records, other.height_m.records)
        if findings.out_of_reach:
            text = f"{other.name} stands beyond the roots and the shade of {one.name}."
            return Reason("light", text, records)
        below = findings.place.setting == "under"
        text = (
            f"{other.name} gets light enough here." if below else "Neither loses much by the other's shade."
        )
        return Reason("light", text, records)
    ids = (findings.a.profile.id, findings.b.profile.id)
    worse = min((0, 1), key=lambda i: (-round(float(lost[i]), 9), ids[i]))  # whichever was asked for first
    text, records = _light_text(findings, worse)
    return Reason("light", text, records)


def with_light(
    said: tuple[Reason, ...], findings: Findings, most: int, *, decides: bool
) -> tuple[Reason, ...]:
    """The first ``most`` of these, light among them where it costs something or ``decides``."""
    kept, shade = said[:most], light(findings)
    costs = float(findings.felt.light[0].max()) >= WORTH_SAYING
    told = any(one.text == shade.text if costs else one.kind == "light" for one in kept)
    if told or not (costs or decides):
        return kept
    return last_is(shade, kept, most)


def last_is(reason: Reason, kept: tuple[Reason, ...], most: int) -> tuple[Reason, ...]:
    """These with the reason as the last of at most so many."""
    return (*kept[: most - 1], reason)


def light_enough(findings: Findings) -> Reason | None:
    """What stands under a tree and loses hardly any light by it: the shade suits it."""
    under = findings.place.setting == "under" and float(findings.felt.light[0].max()) < WORTH_SAYING
    return light(findings) if under else None


def benefits(findings: Findings) -> tuple[Reason, ...]:
    """What one brings the other, the best first; a gift of nitrogen that is small comes last."""
    found = []
    for support in findings.supports:
        if support.host is not None and support.climber is not None:
            host, climber = findings.named(support.host), findings.named(support.climber)
            found.append(Reason("support", f"{host.name} carries {climber.name}.", support.records))
    for gift in findings.givings:
        giver, taker = findings.named(gift.gift.giver), findings.named(gift.gift.taker)
        if leads(gift.gift.g_per_m2, taker):
            found += _gift(findings, gift)
        if not taker.woody and findings.place.setting != "under":
            spared = f"{giver.name} leaves most of the soil's nitrogen to {taker.name}."
            found.append(Reason("nitrogen", spared, gift.records))
    relief = float(findings.felt.by_roots.relief[0])
    known = all(p.root_d95_m.known and p.activity.known for p in findings.profiles)
    if relief >= WORTH_SAYING and known:
        text = (
            f"Together they find {percent(relief)} more water and nitrogen: apart in depth or time, each on "
            "its own leaves some in the ground."
        )
        found.append(Reason("roots", text, records_of(roots(findings).records, season(findings).records)))
    flowers = flower_reason(findings)
    if flowers is not None:
        found.append(flowers)
    return (*found, *small_gifts(findings))


@once
def small_gifts(findings: Findings) -> tuple[Reason, ...]:
    """Gifts of nitrogen that are worth naming, but a small part of what the taker takes up."""
    small = [
        gift for gift in findings.givings if not leads(gift.gift.g_per_m2, findings.named(gift.gift.taker))
    ]
    return tuple(reason for gift in small for reason in _gift(findings, gift))


def _gift(findings: Findings, gift: Giving) -> list[Reason]:
    low, high = gift.gift.g_per_m2
    if high < WORTH_NAMING_G_M2:
        return []
    giver, taker = findings.named(gift.gift.giver), findings.named(gift.gift.taker)
    text = f"{giver.name} gives {taker.name} {grams(low, high)} of nitrogen: {gift.gift.when}."
    return [Reason("nitrogen", text, gift.records)]


def complement(findings: Findings) -> Reason | None:
    """Where they keep out of each other's way: a reason, never points (`computation-notes` 1.14)."""
    if findings.season_shared < SEASONS_APART:
        return season(findings)
    if findings.depth_shared < DEPTHS_APART:
        return roots(findings)
    return out_of_leaf(findings)


@once
def merit(findings: Findings) -> Reason | None:
    """Why nothing much is lost, where neither gives the other anything: apart, in shade that suits, alike."""
    if findings.place.setting == "hedge":
        row = even_row(*findings.profiles)
        if row is not None:
            return row
    return (
        complement(findings)
        or (goes_on(findings) if findings.place.setting == "bed" else None)
        or shade_suits(findings, WORTH_SAYING)
        or light_enough(findings)
        or alike(findings.profiles)
    )


def grams(low: float, high: float) -> str:
    return f"up to {high:.1f} g/m²" if low < 0.05 else f"{low:.1f} to {high:.1f} g/m²"
