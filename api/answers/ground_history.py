"""Pests and diseases known to be in the ground: found by name, and what they hold against single plants."""

from collections.abc import Iterable

from api.answers.ground import refuse
from api.nearest import nearest
from kb.enemy_model import EnemyId
from kb.enemy_table import mode_of
from kb.mixture.leftover import IN_GROUND, in_this_ground
from kb.mixture.profile import Profile
from kb.mixture.site import SiteRule
from kb.model import PlantId
from kb.names import fold
from kb.snapshot import Snapshot

Rules = dict[str, tuple[SiteRule, ...]]
MOST_NAMED = 4
NOT_SAID = "What lives in this ground was not said: where it matters, it is a condition (history says it)."


def known_enemies(snapshot: Snapshot, names: tuple[str, ...]) -> frozenset[str]:
    """Ids of the enemies that go by these names. Raises BadParameter with the nearest.

    What does not wait in the ground (a blight of the leaves) is refused: as history it says nothing.
    """
    if not names:
        return frozenset()
    known = {fold(enemy.name): enemy for enemy in snapshot.enemies.values()}
    known |= {fold(enemy.id): enemy for enemy in snapshot.enemies.values()}
    found = set()
    for name in names:
        enemy = known.get(fold(name))
        if enemy is None:
            near = nearest(fold(name), known)
            meant = f"; the nearest: {', '.join(near)}" if near else ""
            raise refuse("history", f"no pest or disease here goes by '{name}'{meant}.")
        if mode_of(enemy) not in IN_GROUND:
            raise refuse("history", f"'{name}' does not wait in the ground; name what does, or leave it out.")
        found.add(str(enemy.id))
    return frozenset(found)


def ground_rules(snapshot: Snapshot, names: tuple[str, ...]) -> Rules:
    """What the enemies known in this ground hold against each plant that they attack."""
    agents = known_enemies(snapshot, names)
    book = snapshot.enemy_book
    found: Rules = {}
    if not agents or book is None:
        return found
    for plant in snapshot.plants:
        profile = snapshot.profile(plant)
        limits = (
            in_this_ground(agent, host, profile)
            for agent, host in book.listing(profile)
            if agent.id in agents
        )
        rules = tuple(
            SiteRule("enemies", limit.text, limit.records, "avoid" if limit.hard else "poor", limit.lift)
            for limit in limits
            if limit is not None
        )
        if rules:
            found[str(plant)] = rules
    return found


def history_notes(snapshot: Snapshot, names: tuple[str, ...], plants: Iterable[PlantId]) -> list[str]:
    """Of which of these plants no list says whether an enemy known in the ground attacks them.

    Where nothing is known of the ground, that.
    """
    if not names:
        return [NOT_SAID]
    found = []
    asked = tuple(dict.fromkeys(plants))
    for agent in sorted(known_enemies(snapshot, names)):
        silent = [
            profile.name
            for plant in asked
            if not _listed(snapshot, agent, profile := snapshot.profile(plant))
        ]
        if silent:
            more = f" and {len(silent) - MOST_NAMED} more" if len(silent) > MOST_NAMED else ""
            who, enemy = ", ".join(silent[:MOST_NAMED]), snapshot.enemies[EnemyId(agent)]
            found.append(
                f"Whether {enemy.name} attacks {who}{more} "
                "is not on record, and not judged: that is not the same as safe from it."
            )
    return found


def _listed(snapshot: Snapshot, agent: str, profile: Profile) -> bool:
    return any(listed.id == agent for listed, _ in snapshot.enemy_book.listing(profile))
