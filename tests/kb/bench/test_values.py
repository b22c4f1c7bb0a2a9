"""Values as people write them: read with their unit, or refused with what is wrong; never guessed."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kb.bench.values import ReadValue, read_value
from kb.errors import BadParameter
from kb.vocabulary_store import load_vocabulary

VOCABULARY = load_vocabulary()


def read(trait: str, text: str, kind: str | None = None) -> ReadValue:
    """Read a value of a trait."""
    return read_value(VOCABULARY.trait(trait), text, kind, VOCABULARY)


def figures(value: ReadValue) -> tuple[str | None, ...]:
    """Give low, likely and high as texts."""
    return tuple(
        None if end is None else format(end.normalize(), "f") for end in (value.low, value.likely, value.high)
    )


@pytest.mark.parametrize(
    ("trait", "text", "expected"),
    [
        ("crown-width", "3 m", (None, "3", None)),
        ("crown-width", "45 cm", (None, "0.45", None)),
        ("crown-width", "2–3 m", ("2", None, "3")),
        ("crown-width", "2 to 3 m", ("2", None, "3")),
        ("crown-width", "60-90 cm", ("0.6", None, "0.9")),
        ("crown-width", "10 ft", (None, "3.048", None)),  # 1 ft = 0.3048 m (international foot, 1959)
        ("hardiness", "-18 °C", (None, "-18", None)),
        ("hardiness", "-20..-15 °C", ("-20", None, "-15")),
        ("hardiness", "-40 °F", (None, "-40", None)),  # the one temperature where both scales agree
        ("soil-reaction", "pH 5.5-7", ("5.5", None, "7")),
        ("light-to-survive", "40 %", (None, "0.4", None)),
        ("nitrogen-uptake", "100 kg/ha", (None, "10", None)),  # 1 kg/ha = 0.1 g/m2
        ("flowering-window", "week 14 to 20", ("14", None, "20")),
        ("flowering-window", "weeks 50-3", ("50", None, "3")),
        ("flowering-window", "from week 14", ("14", None, None)),
    ],
)
def test_values_are_read_with_their_unit(trait: str, text: str, expected: tuple[str | None, ...]) -> None:
    """Lengths in any unit of length, temperatures, shares, weeks."""
    assert expected == figures(read(trait, text))


def test_the_kind_says_which_end_a_figure_is() -> None:
    """At least, at most, and a plain figure are three different things."""
    assert ("1.2", None, None) == figures(read("rooting-depth", "1.2 m", "floor"))
    assert (None, None, "1.2") == figures(read("rooting-depth", "1.2 m", "maximum"))
    assert (None, "1.2", None) == figures(read("rooting-depth", "1.2 m", "mean"))


def test_named_values_go_by_id_or_label() -> None:
    """Several with commas between."""
    assert ("herb", "shrub") == read("growth-form", "shrub, herb").concepts
    assert ("Asteraceae",) == read("family", "Compositae").concepts


@pytest.mark.parametrize(
    ("trait", "text", "kind", "told"),
    [
        ("crown-width", "3", None, "has no unit"),
        ("crown-width", "3 kg", None, "no length"),
        ("crown-width", "12 °C", None, "no length"),
        ("crown-width", "wide", None, "is no number"),
        ("crown-width", "3,5 m", None, "write a decimal point"),
        ("crown-width", "1e3 m", None, "no power of ten"),
        ("crown-width", "5-3 m", None, "above the upper"),
        ("crown-width", "3 m to 50 cm", None, "mixes units"),
        ("crown-width", "2-3 m", "floor", "has one figure"),
        ("crown-width", "3 m", "range", "has two figures"),
        ("crown-width", "3 m", "roughly", "none of"),
        ("crown-width", "", None, "is missing"),
        ("crown-width", "9" * 40 + " m", None, "figures"),
        ("soil-reaction", "6 m", None, "bare figure"),
        ("flowering-window", "14 to 20", None, "names no weeks"),
        ("flowering-window", "April", None, "names no weeks"),
        ("growth-form", "bushy", None, "no value of growth-form"),
        ("growth-form", "herb", "mean", "kind of number"),
    ],
)
def test_what_is_no_value_is_refused(trait: str, text: str, kind: str | None, told: str) -> None:
    """Each refusal says what is wrong; a decimal comma is not taken for a point."""
    with pytest.raises(BadParameter, match=told):
        read(trait, text, kind)


@given(text=st.text(max_size=60), trait=st.sampled_from(sorted(VOCABULARY.traits)))
def test_any_text_is_read_or_refused(text: str, trait: str) -> None:
    """Nothing else escapes, whatever is written."""
    try:
        value = read(trait, text)
    except BadParameter:
        return
    assert value.concepts or any(
        end is not None and end.is_finite() for end in (value.low, value.likely, value.high)
    )


@given(value=st.decimals(0, 1000, places=3))
def test_centimetres_are_hundredths_of_metres(value: Decimal) -> None:
    """Exactly, for any figure."""
    assert value / 100 == read("crown-width", f"{value} cm").likely
