"""The words of one caution, behind the name of its kind; the same on pages and the command line."""

from collections.abc import Mapping
from typing import Any

from api.pages.words import upfirst

SAID_BY_KIND: Mapping[str, tuple[str, str]] = {
    "toxic": ("Poisonous or harmful: ", "poisonous"),
    "skin": ("Harms skin: ", ""),
    "allergen": ("Allergen: ", ""),
    "livestock": ("Harms animals: ", ""),
    "prohibited": ("Restricted by law: ", ""),
}
"""How texts of cautions begin that say their kind again, and the word that says no more than the kind."""


def caution_text(caution: Mapping[str, Any]) -> str:
    """The words of a caution behind the name of its kind, which they do not say a second time."""
    text = str(caution["text"])
    opening, only = SAID_BY_KIND.get(str(caution["kind"]), ("", ""))
    if not opening or not text.startswith(opening):
        return text
    rest = text.removeprefix(opening)
    if only and rest.startswith(f"{only}."):
        return rest.removeprefix(f"{only}.").strip() or "The record says no more."
    return upfirst(rest)
