"""The small evidence tables: shared disease hosts, rotation intervals, plants near black walnut."""

from collections.abc import Iterator, Mapping
from decimal import Decimal
from pathlib import Path

from import_scripts.base import EmissionDraft, HostDraft, Refused, Row, Statement, refuse
from import_scripts.enemies.decided import Agent, agents, hosts
from import_scripts.enemies.emissions import GRADES, HOW_READ, LISTED_AS
from import_scripts.names import PlantNames
from import_scripts.tables import csv_rows, locate
from kb.model import PlantId, SourceKey
from kb.names import fold
from kb.statements.enemy_model import Emission, EmissionId, HostRole, Route

SHARED = "shared_disease_hosts.csv"
ROTATION = "rotation_intervals.csv"
JUGLONE_LISTS = "juglone_lists.csv"
LIST_FILES = (SHARED, ROTATION, JUGLONE_LISTS)
JUGLONE = EmissionId("juglone")
"""The lists are about black walnut; what one says of butternut too stands among the statements."""

SAME_WORK = {
    "uconn-ipm-rotation": SourceKey("uconn-rotation"),
    "pnw-disease-handbook": SourceKey("pnw-vert-intro"),
    "uc-leaflet-2703": SourceKey("ucanr2703"),
}
"""Works that the two compilations key differently: one source, one vote."""
RELATIONS: dict[str, HostRole] = {"host": "main", "not infected in trial": "non-host"}
SOIL: Route = "soil"


def list_rows(folder: Path) -> Iterator[Row]:
    """The rows of the three tables, one after the other."""
    yield from csv_rows(
        locate(folder, SHARED), ("pathogen", "relation", "source", "how_read", "note"), name="host_as_printed"
    )
    yield from csv_rows(
        locate(folder, ROTATION),
        ("disease", "interval_as_printed", "also_avoid_as_printed", "source", "how_read", "note"),
        name="crop_as_printed",
    )
    yield from csv_rows(
        locate(folder, JUGLONE_LISTS),
        ("listed_as", "source", "how_read", "grade", "conflict"),
        name="plant_as_printed",
    )


def listed(
    row: Row,
    names: PlantNames,
    *,
    said: set[tuple[str, PlantId, SourceKey]],
    emissions: Mapping[EmissionId, Emission],
) -> list[Statement]:
    """What a row of one of the three tables states.

    ``said`` are the statements made already, so that two compilations of one work count once.
    """
    if row["how_read"] not in HOW_READ:
        return [
            refuse(row, f"how_read '{row['how_read']}' is not known", f"use one of {', '.join(HOW_READ)}")
        ]
    if row.file == JUGLONE_LISTS:
        return _near_walnut(row, names, emissions)
    found = _shared(row, names) if row.file == SHARED else _rotation(row, names)
    return [
        statement
        for statement in found
        if not isinstance(statement, HostDraft)
        or (statement.enemy, statement.plant, statement.source) not in said
    ]


def _source(row: Row) -> SourceKey:
    key = SourceKey(row["source"])
    return SAME_WORK.get(key, key)


def _agent(row: Row, label: str) -> Agent | Refused:
    found = agents().get(fold(label))
    return (
        refuse(row, f"the enemy '{label}' is not decided", "add it to agents.csv") if found is None else found
    )


def _statements(
    row: Row,
    names: PlantNames,
    agent: Agent,
    printed: tuple[tuple[str, HostRole], ...],
    *,
    verbatim: str,
    locator: str,
    years: tuple[Decimal | None, Decimal | None] | None = None,
) -> list[Statement]:
    found: list[Statement] = [agent.enemy]
    for name, role in printed:
        meant = hosts(row, name, names)
        if not isinstance(meant, list):
            found.append(meant)
            continue
        found += [
            HostDraft(
                enemy=agent.enemy.id,
                plant=host.plant,
                role=role,
                severity=None,
                route=SOIL,
                distance_m=None,
                distance_meaning=None,
                years=years,
                years_meaning="rotation" if row.file == ROTATION else None,
                years_as_printed=verbatim if row.file == ROTATION else None,
                region=None,
                scope=host.scope,
                verbatim=verbatim,
                name_as_printed=name,
                enemy_as_printed=row["pathogen"] if row.file == SHARED else row["disease"],
                source=_source(row),
                locator=locator,
                basis=HOW_READ[row["how_read"]],
                note="; ".join(note for note in (row["note"], agent.note, host.note) if note) or None,
            )
            for host in meant
        ]
    return found


def _shared(row: Row, names: PlantNames) -> list[Statement]:
    agent = _agent(row, row["pathogen"])
    if isinstance(agent, Refused):
        return [agent]
    role = RELATIONS.get(row["relation"])
    if role is None:
        return [
            refuse(row, f"relation '{row['relation']}' is not known", f"use one of {', '.join(RELATIONS)}")
        ]
    words = row.name if role == "main" else f"{row.name}: {row['relation']}"
    return _statements(row, names, agent, ((row.name, role),), verbatim=words, locator="hosts")


def _rotation(row: Row, names: PlantNames) -> list[Statement]:
    agent = _agent(row, f"{row.name} | {row['disease']}")
    if isinstance(agent, Refused):
        return [agent]
    others = [name.strip() for name in row["also_avoid_as_printed"].split(";") if name.strip()]
    least, most = (Decimal(row[end]) if row[end] else None for end in ("years_min", "years_max"))
    return _statements(
        row,
        names,
        agent,
        ((row.name, "main"), *((name, "side") for name in others)),
        verbatim=row["interval_as_printed"],
        locator=f"table of rotation periods, {row.name}, {row['disease']}",
        years=None if least is None and most is None else (least, most),
    )


def _near_walnut(row: Row, names: PlantNames, emissions: Mapping[EmissionId, Emission]) -> list[Statement]:
    if row["listed_as"] not in LISTED_AS:
        return [refuse(row, f"listed_as '{row['listed_as']}' is not known", "use sensitive or tolerant")]
    if row["grade"] not in GRADES:
        return [refuse(row, f"grade '{row['grade']}' is not known", "use A, B, C or D")]
    if JUGLONE not in emissions:
        return [refuse(row, "juglone is not in emissions.csv", "add it there")]
    meant = hosts(row, row.name, names, crops="near walnut")
    if not isinstance(meant, list):
        return [meant]
    return [
        emissions[JUGLONE],
        *(
            EmissionDraft(
                emission=JUGLONE,
                plant=host.plant,
                listed_as="sensitive" if row["listed_as"] == "sensitive" else "tolerant",
                grade=row["grade"],  # type: ignore[arg-type]
                scope=host.scope,
                verbatim=f"{row.name}: {row['listed_as']}",
                name_as_printed=row.name,
                source=_source(row),
                locator="list of plants near black walnut",
                basis=HOW_READ[row["how_read"]],
                note="; ".join(note for note in (row["conflict"], host.note) if note) or None,
            )
            for host in meant
        ),
    ]
