"""Sources as rows describe them: on file already, or described well enough to be credited."""

import re
from collections.abc import Mapping

from kb.bench.draft_reading import texts_of
from kb.errors import BadFile
from kb.exchange.cells import BadCell, cell_of, shortened
from kb.letters import holds_control
from kb.model import Source, SourceKey
from kb.stores.files import PLAIN
from kb.turtle import source_from_turtle, source_to_turtle
from kb.validate import validate_source
from kb.vocabulary_store import load_vocabulary

DESCRIBED = ("citation", "identifier", "year", "licence", "licence_iri", "tier", "how_read", "credit")


def source_of(key: str, said: Mapping[str, str], known: Mapping[SourceKey, Source]) -> Source:
    """The source of a row: the one on file, which the row must not contradict, or a new one.

    A new source needs a citation and a licence; without a line of credit the citation is the credit, and
    without a tier it is B (single facts are cited). Raises BadCell.
    """
    if not key:
        raise BadCell("is empty", "write the key of the source; 'traitbed sources' lists those on file")
    stated = {name: said[name].strip() for name in DESCRIBED if said.get(name, "").strip()}
    on_file = known.get(SourceKey(key))
    if on_file is not None:
        for name, text in stated.items():
            if cell_of(getattr(on_file, name)) != text:
                there = shortened(cell_of(getattr(on_file, name)))
                raise BadCell(
                    f"'{key}' is on file with another {name} ('{there}')",
                    "use a key of its own for another work, or leave the cell empty",
                )
        return on_file
    missing = [name for name in ("citation", "licence") if name not in stated]
    if missing:
        raise BadCell(
            f"'{shortened(key)}' is not on file and has no {' and no '.join(missing)}",
            "fill them in (a licence that is not known reads: not stated)",
        )
    made = _new(key, stated)
    fault = fault_of(made)
    if fault is not None:
        raise fault
    return made


def fault_of(source: Source) -> BadCell | None:
    """What keeps a source from being kept: a bad key or address, words that would be lost, a broken rule."""
    if PLAIN.fullmatch(source.key) is None:
        return BadCell(
            f"'{shortened(source.key)}' is no key", "write lower-case letters and digits joined by -"
        )
    if source.licence_iri and re.fullmatch(r"https?://[^\s<>\"{}|\\^`]+", source.licence_iri) is None:
        return BadCell(
            f"licence_iri '{shortened(source.licence_iri)}' is no address", "write https://..., or none"
        )
    if any(map(holds_control, texts_of(source))):
        return BadCell(f"'{source.key}' holds a control character", "take it out")
    try:
        same = source_from_turtle(source_to_turtle(source), "source") == source
    except (BadFile, ValueError):
        same = False
    if not same:
        return BadCell(f"'{source.key}' would not read back as it is written", "mend its cells")
    for finding in validate_source(source, load_vocabulary()):
        if finding.severity == "violation":
            return BadCell(f"'{source.key}' breaks a rule: {finding.message}", "mend its cells")
    return None


def _new(key: str, stated: Mapping[str, str]) -> Source:
    tier = stated.get("tier", "B")
    if tier not in {"A", "B"}:
        raise BadCell(f"'{key}' has tier '{shortened(tier)}'", "write A or B, or leave it empty")
    return Source(
        key=SourceKey(key),
        citation=stated["citation"],
        identifier=stated.get("identifier"),
        year=stated.get("year"),
        licence=stated["licence"],
        licence_iri=stated.get("licence_iri"),
        tier="A" if tier == "A" else "B",
        how_read=stated.get("how_read", "as named in a table that was brought in"),
        credit=stated.get("credit", stated["citation"]),
    )
