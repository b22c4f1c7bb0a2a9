"""Enemies and emissions as files in a folder: where each lies, reading them all, laying one over another."""

from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TypeVar

from kb.errors import BadFile
from kb.statements.enemy_model import (
    Emission,
    EmissionId,
    EmissionStatement,
    Enemy,
    EnemyId,
    HostStatement,
    canonical_emission,
    canonical_enemy,
)
from kb.stores.files import plain_name, read_text, turtle_files
from kb.text.enemy_turtle import (
    emission_from_turtle,
    emission_to_turtle,
    enemy_from_turtle,
    enemy_to_turtle,
    parse_enemies,
)

ENEMIES = "enemies"
Statement = TypeVar("Statement", bound=HostStatement | EmissionStatement)


@dataclass(slots=True)
class EnemyRoom:
    """The enemies and emissions of a store, by id."""

    enemies: dict[EnemyId, Enemy] = field(default_factory=dict)
    emissions: dict[EmissionId, Emission] = field(default_factory=dict)

    def add(self, thing: Enemy | Emission) -> None:
        """Lay one over what is there: its own statements join those of the same enemy."""
        if isinstance(thing, Enemy):
            known = self.enemies.get(thing.id)
            said = _joined(known.statements if known else (), thing.statements)
            self.enemies[thing.id] = canonical_enemy(replace(known or thing, statements=said))
        else:
            there = self.emissions.get(thing.id)
            listed = _joined(there.statements if there else (), thing.statements)
            self.emissions[thing.id] = canonical_emission(replace(there or thing, statements=listed))


def _joined(base: tuple[Statement, ...], own: tuple[Statement, ...]) -> tuple[Statement, ...]:
    by_id: dict[str, Statement] = {said.id: said for said in (*base, *own)}
    return tuple(by_id.values())


def enemy_path(folder: Path, name: EnemyId | EmissionId) -> Path:
    """``phytophthora-infestans`` -> ``enemies/phytophthora-infestans.ttl``."""
    return folder / ENEMIES / f"{plain_name(name)}.ttl"


def load_enemies(folder: Path, room: EnemyRoom, faults: list[BadFile]) -> None:
    """Every sound enemy and emission of a folder into ``room``; what is broken is a fault."""
    for path in turtle_files(folder, ENEMIES):
        shown = path.relative_to(folder).as_posix()
        try:
            parsed = parse_enemies(read_text(path, shown), shown)
        except BadFile as fault:
            faults.append(fault)
            continue
        faults += parsed.faults
        for thing in (parsed.enemy, parsed.emission):
            if thing is not None:
                room.add(thing)


def text_of(thing: Enemy | Emission) -> str:
    """The text of its file. Raises BadFile where it would not read back as it was written."""
    if isinstance(thing, Enemy):
        text = enemy_to_turtle(thing)
        same = enemy_from_turtle(text, f"{thing.id}.ttl") == canonical_enemy(thing)
    else:
        text = emission_to_turtle(thing)
        same = emission_from_turtle(text, f"{thing.id}.ttl") == canonical_emission(thing)
    if not same:
        raise BadFile(f"{thing.id}.ttl", None, "would not read back as it was written; nothing was kept")
    return text


def beyond(thing: Enemy | Emission, folder: Path) -> Enemy | Emission:
    """The enemy or emission without the statements that this folder holds already."""
    path = enemy_path(folder, thing.id)
    if not path.is_file():
        return thing
    base = parse_enemies(read_text(path, path.name), path.name)
    if isinstance(thing, Enemy):
        held = base.enemy.statements if base.enemy else ()
        return replace(thing, statements=tuple(said for said in thing.statements if said not in held))
    listed = base.emission.statements if base.emission else ()
    return replace(thing, statements=tuple(said for said in thing.statements if said not in listed))
