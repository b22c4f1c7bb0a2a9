"""Facts about trees on a named stock: they speak for that tree, and its vigour is a share of a seedling's."""

import csv
from collections import defaultdict
from functools import cache
from importlib.resources import files

from import_scripts.base import Row
from import_scripts.published_facts.conversion import NotARecord, Value
from import_scripts.quantities import number
from kb.model import PlantId

VIGOUR = "stock-vigour"
SHARES = frozenset({"% of seedling size", "% of Mazzard seedling"})
"""Units of vigour that compare with a seedling; a trunk's cross-section alone compares with nothing."""


@cache
def _stocks() -> dict[tuple[str, str], tuple[PlantId, ...]]:
    found: defaultdict[tuple[str, str], list[PlantId]] = defaultdict(list)
    with files(__package__).joinpath("stocks.csv").open(encoding="utf-8") as text:
        for line in csv.DictReader(text, strict=True):
            found[line["species"], line["printed"].lower()].append(PlantId(line["plant"]))
    return {key: tuple(plants) for key, plants in found.items()}


def plants_on(species: str, printed: str | None) -> tuple[PlantId, ...]:
    """The trees on stocks that a printed stock means; none where it was not decided."""
    return _stocks().get((species, (printed or "").strip().lower()), ())


def vigour_of(row: Row) -> Value:
    """The vigour of a stock as a share of the size on a seedling. Raises NotARecord."""
    if row["unit"] not in SHARES:
        raise NotARecord(f"'{row['unit']}' compares with no tree on a seedling")
    low, high, value = (
        cell / 100 if (cell := number(row[column])) else None for column in ("low", "high", "value")
    )
    kind = row["number_kind"]
    if kind == "class":
        return Value("expert", likely=value, note="printed as: as vigorous as the seedling")
    if kind == "range":
        return Value("range", low=low, high=high)
    return Value("mean" if kind == "mean" else "expert", likely=value)
