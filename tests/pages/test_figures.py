"""Drawings: to scale, in black and grey, and true to the numbers they are given."""

import re
from xml.etree.ElementTree import Element, fromstring

import pytest

from api.figures.drawing import Figure
from api.figures.loss import loss_figure
from api.figures.roots import RootShape, root_figure
from api.figures.tree import Outline, Ring, plan_figure, side_figure
from api.figures.year import Window, year_figure

NS = "{http://www.w3.org/2000/svg}"
TREE = Outline("invented tree", 4.5, 2.25, 1.1)
RINGS = [
    Ring("inner", 0.3, 1.1, 1.2, {"N": 0.48, "E": 0.55, "S": 0.62, "W": 0.55}),
    Ring("mid", 1.1, 2.2, 0.8, {"N": 0.5, "E": 0.6, "S": 0.85, "W": 0.6}),
    Ring("outside", 3.3, 4.5, 0.1, {"N": 0.9, "E": 0.95, "S": 0.99, "W": 0.95}),
]
FIGURES = {
    "roots": root_figure([RootShape("one", 0.2, 0.87), RootShape("two", 0.1, 0.32)]),
    "year": year_figure([Window("leaf", 16, 44), Window("growth", 40, 24)], "one"),
    "loss": loss_figure([("one", {"roots": 0.2, "light": 0.1, "enemies": 0.0, "all": 0.25})]),
    "plan": plan_figure(TREE, RINGS, "June to August"),
    "side": side_figure(TREE, RINGS, later=[Outline("invented tree", 6.0, 3.0, 1.1)]),
}


def marks(figure: Figure, name: str) -> list[Element]:
    return list(fromstring(figure.svg).iter(NS + name))  # noqa: S314 - our own drawing


@pytest.mark.parametrize("name", FIGURES)
def test_drawing_is_grey_and_large_enough(name: str) -> None:
    """Only black, white, grey and hatching; text at least 12 units in a view 340 wide (a phone)."""
    root = fromstring(FIGURES[name].svg)  # noqa: S314 - our own drawing

    assert "0 0 340" == root.attrib["viewBox"].rsplit(" ", 1)[0]
    for one in root.iter():
        for part in ("fill", "stroke"):
            colour = one.attrib.get(part, "none")
            if match := re.fullmatch(r"#([0-9a-f]{6})", colour):
                channels = [int(match[1][i : i + 2], 16) for i in (0, 2, 4)]
                assert max(channels) - min(channels) <= 12
            else:
                assert colour in {"none", "#fff"} or colour.startswith("url(#")
    sizes = [float(one.attrib["font-size"]) for one in root.iter(NS + "text")]
    assert min(sizes) >= 12


@pytest.mark.parametrize("name", FIGURES)
def test_text_stays_inside(name: str) -> None:
    """No label starts or ends outside the drawing (0.62 em per letter is taken as its width)."""
    for one in marks(FIGURES[name], "text"):
        wide = 0.62 * float(one.attrib["font-size"]) * len(one.text or "")
        shift = {"start": 0.0, "middle": 0.5, "end": 1.0}[one.attrib["text-anchor"]]
        left = float(one.attrib["x"]) - shift * wide
        assert left > -8
        assert left + wide < 352


def test_root_curve_is_the_published_one() -> None:
    """With D50 20 cm and D95 87 cm, 30/50/75 % of the roots lie in the top 10/20/40 cm.

    Expected: Jackson et al. 1996, Oecologia 108, all plants (beta 0.966), quoted in trade 4.1.
    """
    shape = RootShape("all plants", 0.20, 0.87)

    assert [0.30, 0.50, 0.75] == [pytest.approx(shape.above(d), abs=0.01) for d in (0.1, 0.2, 0.4)]
    assert 0.95 == pytest.approx(shape.above(0.87))


def test_root_table_accounts_for_all_roots() -> None:
    """The layers of the table hold all roots, within the rounding of six numbers."""
    for column in (1, 2):
        total = sum(int(row[column].removesuffix(" %")) for row in FIGURES["roots"].rows)
        assert abs(total - 100) <= 3


def test_window_over_the_new_year_is_two_bars() -> None:
    """A window from week 40 to week 24 is drawn at both ends of the year and said as one."""
    assert 3 == len([one for one in marks(FIGURES["year"], "rect") if "x" in one.attrib])
    assert "Growth: week 40 (October) to week 24 (June)" in FIGURES["year"].sentence


def test_plan_is_to_scale_with_north_up() -> None:
    """Ring radii are in proportion to metres; the north label lies above the south one."""
    rings = {round(float(one.attrib["r"]), 1) for one in marks(FIGURES["plan"], "circle")}
    label = {one.text: float(one.attrib["y"]) for one in marks(FIGURES["plan"], "text")}

    unit = 142 / 4.5
    assert {round(edge * unit, 1) for edge in (0.3, 1.1, 2.2, 2.25, 4.5)} <= rings
    assert label["90"] < label["50"] < label["48"] < label["62"] < label["85"] < label["99"]


def test_scale_bar_is_as_long_as_it_says() -> None:
    """The bar under the plan is the stated number of metres at the scale of the rings."""
    said = next(one.text for one in marks(FIGURES["plan"], "text") if (one.text or "").endswith(" m"))
    bar = next(one for one in marks(FIGURES["plan"], "line") if one.attrib["stroke-width"] == "3")

    length = float(bar.attrib["x2"]) - float(bar.attrib["x1"])
    assert length == pytest.approx(float(str(said).removesuffix(" m")) * 142 / 4.5, abs=0.2)


def test_side_view_has_one_scale_and_no_mirrored_roots() -> None:
    """Crown height and width share one scale; below ground there are strips, no curve at all."""
    paths = [one.attrib["d"] for one in marks(FIGURES["side"], "path") if "A" in one.attrib["d"]]
    later, now = (re.findall(r"-?[\d.]+", path) for path in paths)

    radius, rise = float(now[2]), float(now[3])
    assert radius / rise == pytest.approx(2.25 / 3.4, abs=0.02)
    assert float(later[2]) / radius == pytest.approx(3.0 / 2.25, abs=0.01)
    ground = max(float(one.attrib["y1"]) for one in marks(FIGURES["side"], "line"))
    assert all(float(path.split()[1]) < ground for path in paths)


def test_denser_hatching_is_a_harder_draw() -> None:
    """The strip of a ring that is drawn on harder has the denser hatching; numbers stand in it."""
    fills = [one.attrib["fill"] for one in marks(FIGURES["side"], "rect") if "url" in one.attrib["fill"]]

    assert ["cross", "cross", "light"] == [fill.rsplit("-", 1)[1][:-1] for fill in fills[::2]]
    assert {"120", "80", "10"} <= {one.text for one in marks(FIGURES["side"], "text")}


@pytest.mark.parametrize(
    ("half_m", "most_m"), [(0.05, 0.25), (0.07, 0.25), (0.12, 0.6), (0.25, 0.95), (0.2, 2.2), (0.5, 1.0)]
)
def test_no_bar_of_roots_lies_under_a_label(half_m: float, most_m: float) -> None:
    """Print practice: a label that covers a part of a bar makes it read as shorter."""
    figure = root_figure([RootShape("one", half_m, most_m), RootShape("two", 0.1, 0.32)])
    bars = [
        tuple(float(bar.attrib[key]) for key in ("x", "y", "width", "height"))
        for bar in marks(figure, "rect")
        if bar.attrib.get("fill", "").startswith("url(")
    ]
    labels = [text for text in marks(figure, "text") if (text.text or "").startswith("half above")]

    assert 2 == len(labels)
    assert len(bars) > 2
    for label in labels:
        left, foot = float(label.attrib["x"]), float(label.attrib["y"])
        right, head = left + 6.5 * len(label.text or ""), foot - 11
        assert not [
            x for x, y, wide, high in bars if left < x + wide and x < right and head < y + high and y < foot
        ]
