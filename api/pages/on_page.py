"""Notes of an answer in the words of a page: the form in place of parameters, a link where one is named.

An answer names parameters ("winter_min_c says it", "include=flowers takes them in"), which scripts need; a
reader of a page looks for the form, or wants the list with what was left out.
"""

import re
from collections.abc import Sequence
from urllib.parse import parse_qsl, urlencode, urlsplit

from markupsafe import Markup, escape

from api.pages.asked import LABELS
from api.pages.words import tidy

IN_FORM = "say it in the form"
_SAYS = re.compile(r"\b([a-z]+(?:_[a-z]+)*) says it\b")
_TAKES = re.compile(r"include=([a-z-]+) takes (them|it) in\b")


def on_page(note: str, path: str) -> Markup:
    """A note as a page tells it; ``path`` is the address of the question, which a link asks again."""
    note = _SAYS.sub(lambda found: IN_FORM if found[1] in LABELS else found[0], tidy(note))
    parts = _TAKES.split(note)
    told = escape(parts[0])
    for word, those, after in zip(parts[1::3], parts[2::3], parts[3::3], strict=True):
        link = Markup('<a href="{}">take {} in</a>').format(_including(path, word), those)
        told += link + after
    return told


def _including(path: str, word: str) -> str:
    """The same question with one more kind of plants taken in."""
    parts = urlsplit(path)
    asked = parse_qsl(parts.query)
    words: Sequence[str] = [part for name, value in asked if name == "include" for part in value.split(",")]
    kept = [pair for pair in asked if pair[0] != "include"]
    return f"{parts.path}?{urlencode([*kept, ('include', ','.join(dict.fromkeys([*words, word])))])}"
