"""One sentence for one doer and all to whom it is done (plain writing, common practice)."""

from api.pages.judged_words import conflicts_at_once, pairs_at_once
from kb.mixture.answers.judgement import judge_planting
from kb.mixture.said_once import said_once, shape_of
from tests.mixture.real import plantings, shipped

NAMES = ("mint", "wild mint", "kale", "leek", "pea")


def test_those_to_whom_the_same_is_done_stand_in_one_sentence() -> None:
    """Reports name the doer once (common practice)."""
    texts = [f"mint runs into {other}: it has to be cut back." for other in ("kale", "leek", "pea")]

    assert said_once(texts, NAMES) == [
        ("mint runs into kale, leek and pea: it has to be cut back.", (0, 1, 2))
    ]


def test_what_is_said_of_each_goes_with_its_name() -> None:
    """Figures that differ stay beside the plant they belong to (common practice of tables)."""
    texts = [f"Digging for leek cuts the roots of {who}." for who in ("kale (half above 6 cm)", "pea")]

    assert (
        said_once(texts, NAMES)[0][0] == "Digging for leek cuts the roots of kale (half above 6 cm) and pea."
    )


def test_those_who_do_something_keep_a_sentence_each() -> None:
    """A verb in the singular wants one subject (grammar): nothing is joined before it."""
    texts = ["kale is lifted while pea still grows.", "kale is lifted while leek still grows.", "pea climbs."]

    assert [text for text, _ in said_once(texts, NAMES)] == texts
    assert [text for text, _ in said_once(["kale climbs.", "leek climbs."], NAMES)] == [
        "kale climbs.",
        "leek climbs.",
    ]


def test_a_longer_name_is_not_taken_for_the_shorter_in_it() -> None:
    """Wild mint is not mint."""
    texts = ["kale runs into wild mint.", "kale runs into mint.", "kale runs into peat."]

    assert [text for text, _ in said_once(texts, NAMES)] == ["kale runs into wild mint and mint.", texts[2]]
    assert shape_of(texts[0], NAMES) == shape_of(texts[1], NAMES) != shape_of(texts[2], NAMES)


def test_no_conflict_of_a_planting_is_lost_or_said_twice() -> None:
    """Every plant that a conflict is about is still named in the lines that are shown."""
    book, joined = shipped()[1], 0
    for planting in plantings(seed=51, count=25):
        answer = judge_planting(planting, draws=0, book=book)
        names = {p.id: {"common": p.name, "accepted": p.id} for p in shipped()[0]}
        called = {member.plant: names[member.plant] for member in answer.members}
        raw = [
            {
                "kind": c.kind,
                "holds_to": c.ceiling,
                "lift": c.lift,
                "lifted": c.lifted,
                "text": c.text,
                "records": c.records,
                "of": c.of,
            }
            for c in answer.conflicts
        ]
        shown = conflicts_at_once({"conflicts": raw, "names": called})
        told = " ".join(conflict["text"] for conflict in shown)
        for conflict in raw:
            plant = called[conflict["of"]]["common"]
            if not conflict["lifted"] and plant in conflict["text"]:
                assert plant in told
        texts = [conflict["text"] for conflict in shown]
        assert len(texts) == len(set(texts))
        joined += len(shown) < sum(not conflict["lifted"] for conflict in raw)
        pairs = [{"a": p.a, "b": p.b, "verdict": p.verdict, "text": p.text} for p in answer.pairs]
        assert len(pairs_at_once({"pairs": pairs, "names": called})) <= len(pairs)
    assert joined
