"""What has been decided about printed names: of enemies, of plants, of distances and of years."""

import csv
import re
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from importlib.resources import files

from import_scripts.base import Refused, Row, unmatched
from import_scripts.names import PlantNames, decisions
from kb.errors import SourceFault
from kb.model import PlantId
from kb.names import fold
from kb.statements.enemy_model import DistanceMeaning, Enemy, EnemyId, Scope, YearsMeaning

PACKAGE = "import_scripts.enemies"
AGENT_COLUMNS = ("label", "enemy", "name", "organism", "kind", "attacks", "note")
GROUP_WORDS = re.compile(r"\bgenus\b|species\)|species assigned")
"""Words in a locator by which the compilation says that its source names a group."""
FAMILY_WORDS = re.compile(r"\brow Cabbage-related plants\b")
"""Words in a locator of which the main host is printed as the relatives of a crop, taken as its family."""
OF_FAMILY = (
    "printed as the relatives of cabbage: taken as its family, as gardeners rotate them (common practice)"
)

DISTANCES: dict[str, DistanceMeaning] = {
    "boiteau2008": "rotation",
    "george2019": "gap",
    "hough1996": "rotation",
    "pnw-wpbr-ribes": "between-hosts",
    "ucipm-whiterot": "root-reach",
    "umass-maggots2012": "flight",
    "umass-onionmaggot": "flight",
    "wsu-peartrellis": "between-hosts",
}
"""What the one distance that each source prints is a distance of, from its printed words."""
UP_TO: frozenset[str] = frozenset({"umass-maggots2012", "umass-onionmaggot"})
"""Sources that print their distance as "up to"."""
YEARS: dict[str, YearsMeaning] = {
    "cornell-sbn1979": "survival",
    "hwang2012": "survival",
    "mu-lettucedrop2016": "survival",
    "oda-whiterot": "survival",
    "pnw-aphanomyces": "survival",
    "pnw-celerysclero": "survival",
    "pnw-clubroot": "survival",
    "pnw-gymno-amelanchier": "life-cycle",
    "ucipm-fusyellows": "survival",
    "ucipm-whiterot": "survival",
    "uidaho-bul955": "survival",
    "wsu-rasp-phyto": "survival",
}
"""What printed years are years of; every other source advises a gap between crops."""
AT_MOST_YEARS = frozenset({"cornell-sbn1979", "mu-lettucedrop2016", "pnw-celerysclero", "uidaho-bul955"})
"""Sources that print survival as "up to"; the others print "more than" or "or longer"."""


@dataclass(frozen=True, slots=True)
class Agent:
    """An enemy without its statements, and why a printed name means it, where that needs a word."""

    enemy: Enemy
    note: str | None


@cache
def agents() -> dict[str, Agent]:
    """Enemies by printed label (``agents.csv``)."""
    found: dict[str, Agent] = {}
    with files(PACKAGE).joinpath("agents.csv").open(encoding="utf-8") as text:
        reader = csv.DictReader(text, strict=True)
        if tuple(reader.fieldnames or ()) != AGENT_COLUMNS:
            raise SourceFault("agents.csv", f"line 1: the columns must be {', '.join(AGENT_COLUMNS)}")
        for line in reader:
            enemy = Enemy(
                EnemyId(line["enemy"]),
                line["name"],
                line["organism"] or None,
                line["kind"],  # type: ignore[arg-type]
                tuple(sorted(line["attacks"].split(";"))),  # type: ignore[arg-type]
            )
            found[fold(line["label"])] = Agent(enemy, line["note"] or None)
    return found


@cache
def _decisions() -> dict[str, tuple[tuple[PlantId | None, str, str], ...]]:
    return {
        label: tuple((one.plant, one.scope, one.note) for one in decided)
        for label, decided in decisions(PACKAGE).items()
    }


@dataclass(frozen=True, slots=True)
class Host:
    """A plant of this knowledge base that a printed name means."""

    plant: PlantId
    scope: Scope
    note: str | None = None


def hosts(row: Row, printed: str, names: PlantNames, *, crops: str | None = None) -> list[Host] | Refused:
    """The plants that a printed name means: by decision, else by an equal name on record.

    ``crops`` are the crops that a row of a table covers, where the table names them apart.
    """
    for label in (f"{printed} | {crops}" if crops else None, printed):
        decided = _decisions().get(fold(label)) if label else None
        if decided is None:
            continue
        if any(plant is None for plant, _, _ in decided):
            return Refused(
                row.file,
                row.number,
                printed,
                f"decided to leave it out: {decided[0][2]}",
                "change the line in import_scripts/enemies/mapping.csv if that is wrong",
                unmatched=True,
            )
        return [
            Host(plant, scope if scope in {"group", "family"} else "taxon", note or None)  # type: ignore[arg-type]
            for plant, scope, note in decided
            if plant is not None
        ]
    plant = names.match(printed)
    return unmatched(row, printed) if plant is None else [Host(plant, "taxon")]


def span_of(printed: str) -> tuple[Decimal, Decimal] | None:
    """``3`` or ``2-3`` as (low, high); None for words."""
    found = re.fullmatch(r"(\d+(?:\.\d+)?)(?:-(\d+(?:\.\d+)?))?", printed)
    if found is None:
        return None
    low = Decimal(found[1])
    return low, Decimal(found[2]) if found[2] else low
