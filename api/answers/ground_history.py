"""Pests and diseases known to be in the ground: found by name, and what they hold against single plants."""

from collections.abc import Iterable

from api.answers.agreement import is_plural
from api.answers.ground import refuse
from api.nearest import nearest
from kb.mixture.follow.leftover import IN_GROUND, in_this_ground
from kb.mixture.profile import Profile
from kb.mixture.site import SiteRule
from kb.model import PlantId
from kb.names import fold
from kb.snapshot import Snapshot
from kb.statements.enemy_model import Enemy, EnemyId
from kb.statements.enemy_table import mode_of

Rules = dict[str, tuple[SiteRule, ...]]
MOST_NAMED = 4
MOST_OFFERED = 6
NOT_SAID = "What lives in this ground was not said: where it matters, it is a condition (history says it)."


def known_enemies(snapshot: Snapshot, names: tuple[str, ...]) -> frozenset[str]:
    """Ids of the enemies that go by these names. Raises BadParameter with the nearest.

    What does not wait in the ground (a blight of the leaves) is refused: as history it says nothing.
    """
    return frozenset(str(_enemy_called(snapshot, name).id) for name in names)


def _enemy_called(snapshot: Snapshot, name: str) -> Enemy:
    """The one enemy whose name or id this is, or holds it as whole words; of several none is guessed."""
    exact, holding = _meant(snapshot, name)
    if exact is None and len(holding) != 1:
        raise refuse(
            "history", f"no pest or disease here goes by '{name}'{_offered(snapshot, name, holding)}."
        )
    enemy = exact or holding[0]
    if mode_of(enemy) not in IN_GROUND:
        raise refuse("history", f"'{name}' does not wait in the ground; name what does, or leave it out.")
    return enemy


def _meant(snapshot: Snapshot, name: str) -> tuple[Enemy | None, list[Enemy]]:
    """The enemy of exactly this name or id, if any, and all whose name or id holds it as whole words."""
    asked, exact, holding = _of_one(name), None, []
    for enemy in snapshot.enemies.values():
        known = (_of_one(enemy.name), _of_one(enemy.id))
        exact = enemy if asked in known else exact
        if asked and any(f" {asked} " in f" {one} " for one in known):
            holding.append(enemy)
    return exact, holding


def _of_one(name: str) -> str:
    """A name folded, its plurals as the singular: one says cyst nematode as well as cyst nematodes."""
    return " ".join(word[:-1] if is_plural(word) else word for word in fold(name).split())


def _offered(snapshot: Snapshot, name: str, holding: list[Enemy]) -> str:
    """What it may mean instead, each once by its name; where nothing is near, two that could be said."""
    if holding:
        choices = sorted(enemy.name for enemy in holding)
        more = f" and {len(choices) - MOST_OFFERED} more" if len(choices) > MOST_OFFERED else ""
        return f" alone; it may be: {', '.join(choices[:MOST_OFFERED])}{more}"
    known = {fold(enemy.id): enemy.name for enemy in snapshot.enemies.values()}
    known |= {fold(enemy.name): enemy.name for enemy in snapshot.enemies.values()}
    near = dict.fromkeys(known[one] for one in nearest(fold(name), known))
    if near:
        return f"; the nearest: {', '.join(near)}"
    here = sorted(enemy.name for enemy in snapshot.enemies.values() if mode_of(enemy) in IN_GROUND)
    return f"; name one that waits in the ground, such as {' or '.join(here[:2])}" if here else ""


def _understood(snapshot: Snapshot, names: tuple[str, ...]) -> list[str]:
    """Which enemies are meant by names that are a part of theirs."""
    found = []
    for name in names:
        exact, holding = _meant(snapshot, name)
        if exact is None and len(holding) == 1:
            found.append(
                f"History: '{name}' is taken to be {holding[0].name}, the only one of that name here."
            )
    return found


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
            SiteRule(
                "enemies",
                limit.text,
                limit.records,
                "avoid" if limit.hard else "poor",
                limit.lift,
                elsewhere=limit.apart is not None,
            )
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
    found = _understood(snapshot, names)
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
