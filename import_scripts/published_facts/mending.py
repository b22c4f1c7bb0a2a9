"""Rows of the compilation that say something else than their source: mended, or left out with the reason."""

from dataclasses import replace

from import_scripts.base import Row

SWAPPED = frozenset({"nectar_marsham", "nectar-marsham"})
"""Of these the copy that was read has its codes for leaf and flower the wrong way round: its hawthorn
flowers on 10 March and leafs on 11 May, its snowdrop "leafs" in February. The family recorded the first
flowers of snowdrop, wood anemone, hawthorn and turnip, and the first leaves of thirteen trees (Woodland
Trust, Nature's Calendar: Marsham's 27 indications of spring; named there one by one)."""
OTHER = {"flowering-window": "leaf-window", "leaf-window": "flowering-window"}
WORDS = {"flowering-window": "first leaf", "leaf-window": "first flower"}
SWAPPED_NOTE = (
    "the copy's codes for leaf and flower are the wrong way round; the event is the one that the family "
    "recorded (Woodland Trust: Marsham's 27 indications of spring)"
)
POUNDS = "lb/acre x 1.121"
"""The compiler's note on pounds an acre brought to kg/ha; records of nitrogen hold a tenth of that, g/m2."""
FERNS = frozenset({"Dryopteris filix-mas", "Matteuccia struthiopteris"})


def mended(row: Row) -> Row:
    """The row as its source means it."""
    if row["trait"] == "nitrogen-uptake" and row["unit"] == "kg N/ha":
        whole = row["confidence_note"].replace(POUNDS, f"{POUNDS}, kg/ha divided by 10")
        return replace(row, values={**row.values, "confidence_note": whole})
    if row["source_key"] not in SWAPPED or row["trait"] not in OTHER:
        return row
    old = "first flower" if row["trait"] == "flowering-window" else "first leaf"
    note = row["confidence_note"].replace(
        "first flower only, the end is not recorded", "the end is not recorded"
    )
    values = {
        **row.values,
        "trait": OTHER[row["trait"]],
        "conditions": row["conditions"].replace(f"event={old}", f"event={WORDS[row['trait']]}"),
        "confidence_note": f"{note}; {SWAPPED_NOTE}",
    }
    return replace(row, values=values)


def impossible(row: Row) -> str | None:
    """Why a row cannot be true of its plant."""
    if row["scientific_name"] in FERNS and row["trait"] == "flowering-window":
        return "is a date of flowering of a fern, which has no flowers"
    return None
