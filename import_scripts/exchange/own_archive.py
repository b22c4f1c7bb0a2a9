"""An archive of our own making, read back: plants, records, cautions, decisions, pests and diseases.

Cells are read by the same table of columns that wrote them (``kb.exchange.archive_layout``).
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from typing import Any

from import_scripts.exchange.archive_meta import Archive, ArchiveRow, rows_of
from import_scripts.exchange.archive_zip import StrangeZip
from import_scripts.exchange.gathered import Brought, Gathered, Place
from import_scripts.exchange.numbers import number
from import_scripts.exchange.sources import fault_of
from kb.exchange import archive_layout as layout
from kb.exchange.archive_layout import Layout
from kb.exchange.cells import BadCell, cell_of, hints_of, parted, shortened, value_of
from kb.exchange.value_text import value_text
from kb.model import (
    Caution,
    CommonName,
    Decision,
    DecisionRole,
    Name,
    Plant,
    PlantId,
    Record,
    Source,
    SourceKey,
    Trait,
    TraitId,
    canonical,
)
from kb.namespaces import BASE, local
from kb.snapshot import Snapshot
from kb.statements.enemy_model import Emission, EmissionStatement, Enemy, HostStatement
from kb.stores.files import PLAIN

MARK = f"{BASE}numberKind"
"""The column by which an archive of ours is known."""


class OwnReader:
    """Reads the tables of one archive into ``gathered``; bad rows go to the report."""

    def __init__(self, snapshot: Snapshot, gathered: Gathered, report: Brought, *, add_plants: bool) -> None:
        self.snapshot = snapshot
        self.gathered = gathered
        self.report = report
        self.add_plants = add_plants
        self.bad_sources: set[str] = set()
        self.unknown: set[str] = set()

    def read(self, archive: StrangeZip, described: Archive) -> None:
        """Every table that we know, in the order in which they lean on each other."""
        read = {
            layout.REFERENCES: self._references,
            layout.TAXA: self._taxa,
            layout.NAMES: self._names,
            layout.RECORDS: self._records,
            layout.CAUTIONS: self._cautions,
            layout.DECISIONS: self._decisions,
            layout.HOSTS: self._hosts,
            layout.EMISSIONS: self._emissions,
            **dict.fromkeys(layout.CURATED, self._curated),
        }
        for table, handle in read.items():
            found = described.of(table.row_type)
            if found is not None:
                handle(_Rows(table, rows_of(archive, described, found), self.report))
        known = {table.row_type for table in read}
        for other in described.tables:
            if other.row_type not in known:
                self.report.notices.append(f"the table of {other.row_type} was not read: it is none of ours")

    def _references(self, rows: "_Rows") -> None:
        hints = hints_of(Source)
        for row in rows:
            said = row.fields(hints)
            if said is None:
                continue
            source = Source(**said)
            known = self.snapshot.sources.get(source.key) or self.gathered.sources.get(source.key)
            if known is not None and known != source:
                self.bad_sources.add(source.key)
                row.refuse(
                    f"source '{source.key}' is on file with other words", "give this one a key of its own"
                )
            elif known is None and (fault := fault_of(source)) is not None:
                self.bad_sources.add(source.key)
                row.refuse(str(fault), fault.mend)
            elif known is None:
                self.gathered.sources[source.key] = source

    def _taxa(self, rows: "_Rows") -> None:
        accepted: dict[PlantId, tuple[_Row, Plant]] = {}
        synonyms: dict[PlantId, list[Name]] = {}
        for row in rows:
            if row["taxonomicStatus"] == "synonym":
                of = PlantId(local("plant", row["acceptedNameUsageID"]))
                name = Name(
                    row["scientificName"], row.maybe("scientificNameAuthorship"), row.maybe("sourceKey")
                )
                synonyms.setdefault(of, []).append(name)
                continue
            parent = row.maybe("parentNameUsageID")
            plant = Plant(
                id=PlantId(local("plant", row["taxonID"])),
                scientific_name=row["scientificName"],
                authority=row.maybe("scientificNameAuthorship"),
                rank=row["taxonRank"],
                according_to=SourceKey(row["sourceKey"]),
                parent=PlantId(local("plant", parent)) if parent else None,
                groups=parted(row["plantingGroup"]),
            )
            if PLAIN.fullmatch(plant.id) is None:
                row.refuse(f"'{shortened(plant.id)}' is no id of a plant", "write it like genus-epithet")
                continue
            if plant.id in accepted:
                row.refuse(f"the id {plant.id} stands twice", "give each plant its own id")
            accepted[plant.id] = (row, plant)
        for plant_id, (row, plant) in accepted.items():
            whole = replace(plant, synonyms=tuple(synonyms.get(plant_id, ())))
            known = self.snapshot.plants.get(plant_id)
            if known is not None:
                if _identity(known) != _identity(whole):
                    self.report.notices.append(f"{plant_id} is named otherwise here; the names on file stay")
            elif self.add_plants:
                self.gathered.plants[plant_id] = (row.place, whole)
            else:
                self.unknown.add(plant_id)
                row.refuse("is no plant of this store", "add it with --add-plants", unmatched=True)

    def _names(self, rows: "_Rows") -> None:
        found: dict[PlantId, list[CommonName]] = {}
        for row in rows:
            name = CommonName(row["vernacularName"], row["language"])
            listed = found.setdefault(row.plant, [])
            listed.insert(0 if row["isPreferredName"] == "true" else len(listed), name)
        for plant_id, names in found.items():
            if plant_id in self.gathered.plants:
                place, plant = self.gathered.plants[plant_id]
                self.gathered.plants[plant_id] = (place, replace(plant, common_names=tuple(names)))

    def _records(self, rows: "_Rows") -> None:
        hints = hints_of(Record)
        traits = self.snapshot.vocabulary.traits
        for row in rows:
            trait = traits.get(TraitId(local("trait", row["measurementTypeIRI"])))
            if trait is None:
                row.refuse(
                    f"'{shortened(row['measurementTypeIRI'])}' is no trait here", "mend measurementTypeIRI"
                )
                continue
            said = row.fields(hints)
            ends = row.ends(trait)
            if said is None or ends is None or not self._known(row, said):
                continue
            record = Record(
                id=local("record", row["measurementID"]),
                plant=row.plant,
                trait=trait.id,
                low=ends[0],
                likely=ends[1],
                high=ends[2],
                revises=local("record", row["revises"]) or None,
                **said,
            )
            shown = value_text(record, window=trait.kind == "window")
            if row["measurementValue"] != shown:
                row.refuse(
                    f"measurementValue says '{shortened(row['measurementValue'])}', its columns '{shown}'",
                    "make them say the same",
                )
            elif row["measurementUnit"] != cell_of(trait.unit_label):
                row.refuse(
                    f"measurementUnit '{shortened(row['measurementUnit'])}' is not that of {trait.id}",
                    f"give the values in {trait.unit_label or 'no unit'}",
                )
            else:
                self.gathered.statements.append((row.place, record))

    def _placed(self, row: "_Row", plant: PlantId) -> bool:
        """Whether a plant is here or comes with the archive; refuses the row else."""
        if plant in self.unknown:
            return False  # told once, where the plant stands
        if plant not in self.snapshot.plants and plant not in self.gathered.plants:
            named = f"'{shortened(plant)}' is no plant of the archive's core"
            row.refuse(named, "mend its id", unmatched=True)
            return False
        return True

    def _known(self, row: "_Row", said: Mapping[str, Any]) -> bool:
        """Whether plant and source of a statement are here or come with it; refuses the row else."""
        if not self._placed(row, row.plant):
            return False
        key = said["source"]
        if key in self.bad_sources:
            row.refuse(f"its source '{key}' was refused", "mend reference.csv")
            return False
        if key not in self.snapshot.sources and key not in self.gathered.sources:
            row.refuse(f"its source '{shortened(key)}' is not in reference.csv", "add the source there")
            return False
        return True

    def _cautions(self, rows: "_Rows") -> None:
        for row in rows:
            said = row.fields(hints_of(Caution))
            if said is not None and self._known(row, said):
                self.gathered.statements.append((row.place, Caution(plant=row.plant, **said)))

    def _decisions(self, rows: "_Rows") -> None:
        found: dict[str, list[_Row]] = {}
        for row in rows:
            found.setdefault(row["decision"], []).append(row)
        for name, parts in found.items():
            first = parts[0]
            try:
                decision = Decision(
                    id=name,
                    plant=first.plant,
                    trait=TraitId(local("trait", first["measurementTypeIRI"])),
                    decided_by=value_of(first["decidedBy"], str),
                    decided_on=value_of(first["decidedOn"], hints_of(Decision)["decided_on"]),
                    why=value_of(first["why"], str),
                    weighed=tuple(
                        (part["record"], value_of(part["role"], DecisionRole))
                        for part in sorted(parts, key=lambda part: int(part["place"] or 0))
                        if part["record"]
                    ),
                )
            except (BadCell, ValueError) as fault:
                first.refuse(
                    f"decision '{shortened(name)}': {fault}", getattr(fault, "mend", "mend its rows")
                )
                continue
            if self._placed(first, first.plant):
                self.gathered.statements.append((first.place, decision))

    def _curated(self, rows: "_Rows") -> None:
        """Observations, withdrawals, reviews, searches: a row holds all fields of one."""
        made = rows.table.holds
        if made is None:
            raise AssertionError(rows.table.file)
        for row in rows:
            said = row.fields(hints_of(made))
            if said is not None and self._placed(row, row.plant):
                self.gathered.statements.append((row.place, made(plant=row.plant, **said)))

    def _hosts(self, rows: "_Rows") -> None:
        hints = hints_of(HostStatement)
        for row in rows:
            said = row.fields(hints)
            about = row.read(
                hints_of(Enemy), {"organism": "organism", "kind": "enemyKind", "attacks": "attacks"}
            )
            if said is None or about is None or not self._known(row, said):
                continue
            enemy = Enemy(id=said["enemy"], name=row["enemyName"], **about)
            self.gathered.enemies.setdefault(enemy.id, enemy)
            self.gathered.statements.append((row.place, HostStatement(plant=row.plant, **said)))

    def _emissions(self, rows: "_Rows") -> None:
        for row in rows:
            said = row.fields(hints_of(EmissionStatement))
            about = row.read(hints_of(Emission), {"strength": "strength", "acts_through": "actsThrough"})
            reach = row.pair("minReach", "maxReach")
            if said is None or about is None or reach is None or not self._known(row, said):
                continue
            emitter = PlantId(local("plant", row["emitter"]))
            if not self._placed(row, emitter):
                continue
            emission = Emission(id=said["emission"], name=row["emissionName"], emitter=emitter, **about)
            if reach != (None, None):
                emission = replace(emission, reach_m=reach)
            self.gathered.emissions.setdefault(emission.id, emission)
            self.gathered.statements.append((row.place, EmissionStatement(plant=row.plant, **said)))


class _Row:
    """One row by the column names of its layout."""

    def __init__(self, table: Layout, row: ArchiveRow, report: Brought) -> None:
        self.table = table
        self.report = report
        self.plant = PlantId(local("plant", row.taxon))
        self.place = Place(row.file, row.line, shortened(self.plant))
        self._cells = {column.name: row[column.term] for column in table.columns}
        self._cells[table.columns[0].name] = row.taxon

    def __getitem__(self, column: str) -> str:
        return self._cells[column]

    def maybe(self, column: str) -> str | None:
        return self._cells[column] or None

    def refuse(self, reason: str, mend: str, *, unmatched: bool = False) -> None:
        told = self.report.unmatched if unmatched else self.report.refused
        told.append(self.place.refused(reason, mend, unmatched=unmatched))

    def read(self, hints: Mapping[str, Any], columns: Mapping[str, str]) -> dict[str, Any] | None:
        """Fields from columns (field -> column); None where a cell cannot be read, which is refused."""
        said: dict[str, Any] = {}
        for field, column in columns.items():
            try:
                said[field] = value_of(self._cells[column], hints[field])
            except BadCell as fault:
                self.refuse(f"column {column}: {fault}", fault.mend)
                return None
        return said

    def fields(self, hints: Mapping[str, Any]) -> dict[str, Any] | None:
        """All fields that the layout's columns hold; ends of a pair are put together."""
        plain = {c.field: c.name for c in self.table.columns if c.field and "." not in c.field}
        said = self.read(hints, plain)
        for column in self.table.columns:
            name, dot, place = column.field.partition(".")
            if said is not None and dot and place == "0":
                ends = self.pair(column.name, self._other(name))
                if ends is None:
                    return None
                said[name] = None if ends == (None, None) else ends
        return said

    def pair(self, low: str, high: str) -> tuple[Any, Any] | None:
        """The two ends of a span, empty or not; None where a cell cannot be read, which is refused."""
        try:
            return number(self._cells[low]), number(self._cells[high])
        except BadCell as fault:
            self.refuse(f"column {low}: {fault}", fault.mend)
            return None

    def _other(self, field: str) -> str:
        return next(c.name for c in self.table.columns if c.field == f"{field}.1")

    def ends(self, trait: Trait) -> tuple[Any, Any, Any] | None:
        """Lower end, likely value, upper end of a record."""
        names = ("startWeek", "likelyWeek", "endWeek"), ("minValue", "likelyValue", "maxValue")
        mine, others = names if trait.kind == "window" else names[::-1]
        found = []
        for column in (*mine, *others):
            try:
                found.append(number(self._cells[column]))
            except BadCell as fault:
                self.refuse(f"column {column}: {fault}", fault.mend)
                return None
        if any(value is not None for value in found[3:]):
            self.refuse(
                f"holds a value in {', '.join(others)}, which {trait.id} does not use", "leave them empty"
            )
            return None
        return (found[0], found[1], found[2])


class _Rows:
    """The rows of one table of ours, counted as they are read."""

    def __init__(self, table: Layout, rows: Iterable[ArchiveRow], report: Brought) -> None:
        self.table = table
        self.rows = rows
        self.report = report

    def __iter__(self) -> Iterator[_Row]:
        for row in self.rows:
            self.report.rows += 1
            yield _Row(self.table, row, self.report)


def _identity(plant: Plant) -> Plant:
    """What the core says of a plant: its names, rank, place and groups."""
    return canonical(replace(plant.bare(), common_names=()))


def is_own(described: Archive) -> bool:
    """Whether an archive was made here: its records carry our column for the kind of number."""
    table = described.of(layout.RECORDS.row_type)
    return table is not None and MARK in table.terms
