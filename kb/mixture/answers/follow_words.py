"""The answer on one plant after another in words, each with the records it rests on."""

from collections.abc import Sequence

from kb.mixture.answers.sureness_words import TRIALS
from kb.mixture.counting import so_many
from kb.mixture.enemies.enemy_book import EnemyBook
from kb.mixture.follow.follow_findings import Follow
from kb.mixture.follow.follow_season import COMPLETES
from kb.mixture.follow.green_manure import turned_in_note
from kb.mixture.follow.grown_after import ROTATION_YEARS, Timing
from kb.mixture.follow.leftover import SUFFERS
from kb.mixture.ground.fixed import fixed_by, stand_in
from kb.mixture.judging.harm_notes import only_named
from kb.mixture.limits import HOLDS_BACK, Limit, ceiling_with, deed, records_of
from kb.mixture.profile import Profile
from kb.mixture.relatedness import ENEMY_WEIGHT, SHARED_ENEMIES
from kb.mixture.results import Condition, Limiting, NitrogenGift, Reason, Sureness, Verdict
from kb.mixture.sharing.nitrogen import WORTH_NAMING_G_M2, leads

WORTH_SAYING = COMPLETES
MOST_NAMED = 3
NOT_WATER = "What the first leaves of the soil's water, and what of it sprouts again, are not computed."
TURF = (
    "Turf that is dug in leaves nitrogen and a good crumb as it rots, more of it the longer it stood (common "
    "practice); how much is not computed."
)
AT_LEAST, BETTER = "at least ", "better still, "
"""How years between begin, and how those do that help more than fewer."""
TURN_WORDS = "the ground takes three days to turn round"


def too_soon(a: Profile, b: Profile, time: Timing) -> Limit:
    clear, start = time.clear_week or 0.0, time.start_week or 0.0
    after = f"in week {clear:.0f} or later"
    if time.turn_weeks:
        after = f"a little after week {clear:.0f} ({TURN_WORDS})"
    return Limit(
        kind="season",
        of=b.id,
        text=f"{a.name} holds the ground until about week {clear:.0f}; "
        f"{b.name} would start in week {start:.0f}.",
        records=records_of(a.activity.records, b.activity.records),
        ceiling="poor",
        lift=f"{b.name} starts {after}, or {a.name} is cleared before",
    )


def limiting_of(found: Follow, verdict: Verdict) -> Limiting | None:
    if verdict == "good":
        return None
    holding = next(
        (
            limit
            for limit in found.limits
            if HOLDS_BACK[limit.allows(lifted=limit.lifted)] <= HOLDS_BACK[verdict]
        ),
        None,
    )
    if holding is not None:
        return Limiting(holding.kind, holding.of, holding.text, holding.records)
    reason = season_reason(found) if found.time.lost > found.shared * ENEMY_WEIGHT else kin_reason(found)
    return Limiting(reason.kind, found.b.id, reason.text, reason.records)


ENDS = {
    "harvested": "leaves the ground",
    "dug-in": "is dug in",
    "mown": "is mown down",
    "left": "ends, and is left to lie,",
}
"""How a crop ends, by what becomes of it."""


def season_reason(found: Follow) -> Reason:
    a, b, time = found.a, found.b, found.time
    records = records_of(a.activity.records, b.activity.records)
    young = ", set out as young plants," if time.set_out else ""
    if young:
        records = records_of(records, b.raising.records)
    if time.lost >= WORTH_SAYING:
        return Reason(
            "season",
            f"{b.name}{young} would start about week {time.start_week:.0f} and lose about "
            f"{round(time.lost * 20) * 5} % of its growth to the end of the season.",
            records,
        )
    if found.asked.gap_years:
        return Reason(
            "season", f"{b.name} comes {so_many(found.asked.gap_years, 'year')} after {a.name}.", records
        )
    if time.gap_weeks is None or time.clear_week is None or time.start_week is None:
        return Reason("season", f"{a.name} is taken to be cleared in time for {b.name}.", records)
    gap = round(max(0.0, time.gap_weeks))
    # The turn of the year lies between where the week of the start is the lower one.
    when = (
        f"in week {time.start_week:.0f} of the next year"
        if time.gap_weeks > 0 and time.start_week < time.clear_week
        else f"{gap} week{'' if gap == 1 else 's'} later"
        if gap
        else "in the same week"
    )
    does = f"starts {when} and keeps its season" if b.annual else f"is planted {when}"
    return Reason(
        "season",
        f"{a.name} {ENDS[found.asked.use_a]} about week {time.clear_week:.0f}; {b.name}{young} {does}.",
        records,
    )


def kin_reason(found: Follow) -> Reason:
    a, b = found.a, found.b
    words = {
        "species": f"{b.name} would follow its own kind"
        if a.id == b.id
        else f"{b.name} is of the same species as {a.name}",
        "genus": f"{b.name} is of the same genus as {a.name}",
        "family": f"{b.name} is of the same family as {a.name}",
        "unknown": f"the family of {a.name if not a.family.known else b.name} is not on record",
        "none": f"{a.name} and {b.name} are of different families",
    }[found.kin.kinship]
    if found.kin.kinship == "none":
        return Reason(
            "family", f"{words}, so most of what troubles one does not wait for the other.", found.kin.records
        )
    if found.shared == SHARED_ENEMIES["none"]:
        return Reason(
            "family", f"{words}, but {ROTATION_YEARS:.0f} years or more lie between.", found.kin.records
        )
    return Reason(
        "family", f"{words}: what troubles one waits in the ground for the other.", found.kin.records
    )


def nitrogen_reason(found: Follow) -> Reason:
    low, high = found.gift_g_m2
    need = max(found.need_g_m2, 1e-9)
    share = f"{100 * low / need:.0f} to {100 * high / need:.0f} %"
    act = {"harvested": "picked", "dug-in": "dug in", "mown": "mown and left", "left": "left to lie"}[
        found.asked.use_a
    ]
    return Reason(
        "nitrogen",
        f"{found.a.name}, {act}, leaves about {share} of the nitrogen that {found.b.name} takes up"
        f"{stand_in(found.a)}.",
        records_of(
            found.a.nitrogen_fixing.records,
            fixed_by(found.a).records,
            found.b.nitrogen_demand_g_m2.records,
        ),
    )


def gift_of(found: Follow) -> NitrogenGift | None:
    if not _worth_naming(found):
        return None
    when = f"in the season after, of what it took from the air{stand_in(found.a)}"
    return NitrogenGift(found.a.id, found.b.id, found.gift_g_m2, when)


def _worth_naming(found: Follow) -> bool:
    return found.gift_g_m2[1] >= WORTH_NAMING_G_M2


def reasons_of(found: Follow) -> tuple[Reason, ...]:
    stated = [limit for limit in found.limits if not limit.ask]
    said = [_reason_of(limit) for limit in stated[:1]]
    gift = [nitrogen_reason(found)] if _worth_naming(found) else []
    # Where the ground is not free in time, or frost or cold holds the week, the limit says so.
    if found.week_limits:
        season = [_reason_of(limit) for limit in found.week_limits if limit not in stated[:1]]
    else:
        told = found.time.too_soon and found.time.lost < WORTH_SAYING
        season = [] if told else [season_reason(found)]
    rest = [*season, kin_reason(found)]
    if found.time.lost < found.shared and not found.time.raised_weeks:
        rest.reverse()
    if gift and not leads(found.gift_g_m2, found.b):
        return (*said, *rest, *gift)
    return (*said, *gift, *rest)


def _reason_of(limit: Limit) -> Reason:
    return Reason(limit.kind, limit.text, limit.records)


def conditions_of(found: Follow, waits: Sequence[Follow]) -> tuple[Condition, ...]:
    """What would change the verdict; ``waits`` are the same with the years of a rotation between the two."""
    said = [
        Condition(
            limit.kind,
            limit.question or "" if limit.lift is None else deed(found.limits, limit, most=MOST_NAMED),
            limit.given,
            limit.met,
            _word_done(found, limit),
            found.word(ceiling=ceiling_with(found.limits, limit, lifted=False)),
        )
        for limit in found.limits
        if limit.lift is not None or limit.ask
    ]
    words = [found.word()]
    for later in waits:
        # More years are said only where they help more than fewer do.
        if later.word() not in words or (found.kin_wait and later.asked.gap_years == ROTATION_YEARS):
            fewer = len(words) > 1 and words[-1] != found.word()
            said.append(_years_between(found, later, better=fewer))
            words.append(later.word())
    return tuple(dict.fromkeys(said))


def _word_done(found: Follow, limit: Limit) -> Verdict:
    """The verdict once what lifts this limit is done."""
    if limit.apart is not None:
        return found.word_elsewhere()
    return found.word(
        ceiling=ceiling_with(found.limits, limit, lifted=True), in_time=_moves_start(found, limit)
    )


def _years_between(found: Follow, later: Follow, *, better: bool) -> Condition:
    """The years of a rotation, and who asks for them: kin, or a source for an enemy in the ground.

    ``better`` where fewer years help too, so that this is the next step of one ladder.
    """
    years = later.asked.gap_years or 0.0
    of_kin = found.kin_wait and years == ROTATION_YEARS
    asks = "rotation asks of kin" if of_kin else "a printed rotation asks for"
    lie = "lies" if years == 1 else "lie"
    text = f"{AT_LEAST}{so_many(years, 'year')} {lie} between the two on this ground, as {asks}"
    text = BETTER + text if better else text
    if _waits_for_its_weeks(found, later):
        text += f", and {found.b.name} starts in its own weeks"
    if any(limit.kind == "enemies" for limit in later.limits):
        text += " (what lives longer in the ground may still be there)"
    return Condition("family" if of_kin else "enemies", text, None, None, later.word(), found.word())


def _waits_for_its_weeks(found: Follow, later: Follow) -> bool:
    """Whether the years between also mend a start out of season, which the verdict then counts."""
    mended = any(limit not in later.week_limits for limit in found.week_limits)
    late = found.time.lost >= WORTH_SAYING > later.time.lost
    return found.b.annual and (mended or late or found.time.too_soon)


def _moves_start(found: Follow, limit: Limit) -> bool:
    """Whether what lifts it is to start B in its own weeks; a cover leaves the week as it is."""
    return limit in found.week_limits and limit.moves_week


def notes_of(found: Follow, book: EnemyBook | None) -> tuple[str, ...]:
    notes = []
    if not found.a.annual:
        notes.append(_cleared_note(found))
        if found.a.growth_form.value == "graminoid" and found.asked.use_a == "dug-in":
            notes.append(TURF)
    if not found.b.annual and found.asked.sow_week_b is not None:
        notes.append(
            f"{found.b.name} lasts for years: its week says how long the ground lies free before it is "
            "planted. Whether that week suits planting is not judged; bare roots are planted while at rest."
        )
    if found.time.green is not None:
        notes.append(turned_in_note(found.a, found.b, found.asked.use_a, found.time.green))
    if book is not None:
        notes += [
            f"No list of pests and diseases is on record for {plant.name}: what its kin leave in the ground "
            "stands in."
            for plant in dict.fromkeys((found.a, found.b))
            if not book.listed(plant.id)
        ]
    notes += _waiting_notes(found)
    if not found.b.activity.known:
        notes.append(f"The season of {found.b.name} is not on record; that of plants of its form stands in.")
    if found.b.annual and found.b.raising.value is None and found.time.lost >= WORTH_SAYING:
        notes.append(
            f"Whether {found.b.name} is sown in its place or set out as young plants is not on record: it is "
            "taken as sown. Young plants set out then would lose less."
        )
    return (*notes, NOT_WATER)


def _cleared_note(found: Follow) -> str:
    age = found.asked.age_a_years
    stood = "lasts for years" if age is None else f"stood for {so_many(age, 'year', form='g')}"
    return f"{found.a.name} {stood}: it is taken to be cleared, roots and all, before."


def _waiting_notes(found: Follow) -> list[str]:
    """What is over by the years between, and what both are hosts of that is not judged."""
    by_state = {
        state: [one for one in found.waiting if one.state == state]
        for state in ("gone", "rested", "unjudged")
    }
    notes = []
    if gone := [one.agent.name for one in by_state["gone"]]:
        notes.append(f"The years between are longer than any printed life of: {', '.join(gone)}.")
    if rested := [one.agent.name for one in by_state["rested"]]:
        notes.append(
            f"The years between are as many as a printed rotation asks against: {', '.join(rested)}. "
            "That is no promise that the ground is free of it."
        )
    worms = [one for one in by_state["unjudged"] if one.agent.nematode]
    harmful = [one.agent.name for one in worms if one.second.harm in SUFFERS]
    others = [one.agent.name for one in by_state["unjudged"] if not one.agent.nematode]
    named = [*harmful[:MOST_NAMED], *others]
    rest = [one.agent.name for one in worms if one.agent.name not in harmful[:MOST_NAMED]]
    note = only_named(named, rest)
    return [*notes, *([note] if note else [])]


def _longer(lifting: Condition | None, conditions: Sequence[Condition]) -> str:
    """The next step of a ladder of years, after the first."""
    step = next((c for c in conditions if c.text.startswith(BETTER + AT_LEAST)), None)
    if step is None or lifting is None or not lifting.text.startswith(AT_LEAST):
        return ""
    years = step.text.removeprefix(BETTER + AT_LEAST).partition(" lie")[0]
    return f", and {step.verdict_if_met} with {years}"


def saying_of(
    verdict: Verdict,
    limiting: Limiting | None,
    conditions: tuple[Condition, ...],
    reasons: tuple[Reason, ...],
    sureness: Sureness,
) -> str:
    lifting = next((c for c in conditions if c.verdict_if_met != verdict), None)
    first = f"{verdict}, unless {lifting.text}; then {lifting.verdict_if_met}" if lifting else verdict
    sentences = [f"{first}{_longer(lifting, conditions)}."]
    if limiting is not None:
        sentences.append(limiting.text)
    sentences += [reason.text for reason in reasons if reason.text not in sentences][: 3 - len(sentences)]
    drawn = round(sureness.share_of_draws * 20) * 5
    sentences.append(f"{sureness.word}: {drawn} {TRIALS} with doubtful dates give the same word.")
    return " ".join(text[:1].upper() + text[1:] for text in sentences)
