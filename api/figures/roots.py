"""Root profiles: how a plant's roots are spread over depth, one or two plants side by side."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from api.figures.drawing import SOFT, WIDTH, Figure, box, drawing, hatch, line, tag, text
from api.pages.words import depth
from kb.mixture.ground.roots import cumulative_share

TABLE_CM = (0, 10, 20, 30, 60, 100, 220)
TOP = 40.0
TALL = 250.0
LEFT = 44.0
HALF = "7 4"
"""How the line is broken above which half of the roots lie."""


@dataclass(frozen=True, slots=True)
class RootShape:
    """Half of the roots lie above ``half_m``, 95 % above ``most_m`` (metres)."""

    name: str
    half_m: float
    most_m: float

    def above(self, depth_m: float) -> float:
        """The share of roots above a depth."""
        return float(cumulative_share(depth_m, self.half_m, self.most_m))

    def between(self, top_cm: float, bottom_cm: float) -> float:
        """The share of roots in one layer; the deepest layer of the table takes all that is deeper."""
        below = 1.0 if bottom_cm >= TABLE_CM[-1] else self.above(bottom_cm / 100)
        return below - self.above(top_cm / 100)


def root_figure(shapes: Sequence[RootShape], *, key: str = "roots") -> Figure:
    """Root profiles by 10 cm layer with the depth above which half of the roots lie."""
    deepest = min(220.0, max(40.0, max(shape.most_m for shape in shapes) * 112))
    scale = TALL / deepest
    room = (WIDTH - LEFT - 8) / len(shapes)
    widest = max(shape.between(top, top + 10) for shape in shapes for top in range(0, int(deepest), 10))
    marks = _axis(deepest, scale)
    for place, shape in enumerate(shapes):
        marks += _profile(shape, LEFT + place * room, room - 10, deepest, scale, widest, hatch(key, "middle"))
    title = "Roots by depth: " + " and ".join(shape.name for shape in shapes)
    sentence = " ".join(
        f"{shape.name}: half of its roots above {depth(shape.half_m)}, "
        f"nearly all above {depth(shape.most_m)}."
        for shape in shapes
    )
    return Figure(
        drawing(key, title, sentence, TOP + TALL + 14, marks),
        title,
        sentence,
        ("Depth", *(shape.name for shape in shapes)),
        tuple(_row(top, bottom, shapes) for top, bottom in pairwise(TABLE_CM)),
    )


def _axis(deepest: float, scale: float) -> list[str]:
    step = 10 if deepest <= 60 else 20 if deepest <= 130 else 40
    marks = [line(LEFT - 4, TOP, WIDTH - 4, TOP, width=2), text(2, TOP + 4, "0 cm")]
    for mark in range(step, int(deepest) + 1, step):
        y = TOP + mark * scale
        marks += [line(LEFT - 4, y, LEFT, y), text(LEFT - 8, y + 4, str(mark), anchor="end")]
    return marks


def _profile(
    shape: RootShape, x: float, room: float, deepest: float, scale: float, widest: float, fill: str
) -> list[str]:
    marks = [text(x + 2, TOP - 24, shape.name, bold=True)]
    for top in range(0, int(deepest), 10):
        width = room * 0.92 * shape.between(top, min(top + 10, deepest)) / widest
        if width > 0.4:
            marks.append(
                box(x, TOP + top * scale, width, min(10, deepest - top) * scale, fill=fill, edge=0.8)
            )
    half = TOP + shape.half_m * 100 * scale
    marks.append(line(x, half, x + room, half, width=2.2, dash=HALF))
    # Said above the bars, after a piece of the same line: beside it the words would lie on a bar.
    marks.append(line(x + 2, TOP - 12, x + 20, TOP - 12, width=2.2, dash=HALF))
    marks.append(text(x + 25, TOP - 8, f"half above {depth(shape.half_m)}"))
    marks.append(line(x, TOP, x, TOP + TALL, width=1))
    marks.append(tag("line", x1=x, y1=TOP + TALL, x2=x + room, y2=TOP + TALL, stroke=SOFT, stroke_width=0.5))
    return marks


def _row(top: int, bottom: int, shapes: Sequence[RootShape]) -> tuple[str, ...]:
    label = f"deeper than {top} cm" if bottom == TABLE_CM[-1] else f"{top} to {bottom} cm"
    return (label, *(f"{round(100 * shape.between(top, bottom))} %" for shape in shapes))
