"""Promises of what a row of a list says in short, and of what is said once for all of them."""

from functools import cache
from typing import Any

import pytest

from api.answers.answering import answer
from api.answers.candidates import others_for
from api.asking import ask
from api.pages.row_words import held_alike, lifted_alike, row_said
from api.parsing import parse
from api.questions import Leaving
from kb.model import PlantId
from kb.repository import open_repository

BOUND = "The ground here is a little wetter than herb bears."


@cache
def told(kind: str, *asked: tuple[str, str]) -> dict[str, Any]:
    """The answer of the shipped base."""
    snapshot = open_repository().snapshot()
    return answer(snapshot, ask(parse(kind, asked)))  # type: ignore[arg-type]


def row(verdict: str, limit: str | None, of: str = "herb", best: str | None = None) -> dict[str, Any]:
    """A row with these words."""
    return {
        "verdict": verdict,
        "limiting": None if limit is None else {"kind": "water", "of": of, "text": limit},
        "best": None if best is None else {"kind": "season", "text": best},
    }


def test_a_good_row_says_the_best_and_any_other_what_limits_it() -> None:
    """House rule (`trade` 4.15): verdict, limiting reason, best benefit; what is not good has its limit."""
    good, poor = (
        row("good", "It loses a little.", best="They are apart."),
        row("poor", "It is dark.", best="x"),
    )

    assert ("They are apart.", "It loses a little.") == (row_said(good).best, row_said(good).limit)
    assert (None, "It is dark.") == (row_said(poor).best, row_said(poor).limit)


def test_what_holds_the_plant_asked_about_is_said_once() -> None:
    """It stands before the list; rows have room for what sets them apart."""
    rows = [
        row("workable", BOUND, best="They are apart."),
        row("workable", BOUND),
        row("workable", "It runs."),
    ]

    alike = held_alike(rows, "herb")

    assert BOUND == alike
    assert ("They are apart.", None) == (row_said(rows[0], alike).best, row_said(rows[0], alike).limit)
    assert "It runs." == row_said(rows[2], alike).limit


def test_what_would_change_every_row_is_said_once() -> None:
    """A young tree's mulch, the gate of a school: one sentence before the rows, if it is in all of them."""
    mulch = {"text": "mulch", "met": None, "verdict_if_met": "good", "verdict_if_unmet": "poor"}
    other, idle = {**mulch, "text": "a frame"}, {**mulch, "verdict_if_met": "poor"}

    def rows(*conditions: list[dict[str, Any]]) -> list[dict[str, Any]]:
        return [{"conditions": some} for some in conditions]

    assert "mulch" == lifted_alike(rows([mulch], [other, mulch]))
    assert lifted_alike(rows([mulch], [other])) is None
    assert lifted_alike(rows([mulch])) is None
    assert lifted_alike(rows([idle], [idle])) is None


@pytest.mark.parametrize(
    ("limits", "of"),
    [([BOUND], "herb"), ([BOUND, "a.", "b."], "herb"), ([BOUND] * 3, "other"), ([None, None], "herb")],
)
def test_a_limit_of_few_rows_or_of_the_others_is_said_in_its_row(limits: list[str | None], of: str) -> None:
    """One row, a third of the rows, or a limit of another plant is no word on all."""
    assert held_alike([row("workable", text, of) for text in limits], "herb") is None


@pytest.mark.parametrize(
    ("tree", "plant", "kind"),
    [("walnut", "allium-ursinum", "season"), ("black walnut", "allium-ursinum", "season")],
)
def test_spring_plants_under_late_trees_are_told_by_their_season(tree: str, plant: str, kind: str) -> None:
    """Ramsons grow while a tree that leafs late is bare: the design's own example of what season does.

    `trade` 0.7: "Ramsons under beech, spinach under late-leafing walnut ...: same ground, little overlap".
    """
    found = told("under", ("plant", tree), ("side", "S"), ("limit", "20"))

    rows = [one for one in found["rings"][0]["plants"] if one["b"] == plant]
    assert [kind] == [one["best"]["kind"] for one in rows]
    assert rows[0]["best"]["text"] == row_said(rows[0]).best


def test_cereals_hear_of_the_nitrogen_that_clover_leaves_them() -> None:
    """Legumes leave the soil's nitrogen to a cereal (Jensen et al. 2020, as cited in `trade` 4.7)."""
    found = told("candidates", ("plant", "wheat"), ("limit", "30"))

    clover = next(one for one in found["candidates"] if one["b"] == "trifolium-pratense")
    assert "red clover leaves most of the soil's nitrogen to wheat." == row_said(clover).best


def test_weeds_of_wheat_are_no_companions_unless_asked_for() -> None:
    """Of one plant a square metre of cleavers wheat yields 3 % less, of chickweed and fat hen 0.06 to 0.3 %.

    Marshall et al. (2003), Weed Research 43: 77-89. Red clover, a crop beneath wheat, stays.
    """
    snapshot = open_repository().snapshot()
    wheat, weeds = PlantId("triticum-aestivum"), {"galium-aparine", "stellaria-media", "chenopodium-album"}
    plain, notes = others_for(snapshot, wheat, Leaving())
    taken_in, greens = (
        {str(p.id) for p in others_for(snapshot, wheat, leaving)[0]}
        for leaving in (Leaving(include=("weeds",)), Leaving(group=("annual-vegetable",)))
    )

    assert weeds.isdisjoint(p.id for p in plain)
    assert "trifolium-pratense" in {p.id for p in plain}
    assert any("include=weeds takes them in" in note for note in notes)
    assert weeds <= taken_in
    assert {"stellaria-media", "chenopodium-album"} <= greens


def test_the_list_of_a_pole_bean_says_what_poles_would_change() -> None:
    """Sown to what is there a pole bean wants a host; with poles of its own salads grow at its foot.

    `trade` 4.10 (a host or a frame) and common practice: lettuce, radish and spinach beneath runner beans.
    """
    bare, framed = (
        told("candidates", ("plant", "runner bean"), ("limit", "20"), *given)
        for given in ((), (("given", "frame"),))
    )

    assert ["support"] == [reason["kind"] for reason in bare["reasons"]]
    assert [] == framed["reasons"]
    salads = {"lactuca-sativa", "raphanus-sativus", "spinacia-oleracea"}
    assert salads <= {row["b"] for row in framed["candidates"]}
    assert salads.isdisjoint(row["b"] for row in bare["candidates"])


def test_no_row_praises_roots_that_lie_in_the_same_depth() -> None:
    """More than half of the roots at one depth is no merit: overlap is sharing (`trade` 0.2)."""
    found = told("candidates", ("plant", "lavender"), ("limit", "60"))

    said = [one["saying"] for one in found["candidates"] if one["best"] is None]
    assert not any("of their root depth" in text for text in said)


def test_a_hedge_is_offered_woody_plants_and_its_own_species_among_them() -> None:
    """A row of hedge is of woody plants; herbs come in where their group is asked for.

    Outside: the Hedgerows Regulations 1997, schedule 3 (woody species of hedges in England; from memory).
    """
    snapshot = open_repository().snapshot()
    rows, bulbs = (
        {
            str(p.id)
            for p in others_for(snapshot, PlantId("corylus-avellana"), Leaving(group=group), hedge=True)[0]
        }
        for group in ((), ("bulb",))
    )
    schedule = {
        "acer-campestre",
        "crataegus-monogyna",
        "fagus-sylvatica",
        "ilex-aquifolium",
        "malus-sylvestris",
        "prunus-spinosa",
        "sambucus-nigra",
        "viburnum-opulus",
    }
    assert schedule <= rows
    assert {"lactuca-sativa", "allium-ursinum", "brassica-juncea", "secale-cereale"}.isdisjoint(rows)
    assert "allium-ursinum" in bulbs
