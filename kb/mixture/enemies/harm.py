"""What two plants do to each other by shared enemies and by what one gives off, as limits and a share."""

from dataclasses import dataclass

from kb.mixture.enemies.allelopathy import EmissionFinding
from kb.mixture.enemies.enemy_book import EnemyBook
from kb.mixture.enemies.loan import Loan
from kb.mixture.enemies.named import EnemyFinding, SharedAgent
from kb.mixture.enemies.sward import relation_in
from kb.mixture.limits import Apart, Limit, Meeting, OtherWay
from kb.mixture.profile import Profile
from kb.mixture.relatedness import ENEMY_WEIGHT


@dataclass(frozen=True, slots=True)
class Harm:
    """``shared`` is e, the chance that they share enemies, 0-1; ``limits`` what holds the verdict down.

    Without a book (``enemies`` None) kinship alone stands in for e.
    """

    shared: float
    limits: tuple[Limit, ...] = ()
    enemies: EnemyFinding | None = None
    emissions: tuple[EmissionFinding, ...] = ()

    @property
    def pressure(self) -> float:
        """What K is reckoned with: e, or the effect of an emission where that is larger."""
        given_off = max((found.value for found in self.emissions if found.decides), default=0.0)
        return max(self.shared, min(1.0, given_off / ENEMY_WEIGHT))

    @property
    def loan(self) -> Loan | None:
        """Who lends the lists that are missing; None where none is."""
        return self.enemies.lend() if self.enemies is not None and self.enemies.lend is not None else None

    @property
    def counted(self) -> tuple[SharedAgent, ...]:
        """The agents that add to e, the weightiest first."""
        return tuple(agent for agent in self.enemies.agents if agent.v > 0) if self.enemies else ()


ASKED = frozenset({"mown", "clean-ground"})
"""The words of a gardener on which any of it hangs, and on which their kin does."""


def harm_between(a: Profile, b: Profile, meeting: Meeting, book: EnemyBook | None) -> Harm:
    """Shared enemies and emissions of two plants as they meet; the same whichever comes first."""
    kin = relation_in(a, b, meeting.setting, meeting.given)
    if book is None or kin.kinship == "species":
        return Harm(kin.shared)
    apart = _apart(meeting)
    finding = book.shared_enemies(a, b, meeting.site, distance_m=apart, kin=kin)
    emissions = tuple(
        found for one, other in ((a, b), (b, a)) for found in book.given_off(one, other, apart_m=apart)
    )
    limits = [_enemy_limit(agent, (a, b), meeting) for agent in finding.agents if agent.ceiling is not None]
    limits += [_emission_limit(found, meeting) for found in emissions if found.ceiling is not None]
    return Harm(finding.value, tuple(limits), finding, emissions)


def may_harm(a: Profile, b: Profile, book: EnemyBook | None) -> bool:
    """Whether a limit may come of enemies or emissions between two plants; quick."""
    return book is not None and (book.holds(a, b) or book.emits(a) or book.emits(b))


def _apart(meeting: Meeting) -> float | None:
    """From the trunk to the middle of the planting; None in one bed."""
    if meeting.nearest_m is None or meeting.farthest_m is None:
        return None
    return (meeting.nearest_m + meeting.farthest_m) / 2


def _enemy_limit(agent: SharedAgent, plants: tuple[Profile, Profile], meeting: Meeting) -> Limit:
    met = meeting.met(agent.given) if agent.given is not None else None
    first, second = sorted(plant.id for plant in plants)
    goes, stays = (first, second) if agent.goes == 0 else (second, first)
    text = agent.text.rstrip(".")
    if agent.mode == "soil":
        text += ", and this ground has it" if agent.in_ground else ": not on ground with a history of it"
    return Limit(
        kind="enemies",
        of=stays,
        text=f"{text[0].upper()}{text[1:]}.",
        records=agent.records,
        ceiling=agent.ceiling or "good",
        lift=agent.lift,
        given=agent.given,
        met=False if agent.in_ground else met,
        ceiling_if_lifted=agent.at_best,
        other_way=None if agent.or_else is None else OtherWay(agent.or_else, None, "good"),
        apart=Apart(goes) if agent.by_distance else None,
    )


def _emission_limit(found: EmissionFinding, meeting: Meeting) -> Limit:
    from_trunk_m = found.apart_m if meeting.setting == "under" else None
    return Limit(
        kind="allelopathy",
        of=found.affected,
        text=found.text,
        records=found.records,
        ceiling=found.ceiling or "good",
        lift=found.lift,
        thin=found.doubt is not None,
        apart=None if found.lift is None else Apart(found.affected, from_trunk_m),
    )
