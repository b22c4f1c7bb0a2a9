"""The few marks all drawings are made of, and the drawing with its sentence and its table.

Drawings are black on white, with hatching instead of colour, so that they print and can be read
by anyone; text is at least 12 units high in a view 340 units wide (a phone held upright).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

WIDTH = 340.0
TEXT = 12.5
INK = "#1b1d1a"
SOFT = "#6b6f66"


@dataclass(frozen=True, slots=True)
class Figure:
    """A drawing, what it says in one sentence, and the same numbers as a table."""

    svg: str
    title: str
    sentence: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


def attribute(value: object) -> str:
    """A number with at most one decimal, or text, ready for an attribute."""
    text = f"{value:.1f}".removesuffix(".0") if isinstance(value, float) else str(value)
    return escape(text, quote=True)


def tag(name: str, content: str = "", **attributes: object) -> str:
    """One SVG element; ``stroke_width`` is written ``stroke-width``; content is already markup."""
    written = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{attribute(value)}"' for key, value in attributes.items()
    )
    return f"<{name}{written}>{content}</{name}>" if content else f"<{name}{written}/>"


def text(
    x: float, y: float, words: str, *, anchor: str = "start", size: float = TEXT, bold: bool = False
) -> str:
    """One line of text."""
    weight = "700" if bold else "400"
    return tag(
        "text", escape(words), x=x, y=y, text_anchor=anchor, font_size=size, font_weight=weight, fill=INK
    )


def halo(x: float, y: float, words: str, *, size: float = TEXT) -> str:
    """Centred bold text with a white edge, to be read on hatching."""
    return tag(
        "text",
        escape(words),
        x=x,
        y=y,
        text_anchor="middle",
        font_size=size,
        font_weight="700",
        fill=INK,
        stroke="#fff",
        stroke_width=4,
        stroke_linejoin="round",
        paint_order="stroke",
    )


def line(x1: float, y1: float, x2: float, y2: float, *, width: float = 1.0, dash: str = "") -> str:
    """One straight line."""
    extra = {"stroke_dasharray": dash} if dash else {}
    return tag("line", x1=x1, y1=y1, x2=x2, y2=y2, stroke=INK, stroke_width=width, **extra)


def box(x: float, y: float, width: float, height: float, *, fill: str = "none", edge: float = 1.0) -> str:
    """One rectangle."""
    stroke = INK if edge else "none"
    return tag("rect", x=x, y=y, width=width, height=height, fill=fill, stroke=stroke, stroke_width=edge)


HATCHES = ("none", "light", "middle", "dense", "cross", "dots")


def hatches(key: str) -> str:
    """The hatch patterns, from open to dense, with ids of their own in this drawing."""
    spacing = {"light": 9.0, "middle": 5.5, "dense": 3.2}
    patterns = [
        _pattern(
            key,
            name,
            step,
            tag("path", d=f"M0 0 V{step}", stroke=INK, stroke_width=1.1, fill="none"),
            turn=45,
        )
        for name, step in spacing.items()
    ]
    crossed = tag("path", d="M0 0 V4.5 M0 0 H4.5", stroke=INK, stroke_width=1.3, fill="none")
    dot = tag("circle", cx=2.5, cy=2.5, r=1.0, fill=INK)
    patterns += [_pattern(key, "cross", 4.5, crossed, turn=45), _pattern(key, "dots", 5.0, dot, turn=0)]
    return tag("defs", "".join(patterns))


def _pattern(key: str, name: str, step: float, mark: str, *, turn: int) -> str:
    ground = tag("rect", width=step, height=step, fill="#fff")
    return tag(
        "pattern",
        ground + mark,
        id=f"{key}-{name}",
        width=step,
        height=step,
        patternUnits="userSpaceOnUse",
        patternTransform=f"rotate({turn})",
    )


def hatch(key: str, name: str) -> str:
    """The fill value for a hatch of this drawing."""
    return "#fff" if name == "none" else f"url(#{key}-{name})"


def hatch_for(share: float) -> str:
    """The hatch for a share 0-1 (or a little more): denser is more."""
    steps = ((0.05, "none"), (0.25, "light"), (0.5, "middle"), (0.8, "dense"))
    return next((name for limit, name in steps if share < limit), "cross")


def drawing(key: str, title: str, sentence: str, height: float, marks: Sequence[str]) -> str:
    """The finished SVG with its title and description."""
    head = tag("title", escape(title), id=f"{key}-title") + tag("desc", escape(sentence), id=f"{key}-desc")
    return tag(
        "svg",
        head + hatches(key) + "".join(marks),
        xmlns="http://www.w3.org/2000/svg",
        role="img",
        aria_labelledby=f"{key}-title {key}-desc",
        viewBox=f"0 0 {WIDTH:.0f} {height:.0f}",
        font_family="sans-serif",
        class_="drawing",
    )


def round_step(span: float, *, parts: int = 4) -> float:
    """A round step (1, 2 or 5 times a power of ten) that cuts a span into about so many parts."""
    power = 10.0 ** len(str(int(span))) / 10 if span >= 1 else 0.1
    choices = [power * factor / 10 for factor in (1, 2, 5, 10, 20, 50)]
    return min(choices, key=lambda step: abs(span / step - parts))
