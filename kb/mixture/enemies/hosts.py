"""Who is a host of what: a named pest or disease, and each plant on its list."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from kb.mixture.counting import so_many

Mode = Literal["leaf", "air", "flying", "vector", "alternate", "soil", "stock", "replant"]
"""How an agent passes: on the wind to leaves; on the wind to other parts; by flying or creeping
itself; in a carrier; between two kinds of host in turn; in the ground; with planting stock; only to
what follows on the same ground."""
Role = Literal["main", "side", "alternate", "resistant", "non-host"]
Harm = Literal["serious", "moderate", "slight"]

ROLES_WORST_FIRST: tuple[Role, ...] = ("alternate", "main", "side", "resistant", "non-host")
HARMS_WORST_FIRST: tuple[Harm | None, ...] = ("serious", "moderate", "slight", None)
LIVE_ON: frozenset[Role] = frozenset({"main", "side", "alternate"})


@dataclass(frozen=True, slots=True)
class Host:
    """One plant on one agent's list, all statements on it taken together (the worst of them counts).

    ``contested`` where statements disagree on its role; ``apart_m`` the printed distance between two
    hosts, least and best; ``regions`` where the statements were made. ``gap_years`` is the longest gap
    between hosts that a rotation prints. ``through`` says in words by which kin it is a host where nothing
    names the plant itself; such a host never makes a hard conflict, since it may be none. ``not_after`` are
    the forerunners (species) that a source advises against for this enemy, each with who says so;
    ``not_beside`` the neighbours.
    """

    plant: str
    role: Role
    harm: Harm | None
    contested: bool = False
    apart_m: tuple[float, float] | None = None
    regions: tuple[str, ...] = ()
    records: tuple[str, ...] = ()
    gap_years: float | None = None
    through: str | None = None
    not_after: tuple[tuple[str, str], ...] = ()
    not_beside: tuple[tuple[str, str], ...] = ()

    @property
    def serious_main(self) -> bool:
        return self.role == "main" and self.harm == "serious"


@dataclass(frozen=True, slots=True)
class Agent:
    """One named pest or disease with its hosts. ``years`` it lasts in the ground, as printed.

    ``families`` are the hosts of those statements whose source names their whole family; ``wide`` where
    it lives on plants of many families (`wide_feeders`). ``airborne`` where one that waits in the ground
    comes on the wind too: clean ground alone does not keep it away.
    """

    id: str
    name: str
    mode: Mode
    hosts: tuple[Host, ...]
    rust: bool = False
    nematode: bool = False
    years: tuple[float | None, float | None] | None = None
    families: tuple[Host, ...] = ()
    wide: bool = False
    airborne: bool = False


def worst_of(plant: str, hosts: Sequence[Host], through: str) -> Host:
    """A plant as a host through its kin: the worst role and harm of these, and all that they rest on."""
    roles, harms = [host.role for host in hosts], [host.harm for host in hosts]
    gaps = [host.gap_years for host in hosts if host.gap_years is not None]
    return Host(
        plant=plant,
        role=min(roles, key=ROLES_WORST_FIRST.index),
        harm=min(harms, key=HARMS_WORST_FIRST.index),
        contested=True,
        regions=tuple(sorted({region for host in hosts for region in host.regions})),
        records=tuple(dict.fromkeys(record for host in hosts for record in host.records)),
        gap_years=max(gaps, default=None),
        through=through,
    )


def with_species(group: Host, species: Host) -> Host:
    """A group's own word, with what it leaves unsaid and its species' statements say.

    What is printed of the species is printed of each of its groups: a list that only names the group hides
    neither the harm to the species nor a longer rotation. Its own role, and its harm where printed, stand.
    """
    if not {group.role, species.role} <= LIVE_ON:
        return group
    harm = species.harm if group.harm is None else group.harm
    gaps = [gap for gap in (group.gap_years, species.gap_years) if gap is not None]
    gap_years = max(gaps, default=None)
    if (harm, gap_years) == (group.harm, group.gap_years):
        return group
    records = tuple(dict.fromkeys((*group.records, *species.records)))
    return replace(group, harm=harm, gap_years=gap_years, records=records)


def through_kin(named: Iterable[tuple[Host, str]], hence: str = "") -> str:
    """Which of these hosts are hosts by their kin alone, in words, as an aside; empty where none is.

    ``hence`` is what follows of that.
    """
    said = [f"{name} {host.through}: not recorded for {name} itself" for host, name in named if host.through]
    return f" ({'; '.join(said)}{hence})" if said else ""


def clean_ground(agent: Agent) -> str:
    """What a gardener can see of ground without it."""
    return f"the last crops here stayed free of {agent.name}"


def years_in_ground(agent: Agent) -> str:
    """How long it lasts there, as printed, with a space before; empty where no source prints it."""
    if agent.years is None or agent.years == (None, None):
        return ""
    low, high = agent.years
    if low is None:
        return f" up to {so_many(high or 0, 'year')}"
    if high is None or high <= low:
        return f" {so_many(low, 'year')} or more"
    return f" {low:g} to {high:g} years"
