"""What a file that is brought in states, and the report of what became of it."""

from dataclasses import dataclass, field
from datetime import date
from typing import Any

from import_scripts.base import Draft, Refused
from import_scripts.run import Report
from kb.model import Caution, Decision, Plant, PlantId, Record, Source, SourceKey
from kb.statements.curation_model import Observation, Review, Withdrawal
from kb.statements.enemy_model import Emission, EmissionId, EmissionStatement, Enemy, EnemyId, HostStatement
from kb.statements.search_model import Search

Curated = Observation | Withdrawal | Review | Search
Statement = Record | Caution | Decision | Curated | HostStatement | EmissionStatement


@dataclass(frozen=True, slots=True)
class Place:
    """Where a statement stands: file, line, and the plant as it is called there."""

    file: str
    line: int
    name: str

    def refused(self, reason: str, mend: str, *, unmatched: bool = False) -> Refused:
        return Refused(self.file, self.line, self.name, reason, mend, unmatched)


@dataclass(frozen=True, slots=True)
class NewRecord:
    """A record without an id of its own yet: what it states, who entered it, and what it revises."""

    draft: Draft
    entered_by: str | None = None
    entered_on: date | None = None
    revises: str | None = None


@dataclass(slots=True)
class Gathered:
    """Everything that a file states, each with its place; ``plants`` are those it asks to add."""

    statements: list[tuple[Place, Statement]] = field(default_factory=list)
    drafts: list[tuple[Place, NewRecord]] = field(default_factory=list)
    sources: dict[SourceKey, Source] = field(default_factory=dict)
    plants: dict[PlantId, tuple[Place, Plant]] = field(default_factory=dict)
    enemies: dict[EnemyId, Enemy] = field(default_factory=dict)
    emissions: dict[EmissionId, Emission] = field(default_factory=dict)


@dataclass(slots=True)
class Brought(Report):
    """What became of a file; ``kept`` says whether anything was written."""

    kept: bool = False
    notices: list[str] = field(default_factory=list)

    @property
    def faulty(self) -> bool:
        """Whether some rows became nothing."""
        return bool(self.refused or self.unmatched)

    def as_dict(self) -> dict[str, Any]:
        return {**Report.as_dict(self), "kept": self.kept, "notices": self.notices}

    def lines(self) -> list[str]:
        """The report for a person: the counts, each bad row, and what was done."""
        bad = sorted({(one.file, one.row) for one in (*self.refused, *self.unmatched)})
        lines = [
            (
                f"{self.importer}: {self.rows} rows read; {len(self.added)} new, {self.unchanged} on file, "
                f"{len(bad)} rows not taken."
            )
        ]
        lines += [f"changed: {old} stays; {new} revises it, decide between them" for old, new in self.changed]
        lines += [
            f"refused: {r.file}, line {r.row}, '{r.name}': {r.reason}; {r.mend}"
            for r in sorted((*self.refused, *self.unmatched), key=lambda r: (r.file, r.row))
        ]
        lines += [f"note: {text}" for text in self.notices]
        return [*lines, self._end()]

    def _end(self) -> str:
        if not self.kept:
            if self.faulty:
                return "Nothing was written. Mend the rows above, or keep the good ones with --keep-good."
            return "Nothing was written: there is nothing new."
        return (
            f"Wrote {len(self.plants_written)} plants, {len(self.sources_written)} sources, "
            f"{len(self.enemies_written)} pests, diseases or emissions."
        )
