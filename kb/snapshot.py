"""One version of the data set, immutable: names, records, adopted values, profiles."""

from collections.abc import Mapping
from functools import cached_property
from pathlib import Path
from types import MappingProxyType
from typing import Any, Protocol

from kb.adopt import adopt_all, local_estimates
from kb.adoption.observed import LocalEstimate
from kb.errors import BadFile, UnknownPlace, UnknownRecord
from kb.mixture.enemies.enemy_book import EnemyBook
from kb.mixture.kept import KeptBy
from kb.mixture.profile import Activity, Profile
from kb.model import Adopted, Caution, Decision, Plant, PlantId, Record, Source, SourceKey, TraitId
from kb.names import NameIndex
from kb.namespaces import BASE
from kb.profiles.genus import GenusFacts
from kb.profiles.stocks import ON_STOCK, fitted_to_stock
from kb.statements.curation_model import Observation, Review, Withdrawal
from kb.statements.enemy_model import Emission, EmissionId, EmissionStatement, Enemy, EnemyId, HostStatement
from kb.statements.enemy_table import agents_of, emitter_of
from kb.statements.search_model import Search
from kb.stores.journal import Entry
from kb.table import build_profile, build_window
from kb.uncollected import uncollected
from kb.vocabulary_store import Vocabulary, load_vocabulary

TOLD_KEPT = 1024


class Kept(Protocol):
    """Adopted values and profiles that were computed before, for every plant of the snapshot."""

    def adopted(self, plant_id: PlantId) -> list[Adopted]: ...

    def profile(self, plant_id: PlantId) -> Profile | None: ...


Statement = (
    Record
    | Caution
    | Decision
    | Observation
    | Withdrawal
    | Review
    | Search
    | HostStatement
    | EmissionStatement
)


class Snapshot:
    """What was known at one moment. Adopted values and profiles are computed once, when asked for.

    ``faults`` are the files, or parts of files, that were left out because they are broken. A store that
    can be written gives the ``revisions`` of its plants and its ``journal`` along.
    """

    def __init__(
        self,
        version: str,
        plants: Mapping[PlantId, Plant],
        sources: Mapping[SourceKey, Source],
        *,
        enemies: Mapping[EnemyId, Enemy] | None = None,
        emissions: Mapping[EmissionId, Emission] | None = None,
        faults: tuple[BadFile, ...] = (),
        kept: Kept | None = None,
        revisions: Mapping[PlantId, str] | None = None,
        journal: tuple[Entry, ...] = (),
    ) -> None:
        self.version = version
        self.plants: Mapping[PlantId, Plant] = MappingProxyType(dict(sorted(plants.items())))
        self.sources: Mapping[SourceKey, Source] = MappingProxyType(dict(sorted(sources.items())))
        self.enemies: Mapping[EnemyId, Enemy] = MappingProxyType(dict(sorted((enemies or {}).items())))
        self.emissions: Mapping[EmissionId, Emission] = MappingProxyType(
            dict(sorted((emissions or {}).items()))
        )
        self.faults = faults
        self._kept = kept
        self.revisions: Mapping[PlantId, str] = MappingProxyType(dict(revisions or {}))
        self.journal = journal
        self.folders: tuple[Path, ...] = ()
        self._adopted: dict[PlantId, Mapping[TraitId, Adopted]] = {}
        self._profiles: dict[PlantId, Profile] = {}
        self._places: dict[str, Snapshot] = {}
        self.told: KeptBy[Any] = KeptBy(TOLD_KEPT)
        """What answers made of this version alone, for the next one to have; thrown away with it."""
        self.observed_here: Mapping[PlantId, tuple[TraitId, ...]] = {}

    def written(
        self,
        revisions: Mapping[PlantId, str],
        journal: tuple[Entry, ...],
        folders: tuple[Path, ...] = (),
    ) -> "Snapshot":
        """The same, once, with what its store knows beside it.

        Revisions of files, the journal, and the folders whose files it was read from.
        """
        self.revisions = MappingProxyType(dict(revisions))
        self.journal = journal
        self.folders = folders
        return self

    @property
    def vocabulary(self) -> Vocabulary:
        return load_vocabulary()

    @cached_property
    def names(self) -> NameIndex:
        return NameIndex.of(self.plants.values())

    def resolve(self, name: str) -> PlantId:
        """The plant that goes by this name. Raises UnknownPlant or AmbiguousPlant."""
        kept: PlantId = self.told.of((), ("name", name), lambda: self.names.resolve(name))
        return kept

    def adopted(self, plant_id: PlantId) -> Mapping[TraitId, Adopted]:
        """The adopted value of each trait that has one; what is missing below is inherited."""
        known = self._adopted.get(plant_id)
        if known is None and self._kept is not None:
            known = MappingProxyType({value.trait: value for value in self._kept.adopted(plant_id)})
            self._adopted[plant_id] = known
        if known is None:
            plant = self.plants[plant_id]
            known = MappingProxyType(adopt_all(plant, self.above(plant), self.vocabulary))
            self._adopted[plant_id] = known
        return known

    def above(self, plant: Plant) -> Mapping[TraitId, Adopted]:
        """The adopted values of the plant that this one belongs to."""
        there = plant.parent is not None and plant.parent in self.plants
        return self.adopted(plant.parent) if plant.parent is not None and there else {}

    def local(self, plant_id: PlantId) -> tuple[LocalEstimate, ...]:
        """The estimates for the places where a plant was observed by the store's own observers."""
        plant = self.plants[plant_id]
        return local_estimates(plant, self.above(plant), self.vocabulary) if plant.observations else ()

    def at(self, place: str) -> "Snapshot":
        """The same data set as one grows it at a place: plants observed there have their values there.

        Stand-ins from a genus stay those of the records. Raises UnknownPlace where nothing was observed.
        """
        key = place.casefold()
        if key not in self._places:
            every = {plant.id: self._here(plant, key) for plant in self.plants.values() if plant.observations}
            here = {plant_id: values for plant_id, values in every.items() if values}
            if not here:
                known = {
                    one.place for plant_id in every for one in self.local(plant_id)
                }  # not what was withdrawn
                raise UnknownPlace(place, tuple(sorted(known)))
            made = Snapshot(
                self.version,
                self.plants,
                self.sources,
                enemies=self.enemies,
                emissions=self.emissions,
                faults=self.faults,
                kept=_Elsewhere(self, here),
            ).written(self.revisions, self.journal, self.folders)
            made.__dict__["genus_facts"] = self.genus_facts
            made.observed_here = {name: tuple(sorted(values)) for name, values in here.items()}
            self._places[key] = made
        return self._places[key]

    def _here(self, plant: Plant, key: str) -> dict[TraitId, Adopted]:
        """The values of a plant at one place; where it grows there on several stocks, the best-known one."""
        local = sorted(
            (one for one in self.local(plant.id) if one.place.casefold() == key),
            key=lambda one: one.site_years,
        )
        return {one.trait: one.in_use(plant.id, self.adopted(plant.id).get(one.trait)) for one in local}

    @cached_property
    def genus_facts(self) -> GenusFacts:
        with uncollected():
            return GenusFacts.of(
                {plant_id: self.adopted(plant_id) for plant_id in self.plants}, self._records
            )

    @cached_property
    def _records(self) -> dict[str, Record]:
        return {record.id: record for plant in self.plants.values() for record in plant.records}

    @cached_property
    def _on_stocks(self) -> dict[PlantId, list[PlantId]]:
        """Trees on named stocks by their species."""
        found: dict[PlantId, list[PlantId]] = {}
        for plant in self.plants.values():
            if plant.rank == ON_STOCK and plant.parent is not None:
                found.setdefault(plant.parent, []).append(plant.id)
        return found

    def profile(self, plant_id: PlantId) -> Profile:
        """The plant as the computation sees it."""
        known = self._profiles.get(plant_id)
        if known is None and self._kept is not None:
            known = self._kept.profile(plant_id)
        if known is None:
            plant, adopted = self.plants[plant_id], self.adopted(plant_id)
            known = build_profile(plant, adopted, self._records, self.genus_facts)
            if plant.rank == ON_STOCK and plant.parent is not None:
                stocks = [self.adopted(one) for one in self._on_stocks.get(plant.parent, ())]
                known = fitted_to_stock(known, self.profile(plant.parent), adopted, stocks)
        self._profiles[plant_id] = known
        return known

    def harvest(self, plant_id: PlantId) -> Activity | None:
        """The weeks of harvest as the computation sees them; None where they are not on record."""
        value = self.adopted(plant_id).get(TraitId("harvest-window"))
        return None if value is None else build_window(value, self._records)

    def profiles(self) -> tuple[Profile, ...]:
        with uncollected():
            return tuple(self.profile(plant_id) for plant_id in self.plants)

    def cautions(self, plant_id: PlantId) -> tuple[Caution, ...]:
        """All cautions of a plant and of the plants it belongs to; retired ones are left out."""
        plant = self.plants[plant_id]
        above = (
            self.cautions(plant.parent) if plant.parent is not None and plant.parent in self.plants else ()
        )
        own = tuple(
            c for c in plant.cautions if c.standing not in {"rejected", "superseded"} and not plant.retired(c)
        )
        return (*own, *above)

    def searches(self, plant_id: PlantId) -> tuple[Search, ...]:
        """The searches for cautions of a plant, latest first; of its species where it has none itself."""
        plant = self.plants[plant_id]
        if plant.searches or plant.parent is None or plant.parent not in self.plants:
            return tuple(sorted(plant.searches, key=lambda one: (one.searched_on, one.id), reverse=True))
        return self.searches(plant.parent)

    @cached_property
    def enemy_book(self) -> EnemyBook:
        """The lists of named enemies, and of what plants give off, made ready for judging."""
        plants = [(p.id, p.genus, p.family.value) for p in self.profiles()]
        return EnemyBook.of(
            agents_of(self.enemies.values()),
            plants,
            map(emitter_of, self.emissions.values()),
            names={p.id: p.name for p in self.profiles()},
        )

    def statements(self) -> tuple[HostStatement | EmissionStatement, ...]:
        """Every statement on an enemy or on what a plant gives off, in the order of their files."""
        hosts = (said for enemy in self.enemies.values() for said in enemy.statements)
        listed = (said for emission in self.emissions.values() for said in emission.statements)
        return (*hosts, *listed)

    @cached_property
    def _by_id(self) -> dict[str, Statement]:
        found: dict[str, Statement] = {}
        for plant in self.plants.values():
            found.update({f"record.{record.id}": record for record in plant.records})
            found.update({f"caution.{caution.id}": caution for caution in plant.cautions})
            found.update({f"decision.{decision.id}": decision for decision in plant.decisions})
            found.update({f"search.{search.id}": search for search in plant.searches})
            found.update({f"observation.{seen.id}": seen for seen in plant.observations})
            found.update({f"withdrawal.{act.id}": act for act in plant.withdrawals})
            found.update({f"review.{act.id}": act for act in plant.reviews})
        found.update({f"record.{said.id}": said for said in self.statements()})
        return found

    def record(self, record: str) -> Statement:
        """The record, caution, decision or statement behind an IRI or id. Raises UnknownRecord."""
        found = self.find(record)
        if found is None:
            raise UnknownRecord(record)
        return found

    def find(self, record: str) -> Statement | None:
        """The same, None where there is none."""
        name = record.removeprefix(BASE)
        for kind in ("", "record.", "caution.", "decision.", "observation.", "search."):
            if kind + name in self._by_id:
                return self._by_id[kind + name]
        return None


class _Elsewhere(Kept):
    """Adopted values and profiles of a data set, but for the plants observed at one place."""

    def __init__(self, whole: Snapshot, here: Mapping[PlantId, Mapping[TraitId, Adopted]]) -> None:
        self._whole = whole
        self._here = here

    def adopted(self, plant_id: PlantId) -> list[Adopted]:
        return list({**self._whole.adopted(plant_id), **self._here.get(plant_id, {})}.values())

    def profile(self, plant_id: PlantId) -> Profile | None:
        return None if plant_id in self._here else self._whole.profile(plant_id)
