"""The coverage of a snapshot as a report: for machines, and as lines for a person."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from kb.gaps.coverage import COLUMNS, SMALL_GROUP, Bases, Counted
from kb.gaps.coverage_targets import SHARES, Target, mostly_recalled, small_groups, targets
from kb.model import TraitId
from kb.snapshot import Snapshot

GROUP_TRAITS = tuple(dict.fromkeys(trait for _, traits, _ in SHARES for trait in traits))
"""The traits that stand beside each planting group in the readable table."""


@dataclass(frozen=True, slots=True)
class Coverage:
    """Each trait by best basis, for all taxa and for each planting group, and the targets."""

    taxa: int
    stocks: int
    traits: dict[str, Counted]
    groups: dict[str, dict[str, Counted]]
    group_sizes: dict[str, int]
    targets: tuple[Target, ...]

    @property
    def recalled(self) -> tuple[str, ...]:
        """Traits recalled from memory for more taxa than is allowed."""
        return mostly_recalled({t: c.columns["recalled"] for t, c in self.traits.items()}, self.taxa)

    @property
    def small(self) -> tuple[str, ...]:
        return small_groups(self.group_sizes)

    def as_dict(self) -> dict[str, Any]:
        """As the interface says, with the targets and what is flagged beside it."""
        return {
            "taxa": self.taxa,
            "trees_on_stocks": self.stocks,
            "by_group": {
                group: {
                    "taxa": self.group_sizes[group],
                    "small": group in self.small,
                    "traits": {trait: counted.as_dict() for trait, counted in found.items()},
                }
                for group, found in self.groups.items()
            },
            "traits": {trait: counted.as_dict() for trait, counted in self.traits.items()},
            "targets": [target.as_dict() for target in self.targets],
            "recalled_over_limit": list(self.recalled),
            "small_groups": list(self.small),
        }

    def lines(self) -> list[str]:
        """Three tables: traits by basis, planting groups by trait, targets."""
        return [*self._trait_lines(), "", *self._group_lines(), "", *self._target_lines()]

    def _trait_lines(self) -> list[str]:
        heads = ("trait", *(column.replace("_", "-") for column in COLUMNS), "missing", "sourced")
        rows = [
            (trait, *(str(counted.columns[c]) for c in (*COLUMNS, "missing")), _share(counted, self.taxa))
            for trait, counted in self.traits.items()
        ]
        title = f"Traits of {self.taxa} taxa by the best basis of each (trees on {self.stocks} stocks apart)"
        recalled = [f"Recalled from memory for over 15 % of the taxa: {', '.join(self.recalled)}."]
        return [title, *_table(heads, rows), *(recalled if self.recalled else [])]

    def _group_lines(self) -> list[str]:
        rows = [
            (
                f"{group}{' *' if group in self.small else ''}",
                str(self.group_sizes[group]),
                *(_share(found[trait], self.group_sizes[group]) for trait in GROUP_TRAITS),
            )
            for group, found in self.groups.items()
        ]
        title = f"Share of taxa with a source, by planting group (* fewer than {SMALL_GROUP} taxa)"
        return [title, *_table(("group", "taxa", *GROUP_TRAITS), rows)]

    def _target_lines(self) -> list[str]:
        rows = [
            (
                target.name,
                f"{target.have} of {target.of}",
                str(target.wanted),
                "met" if target.short_by == 0 else f"short by {target.short_by}",
                target.note,
            )
            for target in self.targets
        ]
        return ["Targets", *_table(("target", "there are", "wanted", "result", "note"), rows)]


def coverage_of(snapshot: Snapshot) -> Coverage:
    """Count everything. A taxon of several planting groups counts in each."""
    bases = Bases(snapshot)
    traits = tuple(snapshot.vocabulary.traits)
    groups = sorted({group for plant in bases.taxa for group in plant.groups})
    members = {group: [plant for plant in bases.taxa if group in plant.groups] for group in groups}

    def count(plants: list[Any]) -> dict[str, Counted]:
        return {trait: bases.count(plants, TraitId(trait)) for trait in traits}

    return Coverage(
        taxa=len(bases.taxa),
        stocks=len(snapshot.plants) - len(bases.taxa),
        traits=count(list(bases.taxa)),
        groups={group: count(found) for group, found in members.items()},
        group_sizes={group: len(found) for group, found in members.items()},
        targets=targets(bases),
    )


def _share(counted: Counted, taxa: int) -> str:
    return f"{counted.with_source / taxa:.0%}" if taxa else "-"


def _table(heads: tuple[str, ...], rows: Sequence[tuple[str, ...]]) -> list[str]:
    widths = [max(len(row[at]) for row in (heads, *rows)) for at in range(len(heads))]
    return [
        "  ".join(cell.ljust(w) for cell, w in zip(row, widths, strict=True)).rstrip()
        for row in (heads, *rows)
    ]
