"""A neighbour that keeps an enemy of a crop going, where a published statement wants it away.

The statements are those of `kb.statements.neighbours`. What flies or blows comes from farther off too, so
that it is no conflict but poor, as after a forerunner that is advised against (`leftover`), unless the two
stand apart (judgement).
"""

from dataclasses import dataclass

from kb.mixture.enemies.hosts import Host


@dataclass(frozen=True, slots=True)
class Keeper:
    """Which of the two (0 or 1) keeps the enemy for the other, and who says so, in words."""

    at: int
    says: str

    def lift(self, *names: str) -> str:
        """What lifts it; the names in the order of the two."""
        return f"{names[self.at]} stands well apart from {names[1 - self.at]} (how far is not on record)"

    def words(self, enemy: str, *names: str) -> str:
        """What is said of it; the names in the order of the two."""
        return f"{enemy} lives on {names[self.at]} and comes from there to {names[1 - self.at]}: {self.says}."


def keeper_of(*hosts: Host) -> Keeper | None:
    """The one of two hosts that a source wants away from the other, which has to be known to suffer."""
    for at, keeper in enumerate(hosts):
        crop = hosts[1 - at]
        says = dict(crop.not_beside).get(keeper.plant.partition(".")[0]) if crop.not_beside else None
        if says is not None and crop.serious_main:
            return Keeper(at, says)
    return None
