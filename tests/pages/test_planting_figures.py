"""Drawings of a planting: numbered plants from the side, and their year."""

from api.figures.planting import MOST, Standing, Year, side_figure, years_figure
from api.figures.roots import RootShape


def standing(name: str, height_m: float = 1.0, half_m: float = 0.2) -> Standing:
    return Standing(name, RootShape(name, half_m, 4 * half_m), height_m, 0.0, 0.3)


def test_the_table_says_what_the_drawing_shows() -> None:
    """One row a plant: its height, and its roots by layer, which sum to all of them (but for rounding)."""
    figure = side_figure([standing("one"), standing("two", 4.5, 0.4)])

    assert ["1 one", "2 two"] == [row[0] for row in figure.rows]
    for row in figure.rows:
        assert abs(sum(int("".join(filter(str.isdigit, cell))) for cell in row[2:]) - 100) <= 2


def test_more_plants_than_fit_are_said() -> None:
    """Seven are drawn; what is left out is told in the sentence, never silently."""
    many = [standing(f"plant {i}") for i in range(9)]

    assert MOST == len(side_figure(many).rows)
    assert "first 7 of 9" in side_figure(many).sentence
    assert "first 7 of 9" in years_figure([Year(one.name, ((10, 40),)) for one in many]).sentence
    assert "first" not in side_figure(many[:2]).sentence


def test_a_season_over_the_new_year_is_two_bars() -> None:
    """Weeks 45 to 8 are drawn at both ends of the year, and said as one span."""
    figure = years_figure([Year("winter crop", ((45, 8),), harvest=((5, 8),))])

    assert 3 == figure.svg.count("<rect") - 1 - _patterns()
    assert figure.rows[0][1].startswith("week 45")


def _patterns() -> int:
    """Rectangles that are part of the hatch patterns of every drawing."""
    return years_figure([Year("", ())]).svg.count("<rect") - 1
