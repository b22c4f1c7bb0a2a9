"""Numbers and their nouns agree, as English grammar has it."""

import pytest

from api.cli.judged import age_words
from api.pages.words import span_text
from kb.mixture.counting import so_many


@pytest.mark.parametrize(
    ("number", "form", "said"),
    [
        (0, "g", "0 years"),
        (1, "g", "1 year"),
        (1.0, "g", "1 year"),
        (1.5, "g", "1.5 years"),
        (1.02, ".1f", "1.0 years"),
    ],
)
def test_one_is_told_in_the_singular(number: float, form: str, said: str) -> None:
    """What is printed decides: 1 year, but 1.0 years and 0 years (usage guides of English)."""
    assert said == so_many(number, "year", form=form)


def test_a_noun_may_bring_its_own_plural() -> None:
    """Study and studies: an s alone would not do."""
    assert ["1 study", "2 studies"] == [so_many(n, "study", "studies") for n in (1, 2)]


def test_spans_and_ages_of_one_year_are_singular() -> None:
    """No English says up to one years."""
    assert "up to 1 year" == span_text((None, 1), "years", None)
    assert "1 to 3 years" == span_text((1, 3), "years", None)
    assert "1 year old" == age_words(1)
