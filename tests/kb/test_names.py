"""A name finds its plant or says what could be meant; nothing is guessed."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kb.errors import AmbiguousPlant, UnknownPlant, other_name_hint
from kb.model import CommonName, Name, Plant, PlantId, SourceKey
from kb.names import NameIndex, fold
from kb.repository import open_repository


def a_plant(plant_id: str, name: str, *common: str, synonyms: tuple[str, ...] = ()) -> Plant:
    """Give an invented plant that only has names."""
    return Plant(
        id=PlantId(plant_id),
        scientific_name=name,
        authority=None,
        rank="species",
        according_to=SourceKey("invented"),
        parent=None,
        groups=(),
        synonyms=tuple(Name(s, None, None) for s in synonyms),
        common_names=tuple(CommonName(c, "en") for c in common),
    )


INDEX = NameIndex.of(
    [
        a_plant("fragaria-x-ananassa", "Fragaria × ananassa", "strawberry", "garden strawberry"),
        a_plant("vicia-faba", "Vicia faba", "broad bean", synonyms=("Faba vulgaris",)),
        a_plant("phaseolus-vulgaris", "Phaseolus vulgaris", "bean", "common bean"),
        a_plant("vigna-unguiculata", "Vigna unguiculata", "bean", "cowpea"),
        a_plant("rhus-a", "Rhus faba", "faba vulgaris"),
    ]
)


@pytest.mark.parametrize(
    ("name", "plant_id"),
    [
        ("fragaria-x-ananassa", "fragaria-x-ananassa"),
        ("Fragaria x ananassa", "fragaria-x-ananassa"),
        ("FRAGARIA ×ANANASSA", "fragaria-x-ananassa"),
        ("fragaria ananassa", "fragaria-x-ananassa"),
        ("Garden-Strawberry", "fragaria-x-ananassa"),
        ("Faba vulgaris", "vicia-faba"),
        ("cowpea", "vigna-unguiculata"),
    ],
)
def test_every_way_of_writing_a_name_finds_its_plant(name: str, plant_id: str) -> None:
    """The hybrid sign, case and hyphens do not count (ICN H.3.3); a synonym beats a common name."""
    assert plant_id == INDEX.resolve(name)


def test_a_name_of_two_plants_offers_both() -> None:
    """An ambiguous common name is never guessed."""
    with pytest.raises(AmbiguousPlant) as caught:
        INDEX.resolve("bean")

    assert ("phaseolus-vulgaris", "vigna-unguiculata") == caught.value.choices


@pytest.mark.parametrize(
    ("name", "offered"),
    [
        ("lupin", "white lupin (Lupinus albus), blue lupin (Lupinus angustifolius), wild lupin"),
        ("cranberry", "American cranberry (Vaccinium macrocarpon) or Vaccinium oxycoccos."),
        ("alder", "Italian alder (Alnus cordata), common alder (Alnus glutinosa), grey alder"),
    ],
)
def test_plants_of_one_name_are_offered_by_names_of_their_own(name: str, offered: str) -> None:
    """As floras of Britain and North America name them; the botanical name where there is no other."""
    with pytest.raises(AmbiguousPlant) as caught:
        open_repository(None).snapshot().names.resolve(name)

    assert offered in str(caught.value)


def test_a_plant_is_found_by_the_name_that_offers_it() -> None:
    """Whatever is offered for a shared name leads to that plant when it is typed."""
    names = open_repository(None).snapshot().names
    shared = [(name, plants) for name, plants in names.by_step[2].items() if len(plants) > 1]

    lost = [
        (name, choice)
        for name, plants in shared
        for choice in map(names.choice, plants)
        if names.resolve(choice.common or choice.accepted) != choice.plant
    ]

    assert [] == lost


def test_an_unknown_name_offers_the_nearest() -> None:
    """A slip of the pen is answered with names that exist."""
    with pytest.raises(UnknownPlant) as caught:
        INDEX.resolve("strawbery")

    assert "strawberry" in caught.value.nearest


def test_each_plant_is_offered_once() -> None:
    """Tomato and Tomate are one plant in two languages, and one offer."""
    index = NameIndex.of(
        [
            a_plant("solanum-lycopersicum", "Solanum lycopersicum", "tomato", "Tomate"),
            a_plant("physalis-philadelphica", "Physalis philadelphica", "tomatillo"),
        ]
    )

    assert ("tomato", "tomatillo") == index.nearest("tomatoe")


def test_words_of_a_name_find_all_plants_that_hold_them() -> None:
    """Searching takes beginnings of words in any order."""
    assert ("phaseolus-vulgaris", "vicia-faba", "vigna-unguiculata") == INDEX.search("bean")
    assert ("vicia-faba",) == INDEX.search("bea broa")


@given(st.text(max_size=30))
def test_folding_twice_is_folding_once(name: str) -> None:
    """Folding is idempotent, whatever is typed."""
    assert fold(name) == fold(fold(name))


@pytest.mark.parametrize(
    ("name", "plant_id"),
    [
        ("black currant", "ribes-nigrum"),
        ("seakale", "crambe-maritima"),
        ("leeks", "allium-ampeloprasum.porrum-group"),
        ("tomatoes", "solanum-lycopersicum"),
        ("gooseberries", "ribes-uva-crispa"),
        ("radishes", "raphanus-sativus"),
        ("scorzonera", "scorzonera-hispanica"),
        ("fava beans", "vicia-faba"),
        ("lamb's lettuce", "valerianella-locusta"),
    ],
)
def test_regional_names_plurals_and_joined_words_are_read(name: str, plant_id: str) -> None:
    """As growers in Britain and North America write them: common usage."""
    assert plant_id == open_repository(None).snapshot().names.resolve(name)


def test_a_plural_of_a_shared_name_stays_ambiguous() -> None:
    with pytest.raises(AmbiguousPlant, match=r"sweet cherry \(Prunus avium\) or sour cherry"):
        open_repository(None).snapshot().names.resolve("cherries")


def test_the_name_within_an_unknown_one_is_offered() -> None:
    """Nobody is called spring wheat here, and wheat is what was meant."""
    assert "wheat" == open_repository(None).snapshot().names.nearest("spring wheat")[0]


@pytest.mark.parametrize(
    ("name", "botanical"),
    [
        ("Curcuma longa", True),
        ("Musa x paradisiaca", True),
        ("Cocos nucifera L.", True),
        ("curry", False),
        ("water spinach", False),
        ("Sweet Gum", False),
        ("", False),
    ],
)
def test_who_typed_a_botanical_name_is_not_asked_for_it(name: str, botanical: bool) -> None:
    """Turmeric, banana and coconut by their names in any flora; English names of two words are none."""
    assert botanical == ("not among the plants here" in other_name_hint(name))
    assert botanical != ("botanical name" in str(UnknownPlant(name)))


def test_a_genus_misspelt_offers_its_plants() -> None:
    """No whole name is spelt like "Menta": those that begin with a word spelt alike are offered."""
    offered = open_repository(None).snapshot().names.nearest("Menta")

    assert offered
    assert all(name.startswith("Mentha") for name in offered)
