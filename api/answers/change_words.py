"""Changes between two versions in short sentences: values with their unit, causes, warnings, verdicts.

Numbers are told no finer than a quarter of their doubt (`kb.versions.value_changes.step_of`).
"""

import math
import re
from collections.abc import Callable, Iterable, Sequence

from api.pages.words import AROUND, CAUTION_KIND, MONTHS, THIN, plain, scientific
from kb.mixture.enemies.hosts import ROLES_WORST_FIRST
from kb.mixture.lists.verdict_changes import ENEMIES, DidIt
from kb.model import Adopted, Caution, Confidence, Trait
from kb.statements.enemy_model import EmissionStatement, HostStatement
from kb.versions.changes import CautionChange, HostChange
from kb.versions.value_changes import Cause, ValueChange, step_of

MOST_SOURCES = 3
LONGEST_SOURCE = 60
ARROW = " → "
SCALE = "the trait itself is on record now, and its scale is no longer read"
_AUTHOR = re.compile(r"^([A-ZÀ-Þ][\w'’ -]{1,25}?),? (?:[A-Z]\.?[- ]?){1,4}(?=[,;&( ]|$)(.*)")
_SCALE = re.compile(r"(\d+)-(\d+)")
_YEAR = re.compile(r"^(.{3,90}?\(?(?:1[6-9]|20)\d\d[a-z]?\)?)(?=[\s,.;:)]|$)")
NUMBERS = (
    "no",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
)
CONFIDENCE: dict[Confidence, str] = {
    "high": "well known",
    "medium": "fairly well known",
    "low": "hardly known",
    "contested": "sources disagree",
}
RANK: tuple[Confidence, ...] = ("contested", "low", "medium", "high")
PARTS: dict[str, str] = {
    "family": "the family of {}",
    "kind": "what kind of plant {} is",
    "roots": "how deep {} roots",
    "size": "the size of {}",
    "leaf": "how dense the leaves of {} are",
    "season": "when {} grows",
    "light": "the light that {} needs",
    "nitrogen": "the nitrogen that {} fixes or needs",
    "water": "the water that {} uses",
    "ph": "the soil reaction that {} bears",
    "moisture": "the soil moisture that {} bears",
    "spread": "how {} spreads",
    "support": "how {} climbs",
    "digging": "how deep {} is dug",
    "winter": "how much cold {} bears",
    "flowers": "when {} flowers",
}
EVENTS = {
    "retired": "Retired by two reviewers",
    "gone": "No longer in the files, though nobody retired it",
    "reworded": "Worded anew",
    "back": "In force again",
    "added": "New",
}


def count_words(count: int, one: str, many: str | None = None) -> str:
    """A number and what it counts: "two studies", "1 400 values" up to twelve in words."""
    number = NUMBERS[count] if count < len(NUMBERS) else f"{count:,}".replace(",", " ")
    return f"{number} {one if count == 1 else many or one + 's'}"


def short_source(citation: str) -> str:
    """A citation cut to what names it: first author and year, else its beginning."""
    dated = _YEAR.match(citation)
    if dated is not None:
        return _closed(_first_author(dated[1]))
    first = re.split(r"(?<=\w\w)[.:;] ", citation, maxsplit=1)[0]
    if len(first) <= LONGEST_SOURCE:
        return _closed(first)
    return _closed(first[:LONGEST_SOURCE].rpartition(" ")[0].rstrip(",;")) + " …"


def _first_author(dated: str) -> str:
    """``Zanne, A.E., Tank, D.C. (2014)`` -> ``Zanne and others (2014)``; titles are left as they are."""
    author, year = _AUTHOR.match(dated), re.search(r"\d{4}[a-z]?(?=\)?$)", dated)
    if author is None or year is None:
        return dated
    others = " and others" if re.search(r"[A-ZÀ-Þ][\w'’]*[a-zà-ÿ]", author[2]) else ""
    return f"{author[1]}{others} ({year[0]})"


def _closed(text: str) -> str:
    return text + ")" if text.count("(") > text.count(")") else text


def value_words(trait: Trait, value: Adopted, *, bare: bool = False) -> str:
    """A value with its unit, told as finely as it is known; ``bare`` leaves a unit that follows out."""
    if value.concepts:
        return ", ".join(plain(concept) for concept in value.concepts)
    if trait.kind == "window":
        return _window(value)
    shown = _shower(trait, step_of(trait, value))
    low, likely, high = (None if n is None else shown(n) for n in (value.low, value.likely, value.high))
    ends = [end for end in (low, high) if end is not None]
    if trait.adoption == "tolerated-range" or likely is None:
        if len(ends) == 2:
            return _dressed(" to ".join(dict.fromkeys(ends)), trait, bare=bare)
        word = "at least" if low is not None else "at most"
        return f"{word} {_dressed(ends[0], trait, bare=bare)}" if ends else "no value"
    span = f" ({low} to {high})" if len(set(ends)) == 2 else ""
    return _dressed(likely, trait, bare=bare) + span


def _shower(trait: Trait, step: float | None) -> Callable[[float], str]:
    """How a number of this trait is written in steps of ``step``; shares in per cent."""
    times = 100.0 if (trait.unit_label or "").startswith("share") else 1.0

    def shown(value: float) -> str:
        if not step:
            return f"{value * times:g}"
        size = step * times
        digits = max(0, -math.floor(math.log10(size) + 1e-9))
        text = f"{round(value / step) * size:.{digits}f}"
        return (text.rstrip("0").rstrip(".") if "." in text else text).replace("-", "−")

    return shown


def _dressed(text: str, trait: Trait, *, bare: bool) -> str:
    label = None if trait.unit_label in {None, "1"} else trait.unit_label
    scale = _SCALE.fullmatch(label or "")
    usual = f" {label}" if label else ""
    if scale:  # most such traits name their scale already
        usual = "" if scale[0] in trait.label else f" on the scale from {scale[1]} to {scale[2]}"
    before, after = AROUND.get(label or "", ("", usual))
    return f"{before}{text}{'' if bare else after}".replace(THIN, " ")


def _window(value: Adopted) -> str:
    start, end = value.low, value.high
    if start is not None and end is not None:
        words = dict.fromkeys((_week(start), _week(end)))
        return f"week {' to '.join(words)}"
    if start is not None:
        return f"from week {_week(start)}"
    return "weeks not known" if end is None else f"until week {_week(end)}"


def _week(week: float) -> str:
    whole = min(52, max(1, math.floor(week)))
    return f"{whole} ({MONTHS[min(11, int((whole - 1) * 12 / 52))][:3]})"


def value_sentence(change: ValueChange, source: Callable[[str], str]) -> str:
    """One changed value: what it was, what it is, how sure, and because of what."""
    return f"{_what(change)}{because_words(change.causes, source)}."


def _what(change: ValueChange) -> str:
    trait, before, after = change.trait, change.before, change.after
    label = trait.label[:1].upper() + trait.label[1:]
    if before is not None and after is not None:
        return f"{label}: {_both(change, before, after)}"
    if after is not None:
        return f"{label}, now known: {value_words(trait, after)}"
    return f"{label}, no longer known{f': it was {value_words(trait, before)}' if before else ''}"


def shift_words(change: ValueChange) -> str | None:
    """Old and new value alone, None where it did not move."""
    if change.before is None or change.after is None:
        return None if change.after is None else f", now known: {value_words(change.trait, change.after)}"
    was, now = value_words(change.trait, change.before), value_words(change.trait, change.after)
    return None if was == now else f": {_moved(change.trait, change.before, change.after)}"


def from_words(change: ValueChange, source: Callable[[str], str]) -> str | None:
    """The sources of a value that is known for the first time, None where more is to be said of it."""
    if change.kind != "new" or not change.causes or any(cause.kind != "added" for cause in change.causes):
        return None
    return sources_words([source(key) for cause in change.causes for key in cause.sources])


def _both(change: ValueChange, before: Adopted, after: Adopted) -> str:
    was, now = value_words(change.trait, before), value_words(change.trait, after)
    moved = _moved(change.trait, before, after)
    if change.kind in {"same", "noise"} or was == now:
        said = f"{now}, as before"
    elif change.kind == "narrower":
        said = f"{moved}, less in doubt"
    elif change.kind == "wider":
        said = f"{moved}, more in doubt"
    else:
        said = moved
    sure = sure_words(change)
    return f"{said}; {sure}" if sure else said


def _moved(trait: Trait, before: Adopted, after: Adopted) -> str:
    """Old and new value; a unit that follows is said once."""
    return f"{value_words(trait, before, bare=True)}{ARROW}{value_words(trait, after)}"


def sure_words(change: ValueChange) -> str:
    """Whether it is surer or less sure now, such as "surer (hardly known → well known)"; else empty."""
    if change.confidence is None:
        return ""
    was, now = change.confidence
    if now == "contested":
        return "now sources disagree"
    if was == "contested":
        return f"sources no longer disagree ({CONFIDENCE[now]})"
    word = "surer" if RANK.index(now) > RANK.index(was) else "less sure"
    return f"{word} ({CONFIDENCE[was]}{ARROW}{CONFIDENCE[now]})"


def because_words(causes: Sequence[Cause], source: Callable[[str], str]) -> str:
    """What made a value differ, as the end of a sentence."""
    if not causes:
        return ", because another trait of the plant changes how its records are read"
    return f", because {'; '.join(cause_words(cause, source) for cause in causes)}"


def cause_words(cause: Cause, source: Callable[[str], str]) -> str:
    """One cause as the end of a sentence that begins with "because"."""
    named = _named([source(key) for key in cause.sources])
    records = count_words(len(cause.records), "record")
    one = len(cause.records) == 1
    if cause.kind == "added":
        studies = len(cause.studies)
        return f"{count_words(studies, 'study', 'studies')} {'was' if studies == 1 else 'were'} added{named}"
    if cause.kind == "decided":
        return f"of a decision: {(cause.why or '').rstrip('.')}"
    if cause.kind == "observed":
        return f"{count_words(len(cause.records), 'observation')} of one's own came or went"
    if cause.kind in {"inherited", "own-now"}:
        word = "now" if cause.kind == "inherited" else "no longer"
        return f"it is {word} taken from {scientific(cause.why or '')}"
    if cause.kind == "set-aside":
        why = (cause.why or SCALE).removeprefix("not counted: ")
        return f"{records} no longer {'counts' if one else 'count'}{named}: {why}"
    told = {
        "more-of-study": f"{records} of a study already heard {'was' if one else 'were'} added",
        "counts-now": f"{records} {'counts' if one else 'count'} that did not before",
        "corrected": f"{records} {'says' if one else 'say'} something else now",
        "removed": f"{records} {'is' if one else 'are'} no longer there",
    }
    return told[cause.kind] + named


def _named(sources: Sequence[str]) -> str:
    return f" ({sources_words(sources)})" if sources else ""


def sources_words(sources: Sequence[str]) -> str:
    """At most three sources by name, the rest as a number."""
    names = list(dict.fromkeys(sources))
    more = len(names) - MOST_SOURCES
    return f"{'; '.join(names[:MOST_SOURCES])}{f'; and {more} more' if more > 0 else ''}"


def caution_sentence(change: CautionChange) -> str:
    """One warning, whole, with what became of it."""
    told = change.after or change.before
    if told is None:
        return ""
    was = ""
    if change.event == "reworded" and change.before is not None:
        was = f" Before: {caution_words(change.before)}"
    why = f" Why: {' / '.join(word.rstrip('.') for word in change.why)}." if change.why else ""
    return f"{EVENTS[change.event]}. {caution_words(told)}{was}{why}"


def caution_words(caution: Caution) -> str:
    """All that a warning says: kind, place, words, part, who is at risk, how it was come by."""
    where = ", ".join(part for part in (caution.place, caution.as_of) if part)
    extra = "".join(
        f" {title}: {value}."
        for title, value in (
            ("Part", caution.part),
            ("At risk", caution.group),
            ("Agent", caution.agent),
            ("Looks like", caution.lookalike),
        )
        if value and value not in caution.text
    )
    memory = " Recalled from memory, not checked." if caution.basis == "recalled" else ""
    kind = CAUTION_KIND.get(caution.kind, caution.kind)
    return f"{kind}{f' ({where})' if where else ''}: {caution.text.rstrip('.')}.{extra}{memory}"


def host_words(hosts: Iterable[HostChange]) -> list[str]:
    """Pests, diseases and harmful neighbours that a plant is listed for anew, or no longer."""
    told = list(hosts)
    kinds = (
        (True, False, "No longer listed for"),
        (True, True, "A source fewer on"),
        (False, False, "Now listed for"),
        (False, True, "More sources on"),
    )
    found = []
    for gone, known, title in kinds:
        named = [_host(t) for t in told if (t.gone, t.known) == (gone, known)]
        if named:
            found.append(f"{title}: {'; '.join(named)}.")
    return found


def _host(change: HostChange) -> str:
    if change.known:
        return change.name
    roles = {said.role for said in change.said if isinstance(said, HostStatement)}
    role = next((role for role in ROLES_WORST_FIRST if role in roles), None)
    if role is not None:
        host = " host" if role in {"main", "side", "alternate"} else ""
        return f"{change.name} ({plain(role) if role != 'non-host' else 'not a host'}{host})"
    listed = sorted({said.listed_as for said in change.said if isinstance(said, EmissionStatement)})
    return f"{change.name} (listed as {' and '.join(listed)})"


def did_it_words(told: DidIt, name: str) -> str:
    """What changed a verdict: "how deep garlic roots"."""
    return "the lists of pests and diseases" if told.part == ENEMIES else PARTS[told.part].format(name)
