"""Cautions, in the order a person needs them, before any merit.

They are joined, never averaged, and never left out by a score. A plant without one gets the words
that this is not the same as safe. ``audience`` puts first what matters to it and adds stricter
words; ``place`` leaves out rules of other places and says how many.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from api.places import codes_of, holds_in
from kb.mixture.counting import so_many
from kb.mixture.site import Audience
from kb.model import Caution, Plant, PlantId, SourceKey
from kb.snapshot import Snapshot
from kb.statements.search_model import Search

NONE_ON_RECORD = "No caution on record; that is not the same as safe."
LAW_KINDS = ("prohibited", "invasive")

ORDER: dict[Audience, tuple[str, ...]] = {
    "household": (
        "prohibited",
        "lookalike",
        "toxic",
        "food-use",
        "skin",
        "allergen",
        "thorn",
        "invasive",
        "livestock",
    ),
    "school": (
        "toxic",
        "lookalike",
        "skin",
        "allergen",
        "thorn",
        "food-use",
        "prohibited",
        "invasive",
        "livestock",
    ),
    "public": (
        "toxic",
        "lookalike",
        "skin",
        "thorn",
        "allergen",
        "food-use",
        "prohibited",
        "invasive",
        "livestock",
    ),
    "livestock": (
        "livestock",
        "toxic",
        "prohibited",
        "invasive",
        "lookalike",
        "food-use",
        "skin",
        "allergen",
        "thorn",
    ),
}
"""What each audience needs to hear first (our judgement)."""

STRICTER: dict[Audience, dict[str, str]] = {
    "household": {},
    "school": {
        "toxic": "On school ground: keep out of children's reach, or choose another plant.",
        "lookalike": "On school ground: plant labelled stock only, and let no child gather it.",
        "skin": "On school ground: keep away from paths and play; gloves and an adult for every handling.",
        "allergen": "On school ground: ask about allergies before anyone handles or tastes it.",
        "thorn": "On school ground: keep away from paths and play.",
        "food-use": "On school ground: nothing is tasted without the school's leave.",
    },
    "public": {
        "toxic": "On public ground: anyone may pick it; sign it or choose another plant.",
        "lookalike": "On public ground: label it; people will pick by likeness.",
        "skin": "On public ground: keep an arm's length from paths and seats.",
        "thorn": "On public ground: keep an arm's length from paths and seats.",
        "allergen": "On public ground: say on the sign that it can cause allergy.",
        "food-use": "On public ground: say on the sign what must not be eaten, and how.",
    },
    "livestock": {
        "toxic": "With animals: fence it off until a vet or keeper has judged it.",
        "livestock": "With animals: fence it off, and keep prunings and windfalls from them.",
    },
}
"""Words added to a caution for an audience that cannot be relied on to know better."""

SITE_WORK = (
    "Before you dig: have buried cables and pipes located; do not rely on this answer for where they are.",
    "Keep digging shallow under a tree: cut roots harm it, and roots of neighbours' trees count too.",
    "The tree may be protected, and local rules hold over anything said here: ask your authority first.",
    "Near buildings, or if the tree looks unsound, ask a licensed arborist; nothing here judges a tree.",
)
"""The usual words for work under a tree (our wording of common practice)."""


@dataclass(frozen=True, slots=True)
class Reader:
    """For whom, and where, the cautions are told."""

    audience: Audience = "household"
    place: str | None = None


def applies(caution: Caution, place: str | None) -> bool:
    """Whether a rule of law may hold where the plants stand.

    An unknown place means: show it; so does a rule whose place is not understood.
    """
    if caution.kind not in LAW_KINDS or place is None or caution.place is None:
        return True
    codes = codes_of(caution.place)
    return codes is None or any(holds_in(code, place) for code in codes)


def plant_cautions(snapshot: Snapshot, plant: PlantId, reader: Reader) -> list[dict[str, object]]:
    """The cautions of one plant, in order; never empty. Each is kept with the version and not written to."""
    kept: list[dict[str, object]] = snapshot.told.of(
        (), ("cautions", plant, reader), lambda: _plant_cautions(snapshot, plant, reader)
    )
    return list(kept)


def _plant_cautions(snapshot: Snapshot, plant: PlantId, reader: Reader) -> list[dict[str, object]]:
    order = ORDER[reader.audience]
    held = [c for c in snapshot.cautions(plant) if applies(c, reader.place)]
    ranked = sorted(held, key=lambda c: (order.index(c.kind), c.id))
    if ranked:
        return [_caution(snapshot, plant, caution, reader) for caution in ranked]
    return [{**_no_caution(plant), "text": f"{NONE_ON_RECORD} {searched_words(snapshot, plant)}"}]


def searched_words(snapshot: Snapshot, plant: PlantId) -> str:
    """Whether, when and how far anybody looked for cautions."""
    searches = snapshot.searches(plant)
    if not searches:
        return "Not searched yet."
    last = searches[0]
    looked = f"{so_many(len(last.queries), 'query', 'queries')}, {so_many(len(last.pages), 'page')} read"
    came = "nothing found" if last.outcome == "nothing-found" else "something found"
    noted = f" ({last.note})" if last.note and last.outcome == "nothing-found" else ""
    return f"Searched on {last.searched_on.isoformat()} ({looked}): {came}{noted}."


def search_dict(search: Search) -> dict[str, object]:
    """One dated search: what was asked, what was read, what came of it."""
    return {
        "id": search.iri,
        "plant": search.plant,
        "searched_by": search.searched_by,
        "searched_on": search.searched_on.isoformat(),
        "queries": list(search.queries),
        "pages": list(search.pages),
        "outcome": search.outcome,
        "note": search.note,
    }


def _no_caution(plant: PlantId) -> dict[str, object]:
    return {
        "plant": plant,
        "id": None,
        "kind": "none-on-record",
        "text": NONE_ON_RECORD,
        "advice": None,
        "part": None,
        "agent": None,
        "group": None,
        "place": None,
        "as_of": None,
        "lookalike": None,
        "verbatim": None,
        "source": None,
        "locator": None,
        "basis": None,
        "standing": None,
    }


def _caution(snapshot: Snapshot, plant: PlantId, caution: Caution, reader: Reader) -> dict[str, object]:
    advice = STRICTER[reader.audience].get(caution.kind)
    if caution.kind in LAW_KINDS and reader.place is None:
        advice = "Where the planting stands was not said: check the rules there before you plant."
    return {
        "plant": plant,
        "id": caution.iri,
        "kind": caution.kind,
        "text": caution.text,
        "advice": advice,
        "part": caution.part,
        "agent": caution.agent,
        "group": caution.group,
        "place": caution.place,
        "as_of": caution.as_of,
        "lookalike": caution.lookalike,
        "verbatim": caution.verbatim,
        "source": source_brief(snapshot, caution.source),
        "locator": caution.locator,
        "basis": caution.basis,
        "standing": caution.standing,
    }


def source_brief(snapshot: Snapshot, key: SourceKey) -> dict[str, object]:
    """The source of a record in three words: key, citation, licence."""
    source = snapshot.sources.get(key)
    return {
        "key": key,
        "citation": source.citation if source else None,
        "licence": source.licence if source else None,
    }


def site_work() -> list[dict[str, object]]:
    """The words on digging and trees, in the shape of cautions that belong to no plant."""
    shape = dict.fromkeys(_no_caution(PlantId("")))
    return [{**shape, "kind": "site-work", "text": text, "basis": "common-practice"} for text in SITE_WORK]


def left_out_notes(snapshot: Snapshot, plants: Iterable[PlantId], reader: Reader) -> list[str]:
    """One note on the rules of other places that were left out, if any."""
    if reader.place is None:
        return []  # an unknown place leaves out nothing (`applies`)
    out = [c for p in dict.fromkeys(plants) for c in snapshot.cautions(p) if not applies(c, reader.place)]
    if not out:
        return []
    places = ", ".join(sorted({c.place or "" for c in out}))
    rules = f"{len(out)} rule{'s' if len(out) > 1 else ''}"
    return [f"{rules} of law of other places than {reader.place} left out ({places})."]


def names_of(plant: Plant) -> dict[str, object]:
    """What a plant is called, for a reader."""
    return {"accepted": plant.scientific_name, "common": plant.common_name}
