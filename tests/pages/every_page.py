"""One invented answer for each kind of page."""

from typing import Any

from tests.pages.samples import (
    HERB,
    IRI,
    SOURCE,
    candidates,
    caution,
    one_record,
    pair_answer,
    plant,
    planting,
    records,
    under,
)


def everything() -> dict[str, tuple[str, dict[str, Any]]]:
    """One answer for each kind of page, by a label: (kind, answer)."""
    version = {"dataset_version": "invented-1", "cautions": [], "reasons": [], "notes": []}
    source = {
        **SOURCE,
        "identifier": None,
        "licence_iri": None,
        "how_read": "invented",
        "credit": "",
        "records": 2,
    }
    trait = {
        "id": "effective-rooting-depth",
        "label": "effective rooting depth",
        "definition": "Invented words.",
        "unit": "m",
        "allowed": [0, 60],
        "scheme": None,
        "rule": "weighted-median",
        "values": [],
    }
    listed = {
        "id": HERB,
        "scientific_name": "Inventia herba",
        "common_name": "invented herb",
        "cautions": [caution()],
        "traits": {"growth-form": "shrub", "life-cycle": "perennial", "family": None},
    }
    return {
        "home": ("home", {"question": {}, **version}),
        "plants": (
            "plants",
            {"question": {"q": "inv"}, "total": 1, "plants": [listed], "next": None, **version},
        ),
        "plant": ("plant", plant()),
        "records": ("records", records()),
        "record": ("record", one_record()),
        "caution": ("record", one_record("caution")),
        "decision": ("record", one_record("decision")),
        "pair": ("pair", pair_answer()),
        "judge": ("judge", planting()),
        "judge form": ("judge", {"question": {}, "cautions": [], "notes": []}),
        "candidates": ("candidates", candidates()),
        "under": ("under", under()),
        "sources": ("sources", {"question": {}, "sources": [source], **version}),
        "traits": ("traits", {"question": {}, "traits": [trait], **version}),
        "problem": (
            "problem",
            {
                "type": f"{IRI}problems#unknown-plant",
                "title": "Unknown plant",
                "status": 404,
                "detail": "No plant is called 'aple'.",
                "instance": "/plants/aple/under?height_m=6",
                "nearest": ["inventia-herba"],
                "errors": [{"parameter": "height_m", "detail": "'tall' is not a number."}],
            },
        ),
    }
