"""The answer in words: verdict, what limits it, the best it brings, what would change it, how sure.

At most five sentences for a reader of 12 to 14; numbers rounded to 5; nothing said without the
records it rests on where there are any. The words are made from the same verdict and losses as the
numbers, so the two cannot disagree.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from kb.mixture.answers import reasons
from kb.mixture.answers.site_notes import idle_words, site_notes
from kb.mixture.answers.sureness_words import HALF, sureness_sentence
from kb.mixture.bodies.uncut_hedge import even_row
from kb.mixture.deeds import told
from kb.mixture.judging.findings import Findings, Held, SetApart
from kb.mixture.judging.harm_notes import harm_notes
from kb.mixture.judging.unknowns import (
    IMMOBILE,
    not_computed,
    settled,
    stand_ins,
    why_check,
)
from kb.mixture.limits import Limit, deed, same_lift, worst
from kb.mixture.results import Condition, Limiting, Reason, Sureness
from kb.mixture.said_once import said_once, shape_of
from kb.mixture.sharing.light_words import WORTH_SAYING

LIGHT_TRAITS = "light-"
"""How the names of the traits begin that say what light a plant wants."""
MOST_REASONS = 3
MOST_GIVEN = 3
"""So many of the things a verdict is given on are said in its sentence."""
BY_ITSELF = "each by itself is "
"""Said before the word on two plants that no longer stand together."""
NOT_ENOUGH_ALONE = "that alone is not enough"
ALL_OF_IT = "all of this is done"
MOST_TOGETHER = 5
"""So many deeds are named that lift a verdict only together; the others are in the conditions."""
SO_MANY = {2: "two", 3: "three"}
MAY_BE: dict[str, str] = {"avoid": "may have to be avoided"}
"""How a word is said that fewer than half of the tries gave, where "may be" before it is no English."""
NOTHING_AGAINST = "Nothing of weight stands against it."
CARE_WORDS = {
    "irrigated": "the ground is watered in dry weeks",
    "fed": "the ground is fed (compost, manure or fertiliser) as far as local rules allow",
}
"""What a gardener may give the ground, as a condition."""
LIKE = "Like with like: nothing gained or lost; keep to its own spacing."
LIKE_KINDS = (
    "Like with like: nothing gained or lost, since they are of one species. Each keeps to its own spacing; "
    "they share every pest and disease and count as one crop in the rotation."
)
"""The same of two kinds of one species, cabbage and cauliflower (common teaching of rotation)."""


@dataclass(frozen=True, slots=True)
class Explained:
    """The wordy parts of a `PairAnswer`."""

    limiting: Limiting | None
    conditions: tuple[Condition, ...]
    benefits: tuple[Reason, ...]
    reasons: tuple[Reason, ...]
    notes: tuple[str, ...]
    saying: str
    best: Reason | None = None


def explained(findings: Findings, sureness: Sureness, missing: tuple[str, ...] = ()) -> Explained:
    """Put what was found into words; ``missing`` is what makes it unsure."""
    limiting = reasons.limiting(findings)
    benefits = () if findings.verdict == "like" else reasons.benefits(findings)
    conditions = conditions_of(findings)
    notes = stand_ins(findings.in_order, findings.two.same)
    if findings.verdict == "like":
        like = LIKE if findings.a.profile.id == findings.b.profile.id else LIKE_KINDS
        return Explained(None, (), (), (Reason("family", like, findings.kin.records),), notes, like)
    said = _reasons(findings, limiting, benefits, sureness)
    best = _best(findings, benefits)
    return Explained(
        limiting=limiting,
        conditions=conditions,
        benefits=benefits,
        reasons=said,
        notes=(
            *_whys(findings, {reason.text for reason in said}),
            *notes,
            *site_notes(findings),
            *idle_words(findings.place.given, findings.limits),
            *harm_notes(findings),
            IMMOBILE,
            not_computed(book=findings.harm.enemies is not None),
        ),
        saying=_saying(findings, limiting, best, sureness, missing),
        best=None if findings.verdict in {"poor", "avoid"} else best,
    )


def conditions_of(held: Held, *, most: int | None = None) -> tuple[Condition, ...]:
    """What would change the verdict, and to what; a check comes before what lifts.

    Of at most so many limits, the hardest, where ``most`` says so.
    """
    found = []
    for limit in held.limits[:most]:
        if_met = held.verdict_with(limit, lifted=True)
        if_not = held.verdict_with(limit, lifted=False)
        if limit.unproved:
            text = f"{why_check(limit)}: {_inline(limit.text)}"
            found.append(Condition(limit.kind, text, None, None, if_met, if_not))
        elif limit.question is not None:
            found.append(Condition(limit.kind, limit.question, None, None, if_met, if_not))
        if limit.lift is not None:
            text, done = deed(held.limits, limit, most=MOST_GIVEN), held.verdict_done(limit)
            found.append(Condition(limit.kind, text, limit.given, limit.met, done, if_not))
        if limit.other_way is not None and (second := _by_other_way(held, limit)) is not None:
            found.append(second)
    # What two limits of different kinds ask alike is said once.
    said: dict[tuple[object, ...], Condition] = {}
    for one in (*found, *_care(held)):
        asked = (one.text, one.given, one.met, one.verdict_if_met, one.verdict_if_unmet)
        said.setdefault(asked, one)
    return tuple(said.values())


def _by_other_way(held: Held, limit: Limit) -> Condition | None:
    """What else may be done instead, where that changes the verdict."""
    swapped = {id(one): one.by_other_way() for one in held.limits if one.other_way == limit.other_way}
    there = replace(held, limits=tuple(swapped.get(id(one), one) for one in held.limits))
    way = swapped[id(limit)]
    if_met, if_not = (there.verdict_with(way, lifted=lifted) for lifted in (True, False))
    if if_met == if_not or way.lift is None:
        return None
    return Condition(way.kind, f"or {way.lift}", way.given, None, if_met, if_not)


def _care(held: Held) -> list[Condition]:
    """Water or feeding that changes the verdict, where no limit asks for it."""
    if held.one_kind:
        return []
    asked = {limit.given for limit in held.limits}
    return [
        Condition("roots", text, word, None, held.again[word], held.verdict)
        for word, text in CARE_WORDS.items()
        if word in held.again
        and word not in asked
        and worst(held.again[word], held.verdict) != held.again[word]
    ]


def _reasons(
    findings: Findings, limiting: Limiting | None, benefits: tuple[Reason, ...], sureness: Sureness
) -> tuple[Reason, ...]:
    """At most three: what limits, the best benefit, and what else tells most.

    Light is always among them where a plant loses a share of its crop by it that is worth a word, or where
    a light trait would change the answer most.
    """
    wanted: list[Reason | None] = []
    if limiting is not None:
        wanted.append(Reason(limiting.kind, limiting.text, limiting.records))
    stated = tuple(limit for limit in findings.limits if not limit.ask)
    wanted += [*reasons.limit_reasons(stated[:1])]
    wanted += [reasons.enemies_beside(findings), *benefits[:1], reasons.merit(findings)]
    wanted += [
        None if findings.out_of_reach else reasons.roots(findings),
        reasons.light(findings),
        reasons.season(findings),
        reasons.enemies(findings) or reasons.family(findings),
    ]
    said: dict[str, Reason] = {}
    for reason in wanted:
        if reason is not None and reason.text not in said:
            said[reason.text] = reason
    decides = (sureness.deciding_trait or "").startswith(LIGHT_TRAITS)
    return reasons.with_light(tuple(said.values()), findings, MOST_REASONS, decides=decides)


def _whys(findings: Findings, said: set[str]) -> list[str]:
    """Why a condition is one, where its reason is not among those that are told."""
    return [
        f"{capital(limit.text.rstrip('.'))}: hence the condition that {limit.lift}."
        for limit in findings.limits
        if limit.lift is not None and not limit.ask and limit.met is None and limit.text not in said
    ]


def _best(findings: Findings, benefits: tuple[Reason, ...]) -> Reason | None:
    """The best that the two bring each other, or why nothing much is lost; None where there is neither."""
    # Flowers are a gift to the garden, not what makes two plants fit: said first only where nothing else is.
    # Nitrogen that is a small part of what is wanted does not make them fit either.
    given = [found for found in benefits if found.kind != "flowers"]
    small = reasons.small_gifts(findings)
    best = next((found for found in given if found not in small), None)
    if best is None and findings.place.setting == "hedge":
        # Kinds alike in vigour, and flowers one after the other, make a hedge (`trade` 5.4).
        flowers = next((found for found in benefits if found.kind == "flowers"), None)
        best = even_row(*findings.profiles) or flowers
    return best or reasons.merit(findings)


def _saying(
    findings: Findings,
    limiting: Limiting | None,
    best: Reason | None,
    sureness: Sureness,
    missing: tuple[str, ...],
) -> str:
    sentences = [verdict_sentence(findings, sureness)]
    sentences += opened(findings, limiting, best, best)
    lost = reasons.light(findings) if float(findings.felt.light[0].max()) >= WORTH_SAYING else None
    told_of_light = limiting is not None and limiting.kind == "light"
    if lost is not None and findings.verdict != "avoid" and not told_of_light:
        sentences.append(lost.text)
    other = other_condition(findings)
    if other is not None:
        sentences.append(other)
    certain = settled(findings.limits)
    sentences.append(sureness_sentence(sureness, missing, findings.in_order, certain=certain))
    return " ".join(capital(sentence) for sentence in sentences)


def opened(held: Held, against: Limiting | None, merit: Reason | None, best: Reason | None) -> list[str]:
    """What stands against them and the best of them, where there is any.

    Of a good one what is felt comes last, and so does kinship alone, which is a guess beside what is known. A
    merit is no comfort to what is poor or to avoid: there it stands among the benefits alone.
    """
    if held.verdict == "good" and not held.holding:
        after = [] if against is None else [against.text]
        return [merit.text if merit is not None else NOTHING_AGAINST, *after]
    if held.verdict in {"poor", "avoid"} and against is not None:
        return [against.text]
    if against is not None and against.kind == "family" and merit is not None:
        return list(dict.fromkeys((merit.text, against.text)))
    return list(dict.fromkeys(one.text for one in (against, best) if one is not None))


def verdict_sentence(held: Held, sureness: Sureness | None = None) -> str:
    """Say the verdict and what it hangs on, such as "avoid, unless ...; then good".

    A word that fewer than half of the tries gave is one that may be.
    """
    word: str = held.verdict
    drawn = sureness is not None and (sureness.share_of_draws > 0 or bool(sureness.others))
    if sureness is not None and drawn and sureness.share_of_draws < HALF:
        word = MAY_BE.get(held.verdict, f"may be {held.verdict}") + _rather(sureness)
    lifting = _first_lifting(held)
    if lifting is not None:
        return f"{word}{_way_out(held, lifting)}."
    care = _care(held) if not held.holding else []
    if care:
        return f"{word}, unless {care[0].text}; then {care[0].verdict_if_met}."
    easy = [limit.lift for limit in held.limits if limit.lift and limit.lifted and _matters(held, limit)]
    return (
        f"{word}, given that {told(easy, most=MOST_GIVEN, others='more (see the conditions)')}."
        if easy
        else f"{word}."
    )


def _rather(sureness: Sureness) -> str:
    """The word that more of the tries gave, where one did; empty where none did."""
    if sureness.commonest <= sureness.share_of_draws or not sureness.others:
        return ""
    return f", in more of the trials {sureness.others[0]}"


def _way_out(held: Held, first: Limit) -> str:
    """What lifts the verdict and to what: the first thing alone, else all that stand in the way together.

    Where one of them cannot be lifted, no way is named.
    """
    in_way = [one for one in held.holding if not one.lifted and not _matters(held, one)]
    # Setting apart does alone what several deeds would do only together.
    for one in (first, *(other for other in in_way if other.apart is not None)):
        then = held.verdict_done(one)
        if then != held.verdict:
            parted = one.apart is not None and one.apart.from_trunk_m is None
            who = BY_ITSELF if parted and isinstance(held, Findings) else ""
            return f", unless {deed(held.limits, one, most=MOST_GIVEN)}; then {who}{then}"
    if any(one.lift is None for one in in_way):
        count = len({one.lift or one.text for one in in_way})
        return f": {SO_MANY.get(count, 'several')} things stand against it" if count > 1 else ""
    if not any(one.given in held.again for one in in_way):
        gone = frozenset(one.apart for one in in_way if one.apart is not None)
        there = held.set_apart(gone) if gone else None
        then = (there or SetApart(held.eased, held.limits)).word(in_way)
        if then != held.verdict:
            lifts = [one.lift for one in held.limits if one.lift and any(same_lift(one, o) for o in in_way)]
            return f", unless {ALL_OF_IT}: {told(lifts, most=MOST_TOGETHER)}; then {then}"
    return f", unless {deed(held.limits, first, most=MOST_GIVEN)}; {NOT_ENOUGH_ALONE}"


def other_condition(held: Held, names: Iterable[str] = ()) -> str | None:
    """What is taken for granted beside what lifts, or the second thing that holds them back.

    Of a planting, the plants by ``names``: the same done to another of them is no second thing.
    """
    if _first_lifting(held) is not None:
        easy = (limit for limit in held.limits if limit.hard and limit.lifted and limit.met is None)
        taken = next((limit.lift for limit in easy if limit.lift and _matters(held, limit)), None)
        if taken is not None:
            return f"It is taken that {taken}."
    rest = [limit for limit in held.holding if limit is not _first_lifting(held)]
    rest = [limit for limit in rest if limit is not held.holding[0]]
    known = list(names)
    if rest and known:
        first = shape_of(held.holding[0].text, known)
        rest = [limit for limit in rest if shape_of(limit.text, known) != first]
    return all_like_first(rest, known) if rest else None


def all_like_first(limits: Sequence[Limit], names: Iterable[str]) -> str:
    """The first of some limits, with all the plants to whom the same is done."""
    return said_once([limit.text for limit in limits], names)[0][0]


def _first_lifting(held: Held) -> Limit | None:
    """What would lift the verdict: of the hardest limit, since it alone says the limiting reason."""
    first = held.holding[0] if held.holding else None
    return first if first is not None and first.lift is not None and not first.lifted else None


def _matters(held: Held, limit: Limit) -> bool:
    """Whether the verdict would be lower if this one were not lifted."""
    return worst(held.verdict, limit.ceiling) != held.verdict


def _inline(text: str) -> str:
    return text.rstrip(".")


def capital(text: str) -> str:
    return text[:1].upper() + text[1:]
