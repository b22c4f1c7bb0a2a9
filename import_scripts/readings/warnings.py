"""A row of ``cautions.csv``: one warning by one source, refused where it could not be written."""

from collections.abc import Iterator
from datetime import date
from typing import get_args

from import_scripts.base import CautionDraft, Row
from import_scripts.readings.checks import Fault, bearer, refused_by_shapes
from import_scripts.recalled_cautions.importer import REASSURING
from kb.model import CITED, Basis, Caution, CautionKind, PlantId, SourceKey

CAUTION_COLUMNS = (
    "plant",
    "kind",
    "text",
    "part",
    "agent",
    "group",
    "place",
    "as_of",
    "lookalike",
    "verbatim",
    "name_as_printed",
    "source_key",
    "locator",
    "basis",
)
KINDS: dict[str, CautionKind] = {kind: kind for kind in get_args(CautionKind)}
BASES: dict[str, Basis] = {basis: basis for basis in CITED}


def caution_faults(row: Row, sources: frozenset[SourceKey]) -> Iterator[Fault]:
    """What is wrong with the cells of a warning (its plant is looked up elsewhere)."""
    if row["kind"] not in KINDS:
        yield Fault(f"'{row['kind']}' is no kind of caution", f"use one of {', '.join(KINDS)}")
    if row["basis"] not in BASES:
        mend = f"use one of {', '.join(BASES)}; what is recalled has an importer of its own"
        yield Fault(f"the basis '{row['basis']}' is not for this table", mend)
    for column in ("text", "verbatim", "name_as_printed", "locator"):
        if not row[column]:
            yield Fault(f"'{column}' is empty", "write the warning, what the source prints, and where")
    if SourceKey(row["source_key"]) not in sources:
        yield Fault(f"cites '{row['source_key']}', which sources.csv lacks", "describe the source there")
    calming = REASSURING.search(row["text"])
    if calming:
        yield Fault(f"'{calming[0]}' reassures", "say what harms, or leave the row out")


def caution_of(row: Row) -> CautionDraft:
    """The warning that a sound row states."""
    return CautionDraft(
        plant=PlantId(row["plant"]),
        kind=KINDS[row["kind"]],
        text=row["text"],
        part=row["part"] or None,
        agent=row["agent"] or None,
        group=row["group"] or None,
        place=row["place"] or None,
        as_of=row["as_of"] or None,
        lookalike=row["lookalike"] or None,
        verbatim=row["verbatim"],
        name_as_printed=row["name_as_printed"],
        source=SourceKey(row["source_key"]),
        locator=row["locator"],
        basis=BASES[row["basis"]],
    )


def caution_shape_faults(draft: CautionDraft) -> tuple[Fault, ...]:
    """What the shapes find in the caution that this draft would become."""
    caution = Caution(
        id=f"{draft.plant}.{draft.kind}.{draft.source}",
        standing="proposed",
        entered_by="importer readings",
        entered_on=date(2026, 1, 1),
        **{field: getattr(draft, field) for field in CautionDraft.__slots__},
    )
    return refused_by_shapes(bearer(draft.plant, draft.source, cautions=(caution,)), "caution.")
