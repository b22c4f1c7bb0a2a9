"""A printed name means a plant by equality or by decision, never by likeness."""

import pytest

from import_scripts.names import PlantNames, binomial, decisions
from import_scripts.registry import importers
from kb.errors import AmbiguousPlant
from kb.model import Plant
from kb.names import NameIndex


@pytest.fixture(scope="module")
def index(shipped_plants: tuple[Plant, ...]) -> NameIndex:
    return NameIndex.of(shipped_plants)


@pytest.mark.parametrize(
    ("printed", "plant"),
    [
        ("Malus domestica", "malus-domestica"),
        ("malus domestica", "malus-domestica"),
        ("Fragaria × ananassa", "fragaria-x-ananassa"),
        ("Fragaria x ananassa", "fragaria-x-ananassa"),
        ("Rosmarinus officinalis", "salvia-rosmarinus"),
        ("Pennisetum glaucum", "cenchrus-americanus"),
        ("Allium porrum", "allium-ampeloprasum.porrum-group"),
        ("Malus domesticus", None),
        ("Malus", None),
        ("Actinidia chinensis", None),
    ],
)
def test_equality_only(names: PlantNames, printed: str, plant: str | None) -> None:
    """Case and the hybrid sign do not count; one letter more does (ICN Art. H.3; no likeness)."""
    assert plant == names.match(printed)


@pytest.mark.parametrize(
    ("printed", "name"),
    [
        ("Acer campestre L.", "Acer campestre"),
        ("Mentha × piperita L.", "Mentha × piperita"),
        ("Taraxacum sect. Taraxacum Kirschner et al.", "Taraxacum sect. Taraxacum"),
        ("Vicia villosa subsp. varia (Host.) Corb.", "Vicia villosa subsp. varia (Host.) Corb."),
    ],
)
def test_authors_are_cut_off_and_subspecies_are_not(printed: str, name: str) -> None:
    """A name below the species stays what it is and so matches no species."""
    assert name == binomial(printed)


PLAIN_NAMES = """
apple, pear, plum, hazel, walnut, black walnut, carrot, onion, garlic, leek, chives, ramsons, mint, spearmint,
strawberry, raspberry, blackcurrant, redcurrant, gooseberry, blueberry, comfrey, rhubarb, asparagus, maize,
climbing bean, pea, broad bean, potato, tomato, pepper, cabbage, summer cabbage, kale, lettuce, spinach,
radish, parsnip, beetroot, celery, squash, trailing squash, white clover, beech, silver maple, white pine,
hardy kiwi, Jerusalem artichoke, oat, wheat, pigeon pea, pearl millet, sorghum, cowpea, coffee,
banana, inga, date palm
"""


@pytest.mark.parametrize("name", [name.strip() for name in PLAIN_NAMES.split(",")])
def test_everyday_names_mean_one_plant(index: NameIndex, name: str) -> None:
    """The names of the textbook cases (trade notes, 6.1) each resolve to one plant."""
    assert index.resolve(name) in index.ids


@pytest.mark.parametrize("name", ["bean", "elder", "cherry", "currant", "citrus"])
def test_names_of_several_plants_stay_ambiguous(index: NameIndex, name: str) -> None:
    """A name that growers use for several plants is offered as a choice, never guessed."""
    with pytest.raises(AmbiguousPlant):
        index.resolve(name)


@pytest.mark.parametrize(
    "package", ["import_scripts.fao56", "import_scripts.published_facts", "import_scripts.crop_models"]
)
def test_decisions_name_plants_that_exist(names: PlantNames, package: str) -> None:
    """Every plant that a mapping names is a plant of the taxa, and every decision says how."""
    every = [one for found in decisions(package).values() for one in found]

    assert [] == [one.label for one in every if one.plant is not None and one.plant not in names.ids]
    assert [] == [one.label for one in every if not one.decided or one.scope not in {"crop", "group"}]


def test_every_importer_has_a_key_a_title_and_sources_with_a_licence() -> None:
    """The registry holds each importer under its own key; addresses are https and pinned by commit."""
    found = importers()

    assert next(iter(found)) == "taxa"
    for key, importer in found.items():
        assert key == importer.key
        assert importer.title
        for file in importer.files:
            assert file.address is None or file.address.startswith("https://")
