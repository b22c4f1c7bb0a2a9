"""Plants that run through their neighbours: how far, by which organ, and what holds them back.

The organ gives the words and the remedy (common practice): rhizomes, tubers and suckers meet a barrier in
the ground, 30 cm deep, 60 cm for tall canes (`trade` J22, from memory); runners and rooting shoots go over
it and are cut; what seeds itself is pulled. Labour that comes every year caps at workable
(`computation-notes` 3).
"""

from kb.mixture.bodies.borne import (
    CANES,
    OVERTOPS_M,
    comes_first,
    comes_up_among,
    established,
    holds_its_own,
    lives_below,
    overtops,
    stands_over,
)
from kb.mixture.bodies.manner import CARPET_M, Spread, manner_of
from kb.mixture.bodies.pieces import MANNERS, grows_from_pieces, is_forked
from kb.mixture.limits import Limit, Meeting, OtherWay, Party, records_of
from kb.mixture.profile import Profile
from kb.mixture.results import Verdict

OVERRUN_HEIGHT = 2.0
"""A neighbour under this many times the spreader's height is over-run (`trade` 4.13)."""
REACHES_DRAW = 0.1
"""A tree's suckers come up where its root draw is at least this (judgement)."""
WET_CLASS = 8.5
"""Ground so moist (of 12) stands in water for a time: no barrier is sunk there (judgement: the word wet)."""
BARRIER_CM, TALL_BARRIER_CM = 30, 60
"""Depth of a barrier in the ground: mint, bamboo (`trade` J22)."""

KEEP_PLACE = frozenset({"tap", "primary-root", "bulb", "corm"})
"""Root forms that do not travel by themselves."""
TRAVELLERS = ("rhizome", "suckering", "stolon", "tuber", "bulb")
"""Organs by which plants come up elsewhere; where several are named, the first of these counts."""
OF_FORM = {"tree": "suckering", "shrub": "suckering", "cane": "suckering", "climber-woody": "stolon"}
"""How plants of a form travel where no organ is on record: woody climbers root where they touch ground."""
ARCHES = "stolon"
"""How canes that scramble travel where no organ is on record: they arch over and root at their tips (fruit
handbooks on brambles), whatever the upright canes of their genus do."""
IN_THE_WAY_M = 0.9
"""A thicket this high, half a man's height, keeps pickers and mowers from the foot of a tree (judgement)."""
IN_GROUND = frozenset({"rhizome", "suckering", "tuber", None})
"""What a barrier in the ground holds; it is offered too where the organ is not known. Roots of trees go
below any: their suckers are mown."""


def overrun(doer: Party, sufferer: Party, meeting: Meeting) -> Limit | None:
    """Whether the doer over-runs the sufferer: an invader shuts it out, a runner makes yearly work.

    A small shrub that stands above it is not over-run, but what comes up among its branches has to be pulled.

    In a row of hedge how each spreads counts and not how high it would grow (`_in_a_row`). A carpet of
    runners in a lasting sward is wanted, and mowing keeps both: in one of grasses, and in one that is mown.
    """
    spread = manner_of(doer)
    if spread is None or doer.local < REACHES_DRAW:
        return None
    row = meeting.setting == "hedge" and doer.profile.woody and sufferer.profile.woody
    if row and _stands_alone(doer.profile):
        return _in_a_row(doer, sufferer, meeting, spread)
    low = sufferer.height_m < OVERRUN_HEIGHT * doer.height_m
    among = comes_up_among(doer, sufferer)
    if sufferer.overhead or not (sufferer.profile.annual or low or among):
        return _in_the_way(doer, sufferer, meeting, spread)
    records = records_of(spread.records, doer.profile.travels_by.records, sufferer.profile.height_m.records)
    if row:
        text = _stated(_takes_the_row(doer, sufferer), doer, spread)
        return _mown_row(text, sufferer, meeting, records, check=not spread.known)
    bears = (
        (among and not low)
        or holds_its_own(doer, sufferer)
        or established(doer, sufferer)
        or lives_below(doer, sufferer)
        or comes_first(doer, sufferer, meeting)
    )
    shut_out = spread.manner == "invades" or overtops(doer, sufferer)
    if not bears and (shut_out or stands_over(doer, sufferer)):
        ceiling: Verdict = "avoid" if shut_out else "poor"
        return _shut_out(doer, sufferer, meeting, spread, records, ceiling=ceiling)
    return _yearly_work(doer, sufferer, meeting, spread, records)


def _in_a_row(doer: Party, sufferer: Party, meeting: Meeting, spread: Spread) -> Limit | None:
    """In a hedge of two that stand by themselves: shears level them, so what spreads more takes the row.

    What comes up beside the row is mown, which is usual (hedge-laying manuals: blackthorn). One that spreads
    as much holds its place. A manner that is not on record only asks.
    """
    own = manner_of(sufferer)
    if own is not None and own.known and MANNERS.index(own.manner) >= MANNERS.index(spread.manner):
        return None
    records = records_of(spread.records, doer.profile.travels_by.records)
    if not spread.known:
        runner, other = doer.profile.name, sufferer.profile.name
        text = (
            f"{runner} may sucker into the row of {other}: {spread.why}, and how it spreads is not on record."
        )
        return Limit(
            kind="spread",
            of=sufferer.profile.id,
            text=text,
            records=records,
            ceiling="good",
            ask=True,
        )
    return _mown_row(f"{_takes_the_row(doer, sufferer)}.", sufferer, meeting, records, check=False)


def _takes_the_row(doer: Party, sufferer: Party) -> str:
    runner, other = doer.profile.name, sufferer.profile.name
    if doer.profile.travels_by.value == "stolon":
        return f"{runner} roots where it touches the ground, and would take the row from {other} in time"
    return f"{runner} suckers, and would take the row from {other} in time"


def _mown_row(
    text: str, sufferer: Party, meeting: Meeting, records: tuple[str, ...], *, check: bool
) -> Limit:
    return Limit(
        kind="spread",
        of=sufferer.profile.id,
        text=text,
        records=records,
        ceiling="workable",
        lift="the foot of the hedge is mown on both sides every year",
        given="mown",
        met=meeting.met("mown"),
        check=check,
    )


def _stands_alone(profile: Profile) -> bool:
    """Whether it is no climber or scrambler: what leans on its neighbours over-runs them by its height."""
    climber = (profile.growth_form.value or "").startswith("climber")
    return not climber and profile.support_mode.value in {None, "none"}


def _in_the_way(doer: Party, tree: Party, meeting: Meeting, spread: Spread) -> Limit | None:
    """Whether a thicket closes round a tree that is picked: it harms nothing but the way to it."""
    picked = tree.profile.growth_form.value == "tree" and tree.profile.picked.value == "yes"
    thicket = spread.manner == "invades" and doer.height_m >= IN_THE_WAY_M
    climbs = (doer.profile.growth_form.value or "").startswith("climber")
    if not (picked and thicket) or climbs or doer.profile.growth_form.value == "tree":
        return None
    runner, other = doer.profile.name, tree.profile.name
    text = f"{runner} spreads fast and closes round {other}: it hinders picking, pruning and mowing"
    return Limit(
        kind="spread",
        of=tree.profile.id,
        text=_stated(text, doer, spread),
        records=records_of(spread.records, doer.profile.height_m.records),
        ceiling="poor",
        lift=_cutting(doer),
        given="mown",
        met=meeting.met("mown"),
        ceiling_if_lifted="workable",
        check=not spread.known,
    )


def _shut_out(
    doer: Party,
    sufferer: Party,
    meeting: Meeting,
    spread: Spread,
    records: tuple[str, ...],
    *,
    ceiling: Verdict = "avoid",
) -> Limit:
    runner, other = doer.profile.name, sufferer.profile.name
    organ = doer.profile.travels_by.value
    words = {
        "stolon": f"{runner} roots fast where its shoots touch the ground and over-runs {other}",
        "suckering": f"{runner} suckers far from its foot and over-runs {other}",
        "tuber": f"{runner} comes up from every tuber left in the ground and over-runs {other}",
        "bulb": f"{runner} over-runs {other} by seed and by offsets",
    }
    text = words.get(organ or "", f"{runner} spreads fast underground and over-runs {other}")
    if spread.manner != "invades":
        tall = f"about {doer.height_m:.2g} m tall"
        text = f"{runner} runs, stands {tall} and overtops {other} wherever it comes up"
    fenced, mown = _fenced(doer, meeting), meeting.met("mown")
    if mown and not meeting.met("barrier"):
        fenced = False
    if not fenced and mown:
        text = f"{_cutting(doer)}: else it over-runs {other}"
    return Limit(
        kind="spread",
        of=sufferer.profile.id,
        text=_stated(text, doer, spread),
        records=records,
        ceiling=ceiling,
        lift=_barrier(doer) if fenced else _cutting(doer),
        given="barrier" if fenced else "mown",
        met=meeting.met("barrier" if fenced else "mown"),
        ceiling_if_lifted="good" if fenced else "workable",
        check=not spread.known,
        other_way=OtherWay(_cutting(doer), "mown", "workable")
        if fenced and not meeting.met("barrier")
        else None,
    )


def _yearly_work(
    doer: Party, sufferer: Party, meeting: Meeting, spread: Spread, records: tuple[str, ...]
) -> Limit:
    runner, other = doer.profile.name, sufferer.profile.name
    organ, beneath = doer.profile.travels_by.value, _beneath(doer, sufferer)
    grass = sufferer.profile.growth_form.value == "graminoid" and not sufferer.profile.annual
    in_pieces = grows_from_pieces(doer.profile) and is_forked(sufferer.profile)
    sward = (beneath and grass) or (_creeps(doer) and in_a_mown_sward(doer, sufferer, meeting))
    words = {
        "stolon": f"{runner} roots its way into {other}: it has to be cut back every year",
        "rhizome": f"{runner} runs into {other} by rhizomes: they have to be cut back every year",
        "suckering": f"{runner} suckers into {other}: the suckers have to be pulled or mown every year",
        "tuber": f"{runner} comes up in {other} from tubers left behind: they have to be dug out every year",
        "bulb": f"{runner} comes up in {other} from seed and offsets: they have to be pulled every year",
    }
    text = words.get(organ or "", f"{runner} runs into {other}: it has to be cut back every year")
    if sward:
        text = f"{runner} runs through {other}: in a sward that is wanted, and mowing keeps both"
    elif sufferer.profile.growth_form.value == "tree" and organ != "stolon":
        text = f"{runner} runs in under {other}: what comes up has to be mown every year"
    elif in_pieces:
        left = "tubers are left behind" if organ == "tuber" else "pieces are left behind"
        text = (
            f"{runner} comes up all through {other}: lifting {other} each year scatters it, some {left} at "
            "every digging, and each grows again"
        )
    elif beneath:
        text = f"{runner} covers the ground under {other}: it has to be cut back where it crowds {other}"
    fenced = _fenced(doer, meeting)
    return Limit(
        kind="spread",
        of=sufferer.profile.id,
        text=_stated(text, doer, spread),
        records=records,
        ceiling="good" if sward else "poor" if in_pieces else "workable",
        lift=_barrier(doer) if fenced else None,
        given="barrier" if fenced else None,
        met=meeting.met("barrier") if fenced else None,
        check=not spread.known,
    )


def _beneath(doer: Party, sufferer: Party) -> bool:
    """Whether it creeps over the ground below the leaves of the other."""
    return _creeps(doer) and sufferer.height_m > doer.height_m


def _creeps(doer: Party) -> bool:
    """Whether it roots along the ground and stays low."""
    return doer.profile.travels_by.value == "stolon" and doer.height_m <= CARPET_M


def in_a_mown_sward(one: Party, other: Party, meeting: Meeting) -> bool:
    """Whether two lasting herbs or grasses stand in a bed that is said to be mown: a ley, a meadow, a lawn.

    The mower goes over all of it and levels it: no root is dug there, and a carpet of runners between the
    others is what such seed is sown for (advice on herbal leys; common practice).
    """
    lasting = not any(party.profile.woody or party.profile.annual for party in (one, other))
    return lasting and meeting.setting == "bed" and meeting.met("mown") is True


def _fenced(doer: Party, meeting: Meeting) -> bool:
    tree, wet = doer.profile.growth_form.value == "tree", meeting.site.moisture >= WET_CLASS
    return doer.profile.travels_by.value in IN_GROUND and not (tree or wet)


def _barrier(doer: Party) -> str:
    tall = doer.height_m > OVERTOPS_M and (doer.profile.woody or doer.profile.growth_form.value in CANES)
    if tall:
        return f"{doer.profile.name} stands inside a barrier sunk {TALL_BARRIER_CM} cm deep"
    return f"{doer.profile.name} stands inside a barrier sunk {BARRIER_CM} cm deep, or in a pot"


def _cutting(doer: Party) -> str:
    return f"what {doer.profile.name} sends out is cut or mown off all through its season"


def _stated(text: str, doer: Party, spread: Spread) -> str:
    """A sentence; one on a value that stands in for a missing record says so."""
    if spread.known:
        return f"{text}."
    return f"{text} (check first: how {doer.profile.name} spreads is not on record, but {spread.why})."
