"""Family, indicator values of two authors, heights, life form and growth form of the British flora."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cache
from pathlib import Path

from import_scripts.base import Draft, PublishedFile, Row, Statement, draft, refuse, unmatched
from import_scripts.biflora.citation import BIFLORA, DORING, FILE, PLANTATT
from import_scripts.decided import of_decision
from import_scripts.names import Decision, PlantNames, decisions
from import_scripts.quantities import MISSING, number
from import_scripts.tables import csv_rows, locate
from kb.model import NumberKind, PlantId, Source
from kb.names import fold

AUTHORS = {"PLANTATT": PLANTATT, "Doring": DORING}
INDICATORS = {
    "L": "light-indicator-1-9",
    "F": "moisture-indicator-1-12",
    "R": "reaction-indicator-1-9",
    "N": "nutrient-indicator-1-9",
}
COLUMNS = (
    "kew_id",
    "taxon_name",
    "taxon_name_binom",
    "family",
    "genus",
    "mean_veg_height",
    "max_veg_height",
    "growth_form",
    "life_form",
    *(f"{letter}_{author}" for author in AUTHORS for letter in INDICATORS),
)
WIDE_FAMILY = {
    ("Polypodiaceae", "Dryopteris"): "Dryopteridaceae",
    ("Polypodiaceae", "Polystichum"): "Dryopteridaceae",
    ("Aspleniaceae", "Matteuccia"): "Onocleaceae",
}
"""Ferns whose family is drawn wide by the flora followed (Stace 2019): no family for relatedness."""
WRONG_VINES = frozenset({"Araucaria araucana", "Phoenix dactylifera", "Pyracantha coccinea"})
"""Two trees and a shrub that the set marks as vines."""
ARCHING = frozenset({"Rubus"})
"""Genera with arching or trailing canes that are marked as vines but climb by no organ."""
SHOOTS = frozenset({"Cucurbita"})
"""Vines whose printed height (6 m, 10 m) can only be the length of the shoots: our reading, and told so."""
MEAN = "mean of the publicly available records of a trait data base (TRY); their ages are not told"
SAPLINGS = "; those of trees take in saplings (the mean of Quercus robur is 1.03 m)"
KNOWN_WRONG = {
    ("Galium odoratum", "life_form"): "woodruff lives for years on its rhizome: it is no therophyte",
    ("Tamus communis", "growth_form"): "black bryony twines: it is no herb that stands by itself",
    ("Quercus robur", "growth_form"): "calls the oak a shrub, which its life form (tree) contradicts",
    (
        "Alchemilla vulgaris",
        "mean_veg_height",
    ): "0.05 m is no height of lady's mantle (long leaf stalks)",
    ("Alchemilla vulgaris", "max_veg_height"): "0.05 m is no height of lady's mantle (long leaf stalks)",
}
"""Cells that every other set and flora contradicts: refused, never taken."""
GROWTH_FORMS = {"Tree": "tree", "Shrub": "shrub", "Herb": "herb", "Graminoid": "graminoid", "Fern": "fern"}
LIFE_FORMS = {
    name: name
    for name in ("phanerophyte", "chamaephyte", "hemicryptophyte", "geophyte", "hydrophyte", "therophyte")
} | {"hemicryoptophyte": "hemicryptophyte"}
TWICE_ENCODED = re.compile("[\u00c2\u00c3][\u0080-\u00bf]")


def repaired(text: str) -> str:
    """UTF-8 that was read as Latin-1 and saved again, set right; anything else as it is.

    The rule: a character U+00C2 or U+00C3 followed by one of U+0080-U+00BF is the first byte of a
    two-byte UTF-8 character; if the whole text decodes so, it is decoded, again if need be.
    """
    while TWICE_ENCODED.search(text):
        try:
            text = text.encode("latin-1").decode("utf-8")
        except UnicodeError:
            return text
    return text


@cache
def _mapping() -> dict[str, tuple[Decision, ...]]:
    return decisions(__package__)


@dataclass(frozen=True)
class BifloraImporter:
    """The importer ``biflora``. Reads ``BI_MAIN.csv``, which is Latin-1."""

    key: str = "biflora"
    title: str = "British and Irish flora: family, light, moisture, reaction, nutrients, heights, forms"
    files: tuple[PublishedFile, ...] = (FILE,)
    carried: Path | None = None

    def sources(self, folder: Path) -> tuple[Source, ...]:  # noqa: ARG002
        return (BIFLORA, PLANTATT, DORING)

    def rows(self, folder: Path) -> Iterator[Row]:
        yield from csv_rows(
            locate(folder, "BI_MAIN.csv"), COLUMNS, name="taxon_name_binom", encoding="latin-1"
        )

    def convert(self, row: Row, names: PlantNames) -> Sequence[Statement]:
        decided = _mapping().get(fold(row.name))
        if decided and decided[0].plant is None:
            return [refuse(row, f"left out by decision: {decided[0].note}", "change mapping.csv to take it")]
        plant = decided[0].plant if decided else names.match(row.name)
        if plant is None:
            return [unmatched(row)]
        wrong = {column: reason for (name, column), reason in KNOWN_WRONG.items() if name == row.name}
        if wrong:
            row = replace(row, values={**row.values, **dict.fromkeys(wrong, "")})
        said = [
            *_family(row, plant),
            *_heights(row, plant),
            *_forms(row, plant),
            *_indicators(row, plant),
            *(refuse(row, reason, "leave it out") for reason in wrong.values()),
        ]
        if decided and decided[0].scope == "group":
            return [of_decision(decided[0], one) for one in said]
        return said


def _make(
    row: Row,
    plant: PlantId,
    trait: str,
    column: str,
    *,
    kind: NumberKind = "class",
    verbatim: str | None = None,
    likely: Decimal | None = None,
    high: Decimal | None = None,
    concepts: Sequence[str] = (),
    conditions: dict[str, str] | None = None,
    note: str | None = None,
) -> Draft:
    return draft(
        row,
        plant,
        trait,
        kind=kind,
        likely=likely,
        high=high,
        concepts=concepts,
        conditions=conditions,
        verbatim=verbatim or row[column],
        name=repaired(row["taxon_name"]),
        source=BIFLORA.key,
        locator=f"BI_MAIN.csv, kew_id {row['kew_id']}, {column}",
        note=note,
    )


def _family(row: Row, plant: PlantId) -> list[Statement]:
    family = row["family"]
    wide = WIDE_FAMILY.get((family, row["genus"]))
    if wide:
        return [
            refuse(
                row,
                f"the family {family} is drawn wide here and takes in {wide}",
                "take the family elsewhere",
            )
        ]
    return (
        []
        if family in MISSING
        else [_make(row, plant, "family", "family", kind="membership", concepts=[family])]
    )


def _heights(row: Row, plant: PlantId) -> list[Statement]:
    """The mean and the largest of published records; one record that stands in both columns is told once."""
    found: list[Statement] = []
    mean, highest = number(row["mean_veg_height"]), number(row["max_veg_height"])
    trait = "reach" if row["genus"] in SHOOTS else "mature-height"
    shoots = "; printed as a height, taken for the length of the shoots of a vine" if trait == "reach" else ""
    if mean is not None:
        alone = "; the largest record is the same: of one record only, or of records all alike"
        found.append(
            _make(
                row,
                plant,
                trait,
                "mean_veg_height",
                kind="mean",
                likely=mean,
                conditions={"age": "any"},
                note=MEAN
                + (SAPLINGS if "tree" in f"{row['growth_form']} {row['life_form']}".lower() else "")
                + (alone if mean == highest else "")
                + shoots,
            )
        )
    if highest is not None and highest != mean:
        found.append(
            _make(
                row,
                plant,
                trait,
                "max_veg_height",
                kind="maximum",
                high=highest,
                note="largest published trait record: an upper bound, not a usual size" + shoots,
            )
        )
    return found


def _forms(row: Row, plant: PlantId) -> list[Statement]:
    printed = row["life_form"]
    parts = [] if printed in MISSING else [part.strip() for part in printed.split("/")]
    found: list[Statement] = []
    vine = "vine" in parts
    if vine and row.name in WRONG_VINES:
        found.append(refuse(row, "is marked as a vine and stands by itself", "leave the vine out"))
        vine = False
    if vine and row["genus"] in ARCHING:
        vine = False
    forms = [LIFE_FORMS[part] for part in parts if part in LIFE_FORMS]
    left_out = sorted(set(parts) - set(LIFE_FORMS) - {"tree", "vine"})
    if forms:
        note = f"printed too, without a value in our scheme: {', '.join(left_out)}" if left_out else None
        found.append(
            _make(row, plant, "life-form", "life_form", kind="membership", concepts=forms, note=note)
        )
    cycle = _life_cycle(parts)
    if cycle:
        found.append(
            _make(
                row,
                plant,
                "life-cycle",
                "life_form",
                kind="membership",
                concepts=[cycle],
                note="follows from the definition of the printed life form",
            )
        )
    return [*found, *_growth_form(row, plant, vine=vine, woody="phanerophyte" in parts)]


def _life_cycle(parts: Sequence[str]) -> str | None:
    """Annual for therophytes only, perennial where every form named outlives a winter for years.

    Hemicryptophytes may be biennial: they say nothing here.
    """
    forms = set(parts) - {"tree", "vine"}
    if forms == {"therophyte"}:
        return "annual"
    return "perennial" if forms and forms <= {"phanerophyte", "chamaephyte", "geophyte"} else None


def _growth_form(row: Row, plant: PlantId, *, vine: bool, woody: bool) -> list[Statement]:
    if vine:
        form = "climber-woody" if woody else "climber-herbaceous"
        return [_make(row, plant, "growth-form", "life_form", kind="membership", concepts=[form])]
    form = GROWTH_FORMS.get(row["growth_form"], "")
    if not form:
        return []
    if form == "herb" and woody:
        reason = "calls a phanerophyte a herb, which contradicts itself (its life form stands)"
        return [refuse(row, reason, "take the growth form elsewhere")]
    if form == "shrub" and "tree" in row["life_form"]:
        note = "its life form in the same row adds tree: a plant that can grow into one"
        printed = f"{row['growth_form']}; {row['life_form']}"
        return [
            _make(
                row,
                plant,
                "growth-form",
                "growth_form and life_form",
                kind="membership",
                verbatim=printed,
                concepts=["shrub", "tree"],
                note=note,
            )
        ]
    return [_make(row, plant, "growth-form", "growth_form", kind="membership", concepts=[form])]


def _indicators(row: Row, plant: PlantId) -> list[Statement]:
    found: list[Statement] = []
    for author, source in AUTHORS.items():
        for letter, trait in INDICATORS.items():
            column = f"{letter}_{author}"
            value = number(row[column])
            if value is not None:
                found.append(
                    draft(
                        row,
                        plant,
                        trait,
                        likely=value,
                        kind="class",
                        verbatim=row[column],
                        name=repaired(row["taxon_name"]),
                        source=source.key,
                        locator=f"BI_MAIN.csv, kew_id {row['kew_id']}, {column}",
                        basis="read-in-transcription",
                    )
                )
    return found


IMPORTER = BifloraImporter()
