"""Units convert exactly, and what must not be converted is refused."""

import math
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import constants

from kb.errors import BadParameter
from kb.units import PLACES, UNITS, convert, unit
from kb.vocabulary_store import load_vocabulary

# International foot and inch (1959 agreement) are exact; fixed points of the temperature scales: water
# freezes at 32 degF = 0 degC, the scales cross at -40; 1 kg/ha = 0.1 g/m2 because a hectare is 10,000 m2.
KNOWN = [
    ("4", "ft", "m", "1.2192"),
    ("6", "ft", "in", "72"),
    ("1", "in", "mm", "25.4"),
    ("155", "mm", "m", "0.155"),
    ("60", "cm", "m", "0.6"),
    ("32", "degF", "degC", "0"),
    ("-40", "degF", "degC", "-40"),
    ("212", "degF", "degC", "100"),
    ("-273.15", "degC", "K", "0"),
    ("150", "kg/ha", "g/m2", "15"),
    ("0.25", "1", "percent", "25"),
    ("2", "week", "day", "14"),
    ("1", "year", "day", "365.25"),
]


@pytest.mark.parametrize(("value", "source", "target", "expected"), KNOWN)
def test_known_conversions_are_exact(value: str, source: str, target: str, expected: str) -> None:
    """Definitions of units and fixed points of scales come out to the last digit."""
    assert Decimal(expected) == convert(Decimal(value), source, target)


def test_factors_agree_with_a_reference_library() -> None:
    """scipy.constants gives the same factors to SI (CODATA and the international definitions)."""
    expected = {
        "FT": constants.foot,
        "IN": constants.inch,
        "HR": constants.hour,
        "DAY": constants.day,
        "WK": constants.week,
        "YR": constants.Julian_year,
        "KiloGM-PER-HA": 1 / constants.hectare,
    }
    ours = {one.name: float(one.factor) for one in UNITS if one.name in expected and one.factor is not None}

    assert expected == pytest.approx(ours, rel=1e-12)


@pytest.mark.parametrize(("fahrenheit", "zone"), [("0", "-17.8"), ("5", "-15.0"), ("-60", "-51.1")])
def test_hardiness_bounds(fahrenheit: str, zone: str) -> None:
    """Bounds of the published 10 degF zones in degrees Celsius: 7a is -17.8 to -15.0, 1a from -51.1."""
    celsius = convert(Decimal(fahrenheit), "degF", "degC")

    assert Decimal(zone) == round(celsius, 1)
    assert math.isclose(
        float(celsius), constants.convert_temperature(float(fahrenheit), "F", "C"), abs_tol=10.0**-PLACES
    )


@given(st.decimals(min_value=-1000, max_value=1000, places=4), st.sampled_from(["cm", "mm", "ft", "in"]))
def test_there_and_back_is_lossless(value: Decimal, other: str) -> None:
    """Metres to another length and back give the same digits wherever the first step is exact."""
    there = convert(value, other, "m")

    assert value == convert(there, "m", other)


@pytest.mark.parametrize(
    ("source", "target", "words"),
    [
        ("pH", "percent", "pH"),
        ("m", "day", "cannot be turned into"),
        ("mo", "day", "not a unit known here"),
        ("furlong", "m", "Known: m, cm"),
    ],
)
def test_what_has_no_factor_is_refused(source: str, target: str, words: str) -> None:
    """PH is a logarithm, a month has no fixed length, and kinds do not mix: an error, never a guess."""
    with pytest.raises(BadParameter, match=words):
        convert(Decimal(1), source, target)


def test_infinite_values_are_refused() -> None:
    """A value that is no number is not passed on."""
    with pytest.raises(BadParameter, match="finite"):
        convert(Decimal("NaN"), "m", "cm")


def test_ph_stays_as_it_is() -> None:
    """The same unit on both sides needs no factor."""
    assert Decimal("6.5") == convert(Decimal("6.5"), "pH", "pH")


def test_rounding_happens_only_where_it_must() -> None:
    """51 degF has no finite decimal in degrees Celsius: (51 - 32) * 5/9."""
    exact = Fraction(19 * 5, 9)

    assert abs(Fraction(convert(Decimal(51), "degF", "degC")) - exact) <= Fraction(1, 2 * 10**PLACES)


def test_every_trait_has_a_known_unit_and_its_code() -> None:
    """The vocabulary's units are all in the table, by IRI."""
    units = {trait.unit for trait in load_vocabulary().traits.values() if trait.unit}

    assert units == {unit(iri).iri for iri in units}
    assert len(UNITS) == len({one.iri for one in UNITS}) == len({one.ucum for one in UNITS})
