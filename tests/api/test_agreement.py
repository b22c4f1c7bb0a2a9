"""Verbs behind plural names (English grammar: a plural subject has a plural verb)."""

import pytest

from api.answers.agreement import agreed, for_many, is_plural
from api.answers.answering import answer
from api.asking import ask
from api.parsing import parse
from kb.repository import open_repository

NAMES = ("chives", "cole crops", "carrot")


@pytest.mark.parametrize(
    ("said", "right"),
    [
        (
            "Cole crops goes without water: carrot roots in it.",
            "Cole crops go without water: carrot roots in it.",
        ),
        ("It is avoided, unless chives is lifted.", "It is avoided, unless chives are lifted."),
        ("The soil is outside what chives bears.", "The soil is outside what chives bear."),
        ("Cole crops, sown in week 15, meets a frost.", "Cole crops, sown in week 15, meet a frost."),
        ("Shade of cole crops costs carrot 10 %.", "Shade of cole crops costs carrot 10 %."),
        (
            "Shade of carrot costs cole crops about 10 % of its crop.",
            "Shade of carrot costs cole crops about 10 % of their crop.",
        ),
        (
            "Chives does about 65 % of its growing while carrot is bare.",
            "Chives do about 65 % of their growing while carrot is bare.",
        ),
        (
            "Chives comes up in carrot from seed and offsets: they have to be pulled every year.",
            "Chives come up in carrot from seed and offsets: they have to be pulled every year.",
        ),
        ("Chives over-runs carrot by seed and by offsets.", "Chives over-run carrot by seed and by offsets."),
        ("Carrot goes without chives as before.", "Carrot goes without chives as before."),
        ("All is well if chives gets a frame of its own.", "All is well if chives get a frame of their own."),
        ("It lives in the ground; chives is a host.", "It lives in the ground; chives are hosts."),
        ("Chives is harvested before it flowers.", "Chives are harvested before they flower."),
        ("Chives has 10 weeks to itself.", "Chives have 10 weeks to themselves."),
        (
            "Chives goes without water it would find in a bed of its own.",
            "Chives go without water they would find in a bed of their own.",
        ),
    ],
)
def test_a_plural_name_that_is_the_subject_has_a_plural_verb(said: str, right: str) -> None:
    """English grammar; another subject before it keeps its own verb, and so does a singular name."""
    assert {"saying": right} == agreed({"saying": said}, NAMES)


def test_words_of_sources_stay_as_they_were() -> None:
    """What a source prints is verbatim (common practice of citing)."""
    told = {"cautions": [{"text": "Chives is poisonous."}], "notes": ["Chives is taken."]}

    assert {"cautions": told["cautions"], "notes": ["Chives are taken."]} == agreed(told, NAMES)


def test_number_and_verb_forms() -> None:
    """English grammar: words in -ss, -us, -is, -as are no plurals; verbs in -ies and -ches change more."""
    plural = [is_plural(n) for n in ("summer squash and pumpkin", "watercress", "St John's wort", "chives")]

    assert [True, False, False, True] == plural
    assert ["carry", "lie", "reach", "do"] == [for_many(v) for v in ("carries", "lies", "reaches", "does")]


def test_an_answer_of_the_base_agrees() -> None:
    """Chives beside carrot: no verb of one behind a plural name (English grammar)."""
    snapshot = open_repository().snapshot()
    said = answer(snapshot, ask(parse("pair", [("a", "allium-schoenoprasum"), ("b", "daucus-carota")])))
    text = " ".join(str(r["text"]) for r in [*said["reasons"], *said["conditions"]]) + str(said["saying"])  # type: ignore[attr-defined]

    assert "hives " in text
    assert not any(f"hives {verb} " in text for verb in ("is", "goes", "gets", "gives"))
