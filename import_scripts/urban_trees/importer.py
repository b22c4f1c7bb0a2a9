"""Open-grown street and park trees: the height and crown they reach, the leaf area of grown ones."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import pi
from pathlib import Path

from import_scripts.base import PublishedFile, Row, Statement, draft, refuse, unmatched
from import_scripts.names import PlantNames
from import_scripts.quantities import number, rounded
from import_scripts.tables import csv_rows, locate
from kb.model import PlantId, Source, SourceKey

TREES = Source(
    key=SourceKey("urban-trees"),
    citation="McPherson, E.G., van Doorn, N.S., Peper, P.J. (2016) Urban tree database. Forest Service "
    "Research Data "
    "Archive, Fort Collins, CO; table TS3_Raw_tree_data",
    identifier="https://doi.org/10.2737/RDS-2016-0005",
    year="2016",
    licence="US federal data, free use with citation as remembered, not seen",
    licence_iri=None,
    tier="B",
    how_read="rows of the species on the target list (TS3_Raw_tree_data.csv of "
    "jatinmahour/UsTreeApp, commit 410e848d)",
    credit="McPherson, van Doorn and Peper (2016), Urban tree database",
)
FILE = PublishedFile(
    "TS3_Raw_tree_data.csv",
    "https://raw.githubusercontent.com/jatinmahour/UsTreeApp/"
    "410e848d773e2e2452f6e75d2507d593476f92ab/TS3_Raw_tree_data.csv",
)
EXTRACT = "TS3_target_rows.csv"
MEASURES = {"TreeHt (m)": "mature-height", "AvgCdia (m)": "crown-width"}
LEAF, CROWN, SITE = "Leaf (m2)", "AvgCdia (m)", "Park/Street"
COLUMNS = ("ScientificName", "City", SITE, *MEASURES, LEAF)
FEWEST = 20
SHARE = Decimal("0.95")
LOW, MIDDLE, HIGH = Decimal("0.1"), Decimal("0.5"), Decimal("0.9")
CIRCLE = Decimal(pi) / 4


@dataclass(frozen=True)
class UrbanTreesImporter:
    """The importer ``urban-trees``: one row per species, its trees put together; -1 is missing."""

    key: str = "urban-trees"
    title: str = "height and crown that open-grown city trees reach, and their leaf area"
    files: tuple[PublishedFile, ...] = (FILE,)
    carried: Path | None = None

    def sources(self, folder: Path) -> tuple[Source, ...]:  # noqa: ARG002
        return (TREES,)

    def rows(self, folder: Path) -> Iterator[Row]:
        name = EXTRACT if folder.is_dir() and (folder / EXTRACT).is_file() else FILE.name
        species: dict[str, list[Row]] = {}
        for row in csv_rows(locate(folder, name), COLUMNS, name="ScientificName"):
            species.setdefault(row.name, []).append(row)
        for printed, members in species.items():
            values = {column: _percentile(_measured(members, column), SHARE) for column in MEASURES}
            for column in MEASURES:
                trees = [row for row in members if (number(row[column]) or 0) > 0]
                values |= {f"n {column}": str(len(trees)), **_where(trees, column)}
            values |= _leaf_area(members)
            yield Row(members[0].file, members[0].number, printed, values)

    def convert(self, row: Row, names: PlantNames) -> Sequence[Statement]:
        if "'" in row.name or row.name.endswith("cvs."):
            return [refuse(row, "is a cultivar, not the species", "add the cultivar to the taxa")]
        plant = names.match(row.name)
        if plant is None:
            return [unmatched(row)]
        found: list[Statement] = []
        for column, trait in MEASURES.items():
            count = int(row[f"n {column}"])
            if count < FEWEST:
                found.append(refuse(row, f"only {count} trees give {column}", "wait for more trees"))
                continue
            found.append(
                draft(
                    row,
                    plant,
                    trait,
                    likely=number(row[column]),
                    kind="single",
                    conditions={
                        "statistic": "p95",
                        "n": str(count),
                        "place": row[f"cities {column}"],
                        "stand": "open-grown",
                    },
                    verbatim=f"95th percentile {row[column]} of {count} trees",
                    source=TREES.key,
                    locator=f"TS3_Raw_tree_data, rows of {row.name}, {column}",
                    note="percentile computed here; trees of mixed age, some pruned; -1 left out as missing; "
                    + row[f"sites {column}"],
                )
            )
        if int(row["n leaf"]) >= FEWEST:
            found.append(_leaves(row, plant))
        return found


def _leaves(row: Row, plant: PlantId) -> Statement:
    """Leaf area per area under the crown, of trees whose crown is as wide as the median or wider."""
    low, middle, high = (row[f"leaf {share}"] for share in (LOW, MIDDLE, HIGH))
    return draft(
        row,
        plant,
        "leaf-area-index",
        low=number(low),
        likely=number(middle),
        high=number(high),
        kind="median",
        conditions={
            "statistic": "median, 10th and 90th percentile",
            "n": row["n grown"],
            "place": row[f"cities {LEAF}"],
            "stand": "open-grown",
        },
        verbatim=f"{LEAF} over the circle of {CROWN}: {low}, {middle}, {high} in {row['n grown']} trees",
        source=TREES.key,
        locator=f"TS3_Raw_tree_data, rows of {row.name}, {LEAF} and {CROWN}",
        note=f"computed here, tree by tree, of the wider half of {row['n leaf']} trees; "
        + row[f"sites {LEAF}"],
    )


def _leaf_area(members: Sequence[Row]) -> dict[str, str]:
    """Leaf area per area under the crown of the wider half of the trees, by percentile; counts of trees."""
    both = [(number(row[LEAF]), number(row[CROWN]), row) for row in members]
    known = [(leaf, crown, row) for leaf, crown, row in both if leaf and crown and leaf > 0 and crown > 0]
    middle = _percentile(sorted(crown for _, crown, _ in known), MIDDLE)
    wide = [tree for tree in known if tree[1] >= Decimal(middle)]
    grown = sorted(leaf / (CIRCLE * crown**2) for leaf, crown, _ in wide)
    found = {f"leaf {share}": _percentile(grown, share) for share in (LOW, MIDDLE, HIGH)}
    found |= _where([row for _, _, row in wide], LEAF)
    return found | {"n leaf": str(len(known)), "n grown": str(len(grown))}


def _where(trees: Sequence[Row], column: str) -> dict[str, str]:
    """The cities of the trees that give a measure, and how many stand where, both as printed."""
    sites = Counter("not told" if row[SITE] in ("-1", "") else row[SITE] for row in trees)
    return {
        f"cities {column}": " / ".join(dict.fromkeys(row["City"] for row in trees)),
        f"sites {column}": f"{SITE}: " + ", ".join(f"{site} {count}" for site, count in sites.items()),
    }


def _measured(members: Sequence[Row], column: str) -> list[Decimal]:
    values = (number(row[column]) for row in members)
    return sorted(value for value in values if value is not None and value > 0)


def _percentile(values: Sequence[Decimal], share: Decimal) -> str:
    """A percentile of sorted values, linear between neighbours, to two decimals; empty of nothing."""
    if not values:
        return ""
    place = share * (len(values) - 1)
    below = int(place)
    above = min(below + 1, len(values) - 1)
    return str(rounded(values[below] + (place - below) * (values[above] - values[below]), 2))


IMPORTER = UrbanTreesImporter()
