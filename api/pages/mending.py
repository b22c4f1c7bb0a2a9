"""What a page of an error offers instead: names near the wrong one, the question with a name put in."""

import re
from collections.abc import Mapping
from typing import Any
from urllib.parse import parse_qsl, quote, unquote, urlencode, urlsplit

from api.pages.words import plant_url

Answer = Mapping[str, Any]

QUOTED = re.compile(r"(?<!\w)'(.+?)'(?!\w)")
"""The name that an error is about, as its sentence quotes it."""

PLACES = {"unknown-trait": "/traits/", "unknown-source": "/sources/"}


def nearest_links(answer: Answer) -> list[tuple[str, str, str]]:
    """What is offered instead of a name that was not found or means several plants.

    Each as a name, the botanical one where it is a plant to choose, and an address: the same question.
    """
    slug = str(answer.get("type", "")).rpartition("#")[2]
    offered = [str(name) for name in answer.get("nearest") or ()]
    if slug in PLACES:
        return [(name, "", PLACES[slug] + quote(name, safe="")) for name in offered]
    wrong = QUOTED.search(str(answer.get("detail", "")))
    instance = str(answer.get("instance", "/"))
    near = [(name, "", _mended(instance, wrong[1], name) if wrong else plant_url(name)) for name in offered]
    return near + [link for told in (answer, *answer.get("errors", ())) for link in _choices(told, instance)]


def problem_words(answer: Answer) -> str:
    """What is wrong, in words; plants to choose from stand below it, as links."""
    detail = str(answer.get("detail", ""))
    if not answer.get("choices"):
        return detail.partition(" Nearest names: ")[0] if answer.get("nearest") else detail
    return f"{detail.partition(': ')[0]}. The question stays as it is; only the name is put in."


def _choices(told: Mapping[str, Any], instance: str) -> list[tuple[str, str, str]]:
    """The plants that a name can mean, each leading to the question, where its address holds the name."""
    wrong = QUOTED.search(str(told.get("detail", "")))
    links = []
    for plant in told.get("choices") or ():
        asked = _mended(instance, wrong[1], plant) if wrong else instance
        called = told["names"][plant]
        href = asked if asked != instance else plant_url(plant)
        links.append((str(called["common"] or ""), str(called["accepted"]), href))
    return links


def _mended(instance: str, wrong: str, name: str) -> str:
    """The address of a question with one name put in the place of another."""
    parts = urlsplit(instance)
    path = "/".join(
        quote(name, safe="") if unquote(step) == wrong else step for step in parts.path.split("/")
    )
    query = [(key, name if value == wrong else value) for key, value in parse_qsl(parts.query)]
    return f"{path}?{urlencode(query)}" if query else path
