"""A tree seen from above and from the side: rings, sides, light and root draw."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import cos, pi, sin

from api.figures.drawing import (
    INK,
    WIDTH,
    Figure,
    box,
    drawing,
    halo,
    hatch,
    hatch_for,
    line,
    round_step,
    tag,
    text,
)
from api.pages.words import SIDE, metres, trimmed

BEARING = {"N": 0.0, "E": 90.0, "S": 180.0, "W": 270.0}


@dataclass(frozen=True, slots=True)
class Ring:
    """A ring of ground round the trunk, metres; light in the growing season by side, draw 0-1."""

    name: str
    from_m: float
    to_m: float
    root_draw: float
    light: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Outline:
    """The tree this year, metres."""

    name: str
    height_m: float
    crown_radius_m: float
    crown_base_m: float


def plan_figure(tree: Outline, rings: Sequence[Ring], season: str, *, key: str = "plan") -> Figure:
    """Rings and sides from above, north up, with the light each gets in the growing season."""
    extent = max(ring.to_m for ring in rings)
    middle, radius = WIDTH / 2, 142.0
    scale, centre = radius / extent, 164.0
    marks = [_circle(middle, centre, ring.to_m * scale, 0.8) for ring in rings]
    if rings[0].from_m > 0:
        marks.append(_circle(middle, centre, rings[0].from_m * scale, 0.8))
    marks.append(_circle(middle, centre, tree.crown_radius_m * scale, 2.4, dash="8 4"))
    sides = [side for side in BEARING if any(side in ring.light for ring in rings)]
    marks += _spokes(middle, centre, rings[0].from_m * scale, radius) if len(sides) > 1 else []
    for ring in rings:
        reach = (ring.from_m + ring.to_m) / 2 * scale
        for side in ring.light:
            x = middle + max(reach, 19) * sin(BEARING[side] * pi / 180)
            y = centre - max(reach, 19) * cos(BEARING[side] * pi / 180)
            marks.append(halo(x, y + 4.5, str(round(100 * ring.light[side])), size=13))
    marks.append(tag("circle", cx=middle, cy=centre, r=3.5, fill=INK))
    marks += _north(26, 44) + _scale_bar(8, 336, scale, extent)
    marks.append(text(WIDTH - 4, 330, "thick dashes: crown edge", anchor="end"))
    title = f"{tree.name} from above: light by ring and side"
    sentence = (
        f"North is up. Numbers are per cent of open light in {season}; rings reach "
        f"{', '.join(metres(ring.to_m) for ring in rings)} m from the trunk; "
        f"the crown reaches {trimmed(tree.crown_radius_m, 2)} m."
    )
    head = ("Ring", "From the trunk", *(SIDE[side].capitalize() for side in sides))
    return Figure(
        drawing(key, title, sentence, 346, marks),
        title,
        sentence,
        head,
        tuple(_plan_row(ring, sides) for ring in rings),
    )


def _plan_row(ring: Ring, sides: Sequence[str]) -> tuple[str, ...]:
    lights = (f"{round(100 * ring.light[side])} %" if side in ring.light else "–" for side in sides)
    return (ring.name, f"{metres(ring.from_m)} to {metres(ring.to_m)} m", *lights)


def _circle(x: float, y: float, radius: float, width: float, dash: str = "") -> str:
    extra = {"stroke_dasharray": dash} if dash else {}
    return tag("circle", cx=x, cy=y, r=radius, fill="none", stroke=INK, stroke_width=width, **extra)


def _spokes(x: float, y: float, inner: float, outer: float) -> list[str]:
    marks = []
    for bearing in (45, 135, 225, 315):
        across, up = sin(bearing * pi / 180), cos(bearing * pi / 180)
        marks.append(
            line(
                x + inner * across, y - inner * up, x + outer * across, y - outer * up, width=0.8, dash="2 4"
            )
        )
    return marks


def _north(x: float, y: float) -> list[str]:
    arrow = tag("path", d=f"M{x:.0f} {y - 30:.0f} l7 22 l-7 -5 l-7 5 z", fill=INK)
    return [arrow, text(x, y + 8, "N", anchor="middle", bold=True)]


def _scale_bar(x: float, y: float, scale: float, extent: float) -> list[str]:
    length = round_step(extent, parts=3)
    end = x + length * scale
    return [
        line(x, y, end, y, width=3),
        line(x, y - 5, x, y + 5),
        line(end, y - 5, end, y + 5),
        text(x, y - 9, f"{metres(length)} m"),
    ]


def side_figure(
    tree: Outline, rings: Sequence[Ring], *, later: Sequence[Outline] = (), key: str = "side"
) -> Figure:
    """Crown and ground from the side; below the ground how hard the roots draw, ring by ring."""
    tallest = max([tree.height_m, *(grown.height_m for grown in later)])
    extent = max([rings[-1].to_m, *(grown.crown_radius_m for grown in later)])
    scale = min((WIDTH / 2 - 8) / extent, 210 / tallest)
    ground, middle = 24 + tallest * scale, WIDTH / 2
    marks = [_crown(grown, middle, ground, scale, dash="3 4", width=1.1) for grown in later]
    marks.append(_crown(tree, middle, ground, scale, dash="", width=2.2, fill="#ecece6"))
    trunk = max(2.0, tree.height_m * scale * 0.022)
    marks.append(
        box(
            middle - trunk, ground - tree.crown_base_m * scale, 2 * trunk, tree.crown_base_m * scale, fill=INK
        )
    )
    marks.append(
        text(
            middle,
            14,
            f"{trimmed(tree.height_m, 2)} m high, crown {trimmed(2 * tree.crown_radius_m, 2)} m wide",
            anchor="middle",
        )
    )
    marks.append(line(2, ground, WIDTH - 2, ground, width=2.4))
    marks += _draw_strip(rings, middle, ground, scale, key)
    title = f"{tree.name} from the side: crown, and root draw by ring"
    sentence = (
        f"{tree.name}, {trimmed(tree.height_m, 2)} m high. Against the average under its crown, one "
        "square metre of ground gives it: "
        + ", ".join(f"{round(100 * ring.root_draw)} % in the {ring.name} ring" for ring in rings)
        + ". The strip shows how hard the roots draw, not how deep they go."
        + (" Dotted: the outlines it grows to in the years asked." if later else "")
    )
    rows = tuple(
        (ring.name, f"{metres(ring.from_m)} to {metres(ring.to_m)} m", f"{round(100 * ring.root_draw)} %")
        for ring in rings
    )
    return Figure(
        drawing(key, title, sentence, ground + 84, marks),
        title,
        sentence,
        ("Ring", "From the trunk", "Root draw"),
        rows,
    )


def _crown(
    tree: Outline, x: float, ground: float, scale: float, *, dash: str, width: float, fill: str = "none"
) -> str:
    base, radius = ground - tree.crown_base_m * scale, tree.crown_radius_m * scale
    rise = (tree.height_m - tree.crown_base_m) * scale
    path = f"M{x - radius:.1f} {base:.1f} A{radius:.1f} {rise:.1f} 0 0 1 {x + radius:.1f} {base:.1f} Z"
    extra = {"stroke_dasharray": dash} if dash else {}
    return tag("path", d=path, fill=fill, stroke=INK, stroke_width=width, **extra)


def _draw_strip(rings: Sequence[Ring], middle: float, ground: float, scale: float, key: str) -> list[str]:
    marks, high = [], 34.0
    for place, ring in enumerate(rings):
        start, width = ring.from_m * scale, (ring.to_m - ring.from_m) * scale
        fill = hatch(key, hatch_for(ring.root_draw))
        marks += [
            box(x, ground + 2, width, high, fill=fill) for x in (middle + start, middle - start - width)
        ]
        marks.append(
            halo(middle + start + width / 2, ground + 23, str(round(100 * ring.root_draw)), size=12.5)
        )
        row = 15 + 14 * (place % 2)
        marks.append(
            text(middle + start + width / 2, ground + high + row, ring.name, anchor="middle", size=12)
        )
    marks.append(text(4, ground + high + 16, "root draw, % of that"))
    marks.append(text(4, ground + high + 30, "under the crown"))
    return marks
