"""A page as a tree, read by the HTML standard's own algorithm; the first error is raised."""

from dataclasses import dataclass
from xml.etree.ElementTree import Element

import html5rdf

HTML = "{http://www.w3.org/1999/xhtml}"
SVG = "{http://www.w3.org/2000/svg}"


@dataclass(frozen=True, slots=True)
class Page:
    """The tree of a page and a few ways to look at it."""

    root: Element

    @classmethod
    def read(cls, text: str) -> "Page":
        """Parse with the algorithm of the HTML standard (WHATWG); strict: any parse error raises."""
        return cls(html5rdf.HTMLParser(strict=True).parse(text))

    def all(self, *names: str) -> list[Element]:
        wanted = {HTML + name for name in names}
        return [one for one in self.root.iter() if one.tag in wanted]

    def drawings(self) -> list[Element]:
        return [one for one in self.root.iter() if one.tag == SVG + "svg"]

    def elements(self) -> list[Element]:
        return [one for one in self.root.iter() if isinstance(one.tag, str)]

    def words(self) -> str:
        return said(self.root)


def said(element: Element) -> str:
    """The text of an element with single spaces."""
    return " ".join("".join(element.itertext()).split())
