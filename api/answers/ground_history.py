"""Pests and diseases known to be in the ground: found by name, and what they hold against single plants."""

from api.answers.ground import refuse
from api.nearest import nearest
from kb.enemy_table import mode_of
from kb.mixture.leftover import IN_GROUND, in_this_ground
from kb.mixture.site import SiteRule
from kb.names import fold
from kb.snapshot import Snapshot

Rules = dict[str, tuple[SiteRule, ...]]


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
