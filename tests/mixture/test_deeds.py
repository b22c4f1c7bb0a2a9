"""Deeds said once: the words of a condition stay short and lose nothing (plain English; common practice)."""

import pytest

from kb.mixture.deeds import said_once, told

CARE = "is lifted with care, a root at a time"
SUNK = "inside a barrier sunk 30 cm deep, or in a pot"


@pytest.mark.parametrize(
    ("deeds", "said"),
    [
        ((f"garlic {CARE}", f"potato {CARE}"), "garlic and potato are lifted with care, a root at a time"),
        (
            (f"mint stands {SUNK}", f"nettle stands {SUNK}", f"raspberry stands {SUNK}"),
            f"mint, nettle and raspberry stand {SUNK}",
        ),
        (
            ("pea gets a frame of its own", "vine gets a frame of its own"),
            "pea and vine get a frame of their own",
        ),
        (
            ("leek is lifted without moving climbing bean", "leek is lifted without moving onion"),
            "leek is lifted without moving climbing bean and onion",
        ),
    ],
)
def test_one_deed_for_several_plants_is_one_clause(deeds: tuple[str, ...], said: str) -> None:
    """Subjects and those who are spared are joined, and the verb follows them."""
    assert (said,) == said_once(deeds)


@pytest.mark.parametrize(
    "deeds",
    [
        (
            "tomato or potato is a kind that resists late blight",
            "tomato or pepper is a kind that resists late blight",
        ),
        ("the hedge is cut every year", "raspberry stands in a pot"),
        ("watered in dry weeks", "the ground is fed"),
        ("apple is a kind bred for warm winters", "pear is a kind bred for warm winters"),
    ],
)
def test_what_is_no_deed_in_common_stays_as_it_is(deeds: tuple[str, ...]) -> None:
    """A choice between two plants, and another kind of one, are said of each by itself."""
    assert deeds == said_once(deeds)


def test_of_many_the_first_are_named_and_the_others_counted() -> None:
    """Six neighbours of a root that is dug: three are read, the number of the others is told."""
    deeds = [f"leek is lifted without moving {other}" for other in "abcdef"]
    many = [f"{name} gets {name}" for name in "abcde"]

    assert "leek is lifted without moving a, b, c and 3 more" == told(deeds, most=2)
    assert "a gets a and b gets b and 3 more like these" == told(many, most=2)
    assert f"x {CARE}, and b gets b" == told([f"x {CARE}", "b gets b"], most=2)


def test_who_is_lifted_is_named_once() -> None:
    """Two things done to one crop share their subject (plain writing, common practice)."""
    ways = ["potato is lifted with care, a root at a time", "potato is lifted without moving leek"]

    assert told(ways, most=3) == "potato is lifted with care, a root at a time, and without moving leek"
    assert told(["mint stands inside a wall", "mint stands in a pot"], most=3).count("mint stands") == 2
