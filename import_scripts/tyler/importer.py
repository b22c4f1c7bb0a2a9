"""Swedish flora: light, moisture, soil reaction, flowering, longevity and nitrogen fixation."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from import_scripts.base import PublishedFile, Row, Statement, draft, refuse, unmatched
from import_scripts.decided import of_decision
from import_scripts.names import Decision, PlantNames, binomial, decisions
from import_scripts.quantities import number
from import_scripts.tables import csv_rows, locate
from kb.model import PlantId, Source, SourceKey
from kb.names import fold

TYLER = Source(
    key=SourceKey("tyler2021"),
    citation="Tyler, T., Herbertsson, L., Olofsson, J., Olsson, P.A. (2021) Ecological indicator and "
    "traits values "
    "for Swedish vascular plants. Ecological Indicators 120:106923, Appendix A",
    identifier="https://doi.org/10.1016/j.ecolind.2020.106923",
    year="2021",
    licence="CC BY 4.0 as remembered, not seen; single facts are cited",
    licence_iri=None,
    tier="B",
    how_read="rows of the species on the target list, in a copy of the table (ind.Tyler.RDS "
    "of NINAnor/ecRxiv, commit 5a703784)",
    credit="Tyler et al. (2021)",
)
EXTRACT = "Tyler2021_target_rows.csv"
CLASSES = {
    "Light": "light-indicator-1-7",
    "Moisture": "moisture-indicator-1-12-swedish",
    "Soil_reaction_pH": "reaction-indicator-1-8",
    "Phenology": "flowering-class-1-15",
}
SPORE_PLANTS = frozenset(
    {
        "Aspleniaceae",
        "Athyriaceae",
        "Blechnaceae",
        "Cystopteridaceae",
        "Dennstaedtiaceae",
        "Dryopteridaceae",
        "Equisetaceae",
        "Hymenophyllaceae",
        "Isoetaceae",
        "Lycopodiaceae",
        "Marsileaceae",
        "Onocleaceae",
        "Ophioglossaceae",
        "Osmundaceae",
        "Polypodiaceae",
        "Pteridaceae",
        "Salviniaceae",
        "Selaginellaceae",
        "Thelypteridaceae",
        "Woodsiaceae",
    }
)
"""Families of ferns, horsetails and clubmosses: what ``Phenology`` says of them is no time of flowering."""
FLOWERING_STEPS = (
    "half-month steps, about month 2.5 + class/2 with 6.0 the middle of June, a month either way; "
    "inferred, not printed"
)
"""What ``kb.profiles.flowering`` takes a class for; the paper's own legend was not reachable."""
COLUMNS = ("Scientific_name", "Family", *CLASSES, "Longevity", "Nitrogen_fixation")
LONGEVITY = {"1": "annual", "2": "biennial", "4": "perennial"}
NO_KEY = (
    "what the class means is inferred from the plants that have it: the key was not printed where it was read"
)
"""Told of longevity: the table that was read prints numbers alone."""
FIXING = {"0": "does-not-fix", "1": "fixes"}
LIGHTEST = 7


@cache
def _mapping() -> dict[str, tuple[Decision, ...]]:
    return decisions(__package__)


@dataclass(frozen=True)
class TylerImporter:
    """The importer ``tyler``: classes on the authors' own scales, never rescaled."""

    key: str = "tyler"
    title: str = (
        "Swedish flora: light 1-7, moisture 1-12, reaction 1-8, flowering 1-15, longevity, nitrogen fixation"
    )
    files: tuple[PublishedFile, ...] = (PublishedFile(EXTRACT),)
    carried: Path | None = None

    def sources(self, folder: Path) -> tuple[Source, ...]:  # noqa: ARG002
        return (TYLER,)

    def rows(self, folder: Path) -> Iterator[Row]:
        yield from csv_rows(locate(folder, EXTRACT), COLUMNS, name="Scientific_name")

    def convert(self, row: Row, names: PlantNames) -> Sequence[Statement]:
        decided = _mapping().get(fold(row.name))
        if decided and decided[0].plant:
            said = [*_classes(row, decided[0].plant), *_concepts(row, decided[0].plant)]
            return [of_decision(decided[0], one) for one in said]
        plant = names.match(binomial(row.name))
        if plant is None:
            return [unmatched(row)]
        return [*_classes(row, plant), *_concepts(row, plant)]


def _classes(row: Row, plant: PlantId) -> list[Statement]:
    found: list[Statement] = []
    for column, trait in CLASSES.items():
        value = number(row[column])
        if value is None:
            continue
        if column == "Phenology" and row["Family"] in SPORE_PLANTS:
            found.append(
                refuse(row, f"Phenology {row[column]} of a plant that has no flowers", "leave it out")
            )
            continue
        if column == "Light" and value > LIGHTEST:
            found.append(refuse(row, f"light {value} lies off the scale 1-7", "look it up in the article"))
            continue
        found.append(
            draft(
                row,
                plant,
                trait,
                likely=value,
                kind="class",
                verbatim=row[column],
                source=TYLER.key,
                locator=f"Appendix A, {row.name}, {column}",
                basis="read-in-transcription",
                note=FLOWERING_STEPS if column == "Phenology" else None,
            )
        )
    return found


def _concepts(row: Row, plant: PlantId) -> list[Statement]:
    found: list[Statement] = []
    for column, trait, values in (
        ("Longevity", "life-cycle", LONGEVITY),
        ("Nitrogen_fixation", "nitrogen-fixation", FIXING),
    ):
        printed = row[column].removesuffix(".0")
        if printed in values:
            found.append(
                draft(
                    row,
                    plant,
                    trait,
                    concepts=[values[printed]],
                    kind="membership",
                    verbatim=row[column],
                    source=TYLER.key,
                    locator=f"Appendix A, {row.name}, {column}",
                    basis="read-in-transcription",
                    note=NO_KEY if column == "Longevity" else None,
                )
            )
        elif printed:
            found.append(
                refuse(row, f"{column} {printed} has no meaning that was printed", "read the article")
            )
    return found


IMPORTER = TylerImporter()
