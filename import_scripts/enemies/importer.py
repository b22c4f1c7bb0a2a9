"""Named enemies with their hosts, from our compilations; each row one statement per plant it means."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from importlib.resources import files
from pathlib import Path
from typing import get_args

from import_scripts.base import HostDraft, PublishedFile, Row, Statement, refuse
from import_scripts.enemies.decided import (
    AT_MOST_YEARS,
    DISTANCES,
    FAMILY_WORDS,
    GROUP_WORDS,
    OF_FAMILY,
    PACKAGE,
    UP_TO,
    YEARS,
    Agent,
    Host,
    agents,
    hosts,
    span_of,
)
from import_scripts.enemies.emissions import (
    EMISSION_FILES,
    EMISSIONS,
    STATEMENTS,
    emission_of,
    emission_rows,
    stated,
)
from import_scripts.enemies.lists import LIST_FILES, list_rows, listed
from import_scripts.names import PlantNames
from import_scripts.published_facts.citations import basis_of, key_of, rows_by_key, source_of
from import_scripts.tables import csv_rows, locate
from kb.model import PlantId, Source, SourceKey
from kb.names import fold
from kb.statements.enemy_model import Emission, EmissionId, HostRole, Route, Scope, Severity, YearsMeaning

ENEMIES = "enemies.csv"
COLUMNS = (
    "enemy",
    "host_scientific_name",
    "role",
    "spreads_by",
    "distance_m",
    "persistence_years",
    "severity",
    "region",
    "source_key",
    "locator",
    "verbatim",
    "seen",
)
SEVERITIES: dict[str, Severity | None] = {
    "serious": "serious",
    "moderate": "moderate",
    "minor": "slight",
    "": None,
}
NEMATODE_TABLE = SourceKey("obic-nema")
TABLE_WORDS = {
    "sterk": "strong",
    "matig": "moderate",
    "weinig": "little",
    "zwaar": "heavy",
    "geen": "none",
    "onbekend": "unknown",
    "natuurlijke_afname": "natural decline",
    "actieve_afname": "active decline",
}
"""The words of the Dutch nematode table, in the order in which the table's two columns use them."""


@dataclass(frozen=True)
class EnemiesImporter:
    """The importer ``enemies``: host statements of named enemies, and what plants give off."""

    key: str = "enemies"
    title: str = "named pests and diseases with their hosts, what plants give off (our compilations)"
    files: tuple[PublishedFile, ...] = tuple(
        PublishedFile(name) for name in (ENEMIES, *EMISSION_FILES, *LIST_FILES, "sources.csv")
    )
    _sources: dict[SourceKey, Row] = field(default_factory=dict, repr=False)
    _emissions: dict[EmissionId, Emission] = field(default_factory=dict, repr=False)
    _said: set[tuple[str, PlantId, SourceKey]] = field(default_factory=set, repr=False)

    @property
    def carried(self) -> Path:
        return Path(str(files(PACKAGE))) / "data"

    def sources(self, folder: Path) -> tuple[Source, ...]:
        return tuple(source_of(key, row) for key, row in sorted(rows_by_key(folder).items()))

    def rows(self, folder: Path) -> Iterator[Row]:
        self._said.clear()
        self._sources.clear()
        self._emissions.clear()
        self._sources.update(rows_by_key(folder))
        yield from csv_rows(locate(folder, ENEMIES), COLUMNS, name="host_scientific_name")
        yield from emission_rows(folder)
        yield from list_rows(folder)

    def convert(self, row: Row, names: PlantNames) -> Sequence[Statement]:
        if row.file == EMISSIONS:
            given_off = emission_of(row, names)
            if isinstance(given_off, Emission):
                self._emissions[given_off.id] = given_off
            return [given_off]
        if row.file == STATEMENTS:
            return stated(row, names, self._emissions)
        enemy = row.file == ENEMIES
        found = (
            self._enemy_row(row, names)
            if enemy
            else listed(row, names, said=self._said, emissions=self._emissions)
        )
        for statement in found:
            if isinstance(statement, HostDraft):
                self._said.add((statement.enemy, statement.plant, statement.source))
        return found

    def _enemy_row(self, row: Row, names: PlantNames) -> list[Statement]:
        agent = agents().get(fold(row["enemy"]))
        if agent is None:
            return [refuse(row, f"the enemy '{row['enemy']}' is not decided", "add it to agents.csv")]
        wrong = _mistaken(row)
        if wrong is not None:
            return [refuse(row, wrong, "mend the cell in enemies.csv")]
        crops = re.search(r"crop rows (.*)$", row["locator"])
        meant = hosts(row, row["host_scientific_name"], names, crops=crops[1] if crops else None)
        if not isinstance(meant, list):
            return [meant]
        return [agent.enemy, *(self._draft(row, agent, host) for host in meant)]

    def _draft(self, row: Row, agent: Agent, host: Host) -> HostDraft:
        source = key_of(row["source_key"])
        distance, years = span_of(row["distance_m"]), _years(row, source)
        scope = _scope(row, host)
        kin = OF_FAMILY if _as_relatives(row) else None
        notes = [note for note in (agent.note, host.note, kin, _in_english(row, source)) if note]
        return HostDraft(
            enemy=agent.enemy.id,
            plant=host.plant,
            role=row["role"],  # type: ignore[arg-type]
            severity=SEVERITIES[row["severity"]],
            route=row["spreads_by"].replace(" ", "-") or None,  # type: ignore[arg-type]
            distance_m=(None, distance[1]) if distance and source in UP_TO else distance,
            distance_meaning=DISTANCES[source] if distance else None,
            years=years[0],
            years_meaning=years[1],
            years_as_printed=row["persistence_years"] or None,
            region=row["region"] or None,
            scope=scope,
            verbatim=row["verbatim"],
            name_as_printed=row["host_scientific_name"],
            enemy_as_printed=row["enemy"],
            source=source,
            locator=row["locator"],
            basis=basis_of(row, self._sources),
            note="; ".join(notes) or None,
        )


def _scope(row: Row, host: Host) -> Scope:
    """Whether a row is about its plant, a group that it is of, or the family that it stands for."""
    if _as_relatives(row):
        return "family"
    return "group" if GROUP_WORDS.search(row["locator"]) else host.scope


def _as_relatives(row: Row) -> bool:
    """Whether the family is printed as the relatives of one crop."""
    return row["role"] == "main" and FAMILY_WORDS.search(row["locator"]) is not None


def _mistaken(row: Row) -> str | None:
    """What is wrong with a row's closed lists and numbers, if anything."""
    if row["role"] not in get_args(HostRole):
        return f"role '{row['role']}' is not one of {', '.join(get_args(HostRole))}"
    if row["severity"] not in SEVERITIES:
        return f"severity '{row['severity']}' is not one of {', '.join(word for word in SEVERITIES if word)}"
    if row["spreads_by"] and row["spreads_by"].replace(" ", "-") not in get_args(Route):
        return f"spreads_by '{row['spreads_by']}' is not one of {', '.join(get_args(Route))}"
    if row["distance_m"] and span_of(row["distance_m"]) is None:
        return f"distance_m '{row['distance_m']}' is no number or range"
    if row["distance_m"] and key_of(row["source_key"]) not in DISTANCES:
        return f"what the distance of {row['source_key']} means is not decided"
    return None


def _years(
    row: Row, source: SourceKey
) -> tuple[tuple[Decimal | None, Decimal | None] | None, YearsMeaning | None]:
    printed = row["persistence_years"]
    if not printed:
        return None, None
    meaning = YEARS.get(source, "rotation")
    span = span_of(printed)
    if span is None or meaning != "survival":
        return span, meaning
    return ((None, span[1]) if source in AT_MOST_YEARS else (span[0], None)), meaning


def _in_english(row: Row, source: SourceKey) -> str | None:
    """The two columns of the Dutch nematode table in English; its own words stay as printed."""
    if source != NEMATODE_TABLE:
        return None
    words = re.sub(r"\w+", lambda word: TABLE_WORDS.get(word[0], word[0]), row["verbatim"])
    return f"in English: {words}"


IMPORTER = EnemiesImporter()
