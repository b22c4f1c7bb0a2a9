"""Whether a statement is from the country of a place."""

from collections.abc import Iterable

COUNTRIES = {
    "AU": "Australia",
    "CA": "Canada",
    "DE": "Germany",
    "FR": "France",
    "GB": "United Kingdom",
    "NL": "Netherlands",
    "NZ": "New Zealand",
    "US": "USA",
}
"""The countries that statements come from, as they print them, by ISO 3166 code."""


def recorded_in(regions: Iterable[str], place: str | None) -> bool:
    """Whether a statement is from the country of a place (``US-WA`` is in ``US``), or from everywhere."""
    country = COUNTRIES.get((place or "").partition("-")[0].upper())
    return place is not None and any(
        "worldwide" in region or (country is not None and country in region) for region in regions
    )
