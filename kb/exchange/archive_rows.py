"""What stands in each table of our Darwin Core Archive."""

from collections.abc import Callable, Iterator

from kb.exchange import archive_layout as layout
from kb.exchange.archive_layout import Layout
from kb.exchange.cells import cell_of, joined
from kb.exchange.value_text import value_text
from kb.model import Caution, Decision, Plant, PlantId, Record, SourceKey
from kb.namespaces import iri
from kb.snapshot import Snapshot
from kb.statements.enemy_model import Emission, EmissionStatement, Enemy, HostStatement
from kb.turtle import synonym_slug

Row = tuple[str, ...]
Statement = Record | Caution | HostStatement | EmissionStatement


def _row(table: Layout, cells: dict[str, str]) -> Row:
    return tuple(cells.get(column.name, "") for column in table.columns)


def _fields(table: Layout, thing: object) -> dict[str, str]:
    """The cells of the columns that hold a field of the thing as it is."""
    cells = {}
    for column in table.columns:
        name, _, place = column.field.partition(".")
        if name:
            value = getattr(thing, name)
            cells[column.name] = cell_of(value[int(place)] if place and value is not None else value)
    return cells


def _said(snapshot: Snapshot, table: Layout, said: Statement) -> dict[str, str]:
    """The cells that every statement has."""
    source = snapshot.sources.get(said.source)
    return {
        **_fields(table, said),
        "taxonID": iri("plant", said.plant),
        "bibliographicCitation": source.citation if source else "",
        "rights": source.licence if source else "",
    }


def taxon_rows(snapshot: Snapshot) -> Iterator[Row]:
    for plant in snapshot.plants.values():
        yield _row(
            layout.TAXA,
            {
                "taxonID": plant.iri,
                "parentNameUsageID": iri("plant", plant.parent) if plant.parent else "",
                "scientificName": plant.scientific_name,
                "scientificNameAuthorship": cell_of(plant.authority),
                "taxonRank": plant.rank,
                "taxonomicStatus": "accepted",
                "nameAccordingTo": _citation(snapshot, plant.according_to),
                "nomenclaturalCode": "ICN",
                "plantingGroup": joined(plant.groups),
                "sourceKey": plant.according_to,
            },
        )
        for name in plant.synonyms:
            yield _row(
                layout.TAXA,
                {
                    "taxonID": iri("name", f"{plant.id}.synonym-{synonym_slug(name)}"),
                    "acceptedNameUsageID": plant.iri,
                    "scientificName": name.name,
                    "scientificNameAuthorship": cell_of(name.authority),
                    "taxonomicStatus": "synonym",
                    "nameAccordingTo": _citation(snapshot, name.according_to),
                    "nomenclaturalCode": "ICN",
                    "sourceKey": cell_of(name.according_to),
                },
            )


def _citation(snapshot: Snapshot, key: str | None) -> str:
    source = snapshot.sources.get(SourceKey(key)) if key else None
    return source.citation if source else cell_of(key)


def name_rows(snapshot: Snapshot) -> Iterator[Row]:
    for plant in snapshot.plants.values():
        for place, name in enumerate(plant.common_names):
            yield (plant.iri, name.name, name.lang, "false" if place else "true")


def record_rows(snapshot: Snapshot) -> Iterator[Row]:
    for plant in snapshot.plants.values():
        for record in plant.records:
            yield _record_row(snapshot, record)


def _record_row(snapshot: Snapshot, record: Record) -> Row:
    trait = snapshot.vocabulary.traits[record.trait]
    window = trait.kind == "window"
    ends = ("startWeek", "likelyWeek", "endWeek") if window else ("minValue", "likelyValue", "maxValue")
    values = (record.low, record.likely, record.high)
    return _row(
        layout.RECORDS,
        {
            **_said(snapshot, layout.RECORDS, record),
            "measurementID": record.iri,
            "measurementType": trait.label,
            "measurementTypeIRI": iri("trait", trait.id),
            "openTerm": " | ".join(match for kind, match in trait.matches if kind == "exactMatch"),
            "measurementValue": value_text(record, window=window),
            "measurementUnit": cell_of(trait.unit_label),
            "measurementUnitIRI": cell_of(trait.unit),
            "measurementMethod": cell_of(record.condition("method")),
            "revises": iri("record", record.revises) if record.revises else "",
            **{name: cell_of(value) for name, value in zip(ends, values, strict=True)},
        },
    )


def caution_rows(snapshot: Snapshot) -> Iterator[Row]:
    for plant in snapshot.plants.values():
        for caution in plant.cautions:
            yield _row(layout.CAUTIONS, _said(snapshot, layout.CAUTIONS, caution))


def decision_rows(snapshot: Snapshot) -> Iterator[Row]:
    for plant in snapshot.plants.values():
        for decision in plant.decisions:
            yield from _decision_rows(plant, decision)


def _decision_rows(plant: Plant, decision: Decision) -> Iterator[Row]:
    """One row a record weighed; one row without a record where none was."""
    said = (plant.iri, decision.id, iri("trait", decision.trait), decision.decided_by)
    for place, (record, role) in enumerate(decision.weighed or (("", ""),), start=1):
        when = cell_of(decision.decided_on)
        yield (*said, when, decision.why, str(place) if record else "", record, role)


def host_rows(snapshot: Snapshot) -> Iterator[Row]:
    for enemy in snapshot.enemies.values():
        for said in enemy.statements:
            yield _row(layout.HOSTS, {**_said(snapshot, layout.HOSTS, said), **enemy_cells(enemy)})


def enemy_cells(enemy: Enemy) -> dict[str, str]:
    """What is said of the enemy itself in each of its rows."""
    return {
        "enemyName": enemy.name,
        "organism": cell_of(enemy.organism),
        "enemyKind": enemy.kind,
        "attacks": joined(enemy.attacks),
    }


def emission_rows(snapshot: Snapshot) -> Iterator[Row]:
    for emission in snapshot.emissions.values():
        for said in emission.statements:
            yield _row(
                layout.EMISSIONS, {**_said(snapshot, layout.EMISSIONS, said), **emission_cells(emission)}
            )


def emission_cells(emission: Emission) -> dict[str, str]:
    """What is said of the emission itself in each of its rows."""
    near, far = emission.reach_m or (None, None)
    return {
        "emissionName": emission.name,
        "emitter": iri("plant", emission.emitter),
        "strength": str(emission.strength),
        "actsThrough": emission.acts_through,
        "minReach": cell_of(near),
        "maxReach": cell_of(far),
    }


def reference_rows(snapshot: Snapshot) -> Iterator[Row]:
    """Each work once for each plant that it is cited for."""
    cited: dict[PlantId, set[SourceKey]] = {plant: set() for plant in snapshot.plants}
    for plant in snapshot.plants.values():
        cited[plant.id] |= cited_by(plant)
    for said in snapshot.statements():
        if said.plant in cited:
            cited[said.plant].add(said.source)
    for plant_id, keys in cited.items():
        for key in sorted(keys & set(snapshot.sources)):
            cells = _fields(layout.REFERENCES, snapshot.sources[key])
            yield _row(layout.REFERENCES, {**cells, "taxonID": iri("plant", plant_id)})


def cited_by(plant: Plant) -> set[SourceKey]:
    """The sources that a plant's file names: for records, cautions and names."""
    names = (SourceKey(name.according_to) for name in plant.synonyms if name.according_to)
    records = (record.source for record in plant.records)
    cautions = (caution.source for caution in plant.cautions)
    return {*records, *cautions, *names, plant.according_to}


def curated_rows(table: Layout, part: str) -> Callable[[Snapshot], Iterator[Row]]:
    """The rows of observations, withdrawals, reviews or searches: each field as it is."""

    def rows(snapshot: Snapshot) -> Iterator[Row]:
        for plant in snapshot.plants.values():
            for one in getattr(plant, part):
                yield _row(table, {**_fields(table, one), "taxonID": plant.iri})

    return rows


ROWS: dict[str, Callable[[Snapshot], Iterator[Row]]] = {
    layout.TAXA.file: taxon_rows,
    layout.NAMES.file: name_rows,
    layout.RECORDS.file: record_rows,
    layout.REFERENCES.file: reference_rows,
    layout.CAUTIONS.file: caution_rows,
    layout.DECISIONS.file: decision_rows,
    layout.HOSTS.file: host_rows,
    layout.EMISSIONS.file: emission_rows,
    layout.OBSERVATIONS.file: curated_rows(layout.OBSERVATIONS, "observations"),
    layout.WITHDRAWALS.file: curated_rows(layout.WITHDRAWALS, "withdrawals"),
    layout.REVIEWS.file: curated_rows(layout.REVIEWS, "reviews"),
    layout.SEARCHES.file: curated_rows(layout.SEARCHES, "searches"),
}
