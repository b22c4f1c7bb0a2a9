"""How sure an answer is, in one sentence, and what to look up."""

from collections.abc import Iterable

from kb.mixture.judging.lent_words import NO_LIST
from kb.mixture.judging.unknowns import not_on_record, season_that_decides
from kb.mixture.profile import Profile
from kb.mixture.results import Sureness

TRIALS, CHANGES_MOST, RULE = "% of trials", "would change it most", "a rule decides"
"""Words by which a saying tells how often the draws agree, what to check, and that no draw moves it."""
ALL_AGREE = 0.975
"""Share of draws from which all are said to agree, so that nothing that is checked would change the word."""
MOST_AGREE = 65
"""Per cent of draws from which doubtful values are not what makes an answer unsure."""
HALF = 0.5
"""Share of draws below which the words of the others are said too."""
TRAIT_WORDS = {
    "effective-rooting-depth": "root depth",
    "mature-height": "height",
    "leaf-area-index": "leaf area",
    "growth-window": "season",
    "light-to-crop": "light needed to crop",
    "water-use": "water use",
    "nitrogen-uptake": "nitrogen uptake",
    "harvest-disturbance": "depth dug at harvest",
}


def sureness_sentence(
    sureness: Sureness, missing: tuple[str, ...], profiles: Iterable[Profile], *, certain: bool = False
) -> str:
    """How sure, and what to look up; ``missing`` is what makes it unsure.

    ``certain`` where a rule forbids it whatever is not on record (`settled`).
    """
    named = list(profiles)
    drawn = round(sureness.share_of_draws * 20) * 5
    if missing and drawn >= MOST_AGREE:
        return f"{sureness.word}: {missing[0][:1].lower()}{_in_short(missing[0])}"
    trials = f"{drawn} {TRIALS} with doubtful values give the same word"
    rests_on = season_that_decides(named, sureness.deciding_trait, sureness.of)
    unrecorded = not_on_record(named, rests_on)
    if certain:
        unrecorded = None
    if sureness.share_of_draws < HALF and sureness.others:
        parts = 5 * round(20 * sureness.commonest)
        of_it = f" ({parts} %)" if parts > drawn and len(sureness.others) > 1 else ""
        first, *more = sureness.others
        trials += f", the rest {' or '.join([first + of_it, *more])}"
    said = f"{sureness.word}: {trials}"
    if sureness.by_rule and drawn >= MOST_AGREE:
        thin = ", though little is on record of what it rests on" if sureness.thin else ""
        said = f"{sureness.word}: {RULE}, which no doubtful value moves{thin}"
    elif rests_on is not None and unrecorded is not None:
        return f"{sureness.word}: {unrecorded}, and {trials}."
    if unrecorded is not None:
        return f"{said}, and {unrecorded}."
    moves = sureness.word != "sure" and sureness.share_of_draws < ALL_AGREE
    if moves and sureness.deciding_trait is not None and sureness.of is not None:
        trait = TRAIT_WORDS[sureness.deciding_trait]
        name = next(profile.name for profile in named if profile.id == sureness.of)
        said += f"; the {trait} of {name} {CHANGES_MOST}"
    return f"{said}."


def _in_short(missing: str) -> str:
    """What is missing, without its first letter; whose list stands in is left to the notes."""
    said, _, whose = missing[1:].partition(": ")
    return (
        f"{said} (the notes say whose stands in)." if missing.startswith(NO_LIST) and whose else missing[1:]
    )
