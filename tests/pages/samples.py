"""Invented answers in the shapes of the interface: every plant, number and source is made up.

They let the pages be tested without a data set; nothing here is a record and nothing is loaded.
The plants are called after no real plant, so that no one can take a number for knowledge.
"""

import json
from importlib.resources import files
from typing import Any

TREE, HERB, BULB = "inventia-arbor", "inventia-herba", "inventia-bulbus"

NAMES = {
    TREE: {"accepted": "Inventia arbor", "common": "invented tree"},
    HERB: {"accepted": "Inventia herba", "common": "invented herb"},
    BULB: {"accepted": "Inventia bulbus", "common": None},
}

IRI = "https://w3id.org/traitbed/"
DEPTH_RECORD = f"{IRI}record.{HERB}.effective-rooting-depth.invented"
FIVE_RECORDS = [f"{DEPTH_RECORD}.{number}" for number in range(1, 6)]
SOURCE = {"key": "invented", "citation": "An invented handbook, table 1", "licence": "invented"}

SITE = {
    "name": "reference site",
    "description": "51° N, cool oceanic, ordinary deep loam, open",
    "latitude": 51.0,
    "last_frost": "--05-10",
    "first_frost": "--10-15",
    "frost_sd_days": 10.0,
    "soil_depth_m": 2.2,
    "soil_ph": None,
    "moisture": 5.0,
    "open_light": 1.0,
    "place": None,
    "audience": "household",
    "given": [],
}

PROFILE = {
    "half_m": {"low": 0.1, "likely": 0.2, "high": 0.4, "origin": "cited", "records": [DEPTH_RECORD]},
    "most_m": {"low": 0.5, "likely": 0.8, "high": 1.3, "origin": "form", "records": []},
}


def caution(plant: str = HERB, **changes: Any) -> dict[str, Any]:
    """An invented caution."""
    return {
        "plant": plant,
        "id": f"{IRI}caution.{plant}.toxic.invented",
        "kind": "toxic",
        "text": "Invented: the berries of this plant that does not exist are poisonous.",
        "advice": None,
        "part": "berries",
        "agent": None,
        "group": "children",
        "place": None,
        "as_of": None,
        "lookalike": None,
        "verbatim": "poisonous berries",
        "source": SOURCE,
        "locator": "table 1, row 2",
        "basis": "common-practice",
        "standing": "proposed",
    } | changes


def no_caution(plant: str) -> dict[str, Any]:
    """What stands where no caution is on record."""
    said = {"kind": "none-on-record", "text": "No caution on record; that is not the same as safe."}
    return {**dict.fromkeys(caution()), "plant": plant, **said}


def value(**changes: Any) -> dict[str, Any]:
    """An invented adopted value."""
    return {
        "low": 0.4,
        "likely": 0.8,
        "high": 1.2,
        "concept": None,
        "concepts": [],
        "unit": "m",
        "confidence": "low",
        "rule": "weighted-median",
        "records": [DEPTH_RECORD],
        "inherited_from": None,
    } | changes


def plant() -> dict[str, Any]:
    """An invented plant."""
    return {
        "question": {"kind": "plant", "plant": HERB, "place": None, "audience": "household"},
        "dataset_version": "invented-1",
        "id": HERB,
        "iri": f"{IRI}plant.{HERB}",
        "cautions": [caution()],
        "names": {
            "accepted": "Inventia herba",
            "authority": "Nobody",
            "according_to": SOURCE,
            "synonyms": [{"name": "Fictia herba", "authority": None, "according_to": None}],
            "common": [{"name": "invented herb", "lang": "en", "region": None}],
        },
        "rank": "species",
        "parent": None,
        "groups": [],
        "traits": {
            "effective-rooting-depth": value(),
            "root-depth-50": value(low=0.15, likely=0.2, high=0.3),
            "growth-form": value(
                low=None, likely=None, high=None, concept="shrub", concepts=["shrub"], unit=None
            ),
            "growth-window": value(low=44.0, likely=None, high=24.0, unit="week"),
            "flowering-window": value(low=14.0, likely=None, high=22.0, unit="week"),
            "light-to-crop": value(low=0.1, likely=None, high=0.6, unit="share of open light"),
            "hardiness": value(low=-20.0, likely=-15.0, high=-10.0, unit="deg C"),
            "mature-height": None,
        },
        "missing": {"mature-height": "only 'at least' records (pots, cores); they give no depth"},
        "labels": {"effective-rooting-depth": "effective rooting depth"},
        "root_profile": PROFILE,
        "reasons": [],
        "notes": [],
    }


def record(**changes: Any) -> dict[str, Any]:
    """An invented record."""
    return {
        "id": DEPTH_RECORD,
        "plant": HERB,
        "trait": "effective-rooting-depth",
        "low": 0.4,
        "likely": None,
        "high": 1.2,
        "concept": None,
        "concepts": [],
        "unit": "m",
        "number_kind": "range",
        "conditions": {"method": "trench", "age": "3 years"},
        "verbatim": "0.4 - 1.2 <m>",
        "name_as_printed": "Fictia herba",
        "source": SOURCE,
        "locator": "table 1, row 2",
        "basis": "read-in-excerpt",
        "standing": "proposed",
        "weight": 0.6,
        "counted_as": "range",
        "entered_by": "importer invented",
        "entered_on": "2025-01-02",
        "note": None,
        "revises": None,
    } | changes


def decision() -> dict[str, Any]:
    """An invented decision."""
    return {
        "id": f"{IRI}decision.{HERB}.1",
        "plant": HERB,
        "trait": "effective-rooting-depth",
        "decided_by": "curator one (invented)",
        "decided_on": "2025-02-03",
        "why": "The trench was dug where the plants stood.",
        "weighed": [{"record": DEPTH_RECORD, "role": "preferred"}],
    }


def records() -> dict[str, Any]:
    """The records of an invented plant."""
    return {
        "question": {"kind": "records", "plant": HERB, "trait": None},
        "dataset_version": "invented-1",
        "plant": HERB,
        "cautions": [caution()],
        "names": NAMES,
        "records": [record(), record(id=f"{DEPTH_RECORD}.2", number_kind="floor", high=None)],
        "decisions": [decision()],
        "labels": {},
        "reasons": [],
        "notes": [],
    }


def one_record(kind: str = "record") -> dict[str, Any]:
    """One invented record, caution or decision."""
    held = {
        "record": record(),
        "caution": caution(
            entered_by="importer invented", entered_on="2025-01-02", name_as_printed="F. herba"
        ),
        "decision": decision(),
    }
    return {
        "question": {"kind": "record", "record": DEPTH_RECORD},
        "dataset_version": "invented-1",
        "plant": HERB,
        "cautions": [caution()],
        "names": NAMES,
        "kind": kind,
        "record": held[kind],
        "decisions": [decision()] if kind == "record" else [],
        "reasons": [],
        "notes": [],
    }


def pair(a: str = HERB, b: str = BULB, **changes: Any) -> dict[str, Any]:
    """An invented answer on two plants; also a row of a ranked list."""
    loss = {"roots": 0.18, "light": 0.07, "enemies": 0.0, "all": 0.21}
    return {
        "a": a,
        "b": b,
        "verdict": "workable",
        "conditions": [
            {
                "kind": "digging",
                "text": "the bulbs are lifted without moving the herb",
                "given": "careful-lifting",
                "met": None,
                "verdict_if_met": "good",
                "verdict_if_unmet": "workable",
            }
        ],
        "limiting": {
            "kind": "roots",
            "of": b,
            "text": "Both root in the top 20 cm.",
            "records": [DEPTH_RECORD],
        },
        "sharing": 0.57,
        "loss": {a: loss, b: loss | {"all": 0.12}},
        "suppressed": b,
        "suppressed_note": "About 3 in 4 such calls are right.",
        "benefits": [{"kind": "season", "text": "They grow in different months.", "records": []}],
        "nitrogen": {"from": a, "to": b, "g_per_m2": [1.0, 2.5], "when": "after the tops are dug in"},
        "score": {"likely": 79, "low": 61, "high": 88},
        "sureness": {
            "word": "fairly sure",
            "share_of_draws": 0.78,
            "deciding_trait": "effective-rooting-depth",
            "of": b,
        },
        "saying": "Workable. Both root in the top 20 cm.",
        "reasons": [{"kind": "roots", "text": "both root above 20 cm.", "records": FIVE_RECORDS}],
        "cautions": [],
    } | changes


def pair_answer(**changes: Any) -> dict[str, Any]:
    """An invented answer on two plants, as a question of its own."""
    return {
        "question": {"kind": "pair", "a": HERB, "b": BULB, "site": SITE, "setting": {"setting": "bed"}},
        "dataset_version": "invented-1",
        **pair(),
        "names": NAMES,
        "cautions": [caution(), no_caution(BULB)],
        "labels": {},
        "root_profiles": {HERB: PROFILE, BULB: PROFILE},
        "notes": ["The root depth of the bulb is a stand-in from its form."],
    } | changes


def candidates() -> dict[str, Any]:
    """An invented ranked list."""
    barrier = {
        "kind": "spread",
        "text": "it stands in a sunk barrier",
        "given": "barrier",
        "met": None,
        "verdict_if_met": "workable",
        "verdict_if_unmet": "avoid",
    }
    return {
        "question": {"kind": "candidates", "plant": HERB, "site": SITE, "setting": {"setting": "bed"}},
        "dataset_version": "invented-1",
        "plant": HERB,
        "cautions": [caution(), no_caution(BULB), no_caution(TREE)],
        "names": NAMES,
        "candidates": [pair(), pair(b=TREE, verdict="avoid", conditions=[barrier])],
        "next": "abc=",
        "reasons": [],
        "notes": [],
    }


def under(latitude: float = 51.0) -> dict[str, Any]:
    """An invented answer on what fits under an invented tree."""
    month = [0.87, 0.9, 0.89, 0.73, 0.52, 0.48, 0.49, 0.5, 0.54, 0.71, 0.9, 0.83]
    edges = (("inner", 0.3, 1.1, 1.2), ("mid", 1.1, 2.2, 0.8), ("crown edge", 2.2, 3.3, 0.3))
    site = SITE | {"latitude": latitude, "given": ["latitude"]}
    tree = {
        "id": TREE,
        "height_m": 4.5,
        "crown_radius_m": 2.25,
        "crown_base_m": 1.1,
        "leaf_area_index": 2.5,
        "age_years": None,
        "stand": "lone",
        "given": ["height_m"],
    }
    return {
        "question": {
            "kind": "under",
            "tree": tree,
            "side": None,
            "years": [0, 10],
            "site": site,
            "limit": 5,
        },
        "dataset_version": "invented-1",
        "cautions": [
            {**no_caution(""), "kind": "site-work", "text": "Before you dig: have buried services located."},
            no_caution(TREE),
            caution(),
        ],
        "names": NAMES,
        "tree": tree,
        "later": [
            {"year": 0, "height_m": 4.5, "crown_radius_m": 2.25, "crown_base_m": 1.1},
            {"year": 10, "height_m": 6.0, "crown_radius_m": 3.0, "crown_base_m": 1.1},
        ],
        "light_by": "month",
        "rings": [
            {
                "ring": ring,
                "side": side,
                "year": year,
                "from_m": start,
                "to_m": end,
                "light": month,
                "root_draw": draw,
                "total": 12,
                "plants": [
                    pair(TREE, HERB) | {"stops_fitting_year": 10},
                    pair(TREE, BULB, verdict="poor") | {"stops_fitting_year": None},
                ],
            }
            for year in (0, 10)
            for ring, start, end, draw in edges
            for side in "NESW"
        ],
        "reasons": [],
        "notes": ["Crown transmission in winter is a stand-in."],
    }


def planting() -> dict[str, Any]:
    """An answer on a whole planting of invented plants: the example of the service's description."""
    described = json.loads(files("api").joinpath("openapi.json").read_bytes())
    answers = described["paths"]["/judgements"]["get"]["responses"]["200"]["content"]
    return dict(answers["application/json"]["example"])
