"""A planting from the side, roots below and leaf above, and its year: up to seven plants each."""

from collections.abc import Sequence
from dataclasses import dataclass

from api.figures.drawing import WIDTH, Figure, box, drawing, hatch, line, tag, text
from api.figures.roots import RootShape
from api.figures.year import Window
from api.pages.words import MONTHS, depth, metres, percent, trimmed, week

MOST = 7
"""So many plants are drawn; what else there is stands in the tables."""
LEFT = 44.0
SKY, TALL = 96.0, 210.0
LAYERS_CM = ((0, 15), (15, 30), (30, 60), (60, 220))


@dataclass(frozen=True, slots=True)
class Standing:
    """One plant of a planting: its roots, its height and base of leaf (m), and its share of the ground."""

    name: str
    roots: RootShape
    height_m: float
    base_m: float
    share: float


def side_figure(plants: Sequence[Standing], *, key: str = "side") -> Figure:
    """Leaf above ground and roots by 10 cm below it, numbered as the list beneath."""
    left_out = _left_out(len(plants))
    plants = plants[:MOST]
    deepest = min(220.0, max(40.0, max(p.roots.most_m for p in plants) * 112))
    tallest = max(p.height_m for p in plants)
    ground, scale = SKY + 24, TALL / deepest
    room = (WIDTH - LEFT - 6) / len(plants)
    widest = max(p.roots.between(top, top + 10) for p in plants for top in range(0, int(deepest), 10))
    marks = _axes(deepest, tallest, ground, scale)
    for place, plant in enumerate(plants):
        x = LEFT + place * room
        marks.append(text(x + room / 2, 16, str(place + 1), anchor="middle", bold=True))
        marks += _leaf(plant, x, room, ground, SKY / tallest, key)
        marks += _roots(plant, x, room, (ground, scale), deepest, widest, key)
    below = ground + TALL + 20
    for place, plant in enumerate(plants):
        words = f"{place + 1} {plant.name}: half of its roots above {depth(plant.roots.half_m)}"
        marks.append(text(4, below + 17 * place, words))
    title = "The planting from the side"
    sentence = (
        "Heights and root depths are drawn to scales of their own; widths below ground show how the roots "
        f"of each are spread over depth.{left_out}"
    )
    rows = tuple(
        (
            f"{place + 1} {plant.name}",
            f"{metres(plant.height_m)} m",
            *(percent(plant.roots.between(top, bottom)) for top, bottom in LAYERS_CM),
        )
        for place, plant in enumerate(plants)
    )
    heads = ("Plant", "Height", *(f"{top} to {bottom} cm" for top, bottom in LAYERS_CM[:-1]), "deeper")
    svg = drawing(key, title, sentence, below + 17 * len(plants), marks)
    return Figure(svg, title, sentence, heads, rows)


def _left_out(count: int) -> str:
    """What is not drawn, in words."""
    return f" The first {MOST} of {count} plants are drawn." if count > MOST else ""


def _axes(deepest: float, tallest: float, ground: float, scale: float) -> list[str]:
    step = 10 if deepest <= 60 else 20 if deepest <= 130 else 40
    marks = [line(LEFT - 6, ground, WIDTH - 2, ground, width=2.4), text(2, ground + 4, "0 cm")]
    for mark in range(step, int(deepest) + 1, step):
        y = ground + mark * scale
        marks += [line(LEFT - 6, y, LEFT - 2, y), text(LEFT - 8, y + 4, str(mark), anchor="end")]
    top = ground - SKY
    marks += [
        line(LEFT - 6, top, LEFT - 2, top),
        text(LEFT - 7, top + 4, f"{trimmed(tallest, 1)} m", anchor="end"),
    ]
    return marks


def _leaf(plant: Standing, x: float, room: float, ground: float, scale: float, key: str) -> list[str]:
    top, base = plant.height_m * scale, plant.base_m * scale
    wide = room * 0.62
    stem = line(x + room / 2, ground, x + room / 2, ground - base, width=2) if base > 1 else ""
    leaf = box(x + (room - wide) / 2, ground - top, wide, max(2.0, top - base), fill=hatch(key, "light"))
    return [stem, leaf]


def _roots(
    plant: Standing,
    x: float,
    room: float,
    to_page: tuple[float, float],
    deepest: float,
    widest: float,
    key: str,
) -> list[str]:
    ground, scale = to_page
    marks = []
    for top in range(0, int(deepest), 10):
        bottom = min(top + 10, deepest)
        width = room * 0.9 * plant.roots.between(top, bottom) / widest
        if width > 0.4:
            left = x + (room - width) / 2
            marks.append(
                box(
                    left,
                    ground + top * scale,
                    width,
                    (bottom - top) * scale,
                    fill=hatch(key, "middle"),
                    edge=0.8,
                )
            )
    half = ground + plant.roots.half_m * 100 * scale
    marks.append(
        tag(
            "line",
            x1=x + 2,
            y1=half,
            x2=x + room - 2,
            y2=half,
            stroke="#1b1d1a",
            stroke_width=1.8,
            stroke_dasharray="5 3",
        )
    )
    return marks


@dataclass(frozen=True, slots=True)
class Year:
    """The year of one plant: weeks (first, last) of growth, in flower and of harvest."""

    name: str
    growth: tuple[tuple[int, int], ...]
    flower: tuple[tuple[int, int], ...] = ()
    harvest: tuple[tuple[int, int], ...] = ()


ROW, TOP, MARGIN = 44.0, 24.0, 4.0


def years_figure(years: Sequence[Year], *, key: str = "years") -> Figure:
    """Bars of growth with flower and harvest above them, one row for each plant."""
    left_out = _left_out(len(years))
    years = years[:MOST]
    per_week = (WIDTH - 2 * MARGIN) / 52
    height = TOP + ROW * len(years)
    marks = []
    for month, word in enumerate(MONTHS):
        x = MARGIN + month * 52 / 12 * per_week
        marks += [text(x + 52 / 24 * per_week, 14, word[0], anchor="middle")]
        marks += [line(x, 19, x, height, width=0.4)]
    marks.append(line(WIDTH - MARGIN, 19, WIDTH - MARGIN, height, width=0.4))
    for row, year in enumerate(years):
        y = TOP + row * ROW
        marks.append(_named(year.name, y + 13))
        bars = ((year.growth, "light", y + 20, 16.0), (year.flower, "dots", y + 20, 7.0))
        for spans, fill, top, high in (*bars, (year.harvest, "cross", y + 29, 7.0)):
            for start, end in _pieces(spans):
                width = (end - start) * per_week
                marks.append(
                    box(MARGIN + (start - 1) * per_week, top, width, high, fill=hatch(key, fill), edge=1.2)
                )
    title = "The year of the planting"
    legend = "wide bars: growth"
    if any(year.flower for year in years):
        legend += "; dotted: in flower"
    if any(year.harvest for year in years):
        legend += "; crossed: harvest"
    sentence = f"Months from January to December; {legend}.{left_out}"
    rows = tuple((y.name, _said(y.growth), _said(y.flower), _said(y.harvest)) for y in years)
    return Figure(
        drawing(key, title, sentence, height + 4, marks),
        title,
        sentence,
        ("Plant", "Growth", "Flower", "Harvest"),
        rows,
    )


def _named(name: str, y: float) -> str:
    """A name on a white ground, so that the lines of the months do not run through it."""
    ground = tag("rect", x=MARGIN + 1, y=y - 12, width=7.4 * len(name) + 4, height=15, fill="#fff")
    return ground + text(MARGIN + 3, y, name, bold=True)


def _pieces(spans: Sequence[tuple[int, int]]) -> list[tuple[float, float]]:
    """Weeks as drawn: a span that runs over the new year is two pieces."""
    return [
        piece
        for first, last in spans
        for piece in Window("", first, last + 1.0 if last < 53 else 53.0).pieces
        if piece[1] > piece[0]
    ]


def _said(spans: Sequence[tuple[int, int]]) -> str:
    if not spans:
        return "not on record"
    return "; ".join(
        "all year" if span == (1, 52) else f"{week(span[0])} to {week(span[1])}" for span in spans
    )
