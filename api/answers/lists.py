"""The answer to 'which plants of my list are known here', row by row."""

from api.answers.cautions import Reader, names_of, plant_cautions
from api.answers.knowledge import Answer
from kb.exchange.plant_list import PlantList, Row, counts
from kb.model import PlantId
from kb.snapshot import Snapshot


def list_answer(snapshot: Snapshot, read: PlantList, *, column: str | None) -> Answer:
    """Every row with its outcome; cautions of the plants that were matched, once each, come first."""
    matched = tuple(dict.fromkeys(row.plant for row in read.rows if row.plant is not None))
    offered = {plant for row in read.rows for plant in row.choices}
    return {
        "question": {
            "kind": "list",
            "column": column,
            "columns": list(read.columns),
            "encoding": read.encoding,
            "delimiter": read.delimiter,
        },
        "dataset_version": snapshot.version,
        "cautions": [one for plant in matched for one in plant_cautions(snapshot, plant, Reader())],
        "names": {
            plant: _offered(snapshot, plant) if plant in offered else names_of(snapshot.plants[plant])
            for plant in sorted({*matched, *offered})
        },
        "counts": dict(counts(read)),
        "rows": [_row(row) for row in read.rows],
        "reasons": [],
        "notes": list(read.notes),
    }


def _offered(snapshot: Snapshot, plant: PlantId) -> Answer:
    """What a plant is called beside others that share a name with it."""
    choice = snapshot.names.choice(plant)
    return {"accepted": choice.accepted, "common": choice.common}


def _row(row: Row) -> Answer:
    return {
        "row": row.line,
        "written": row.written,
        "outcome": row.outcome,
        "plant": row.plant,
        "choices": list(row.choices),
        "nearest": list(row.nearest),
        "why": row.why,
    }
