"""The year bar: one row per window (leaf, growth, flower, harvest), months along the top."""

from collections.abc import Sequence
from dataclasses import dataclass

from api.figures.drawing import WIDTH, Figure, box, drawing, hatch, line, text
from api.pages.words import MONTHS, upfirst, week

LEFT = 76.0
ROW = 34.0
TOP = 26.0


@dataclass(frozen=True, slots=True)
class Window:
    """Weeks 1-53 from start to end; start later than end runs over the new year."""

    name: str
    start: float
    end: float

    @property
    def pieces(self) -> tuple[tuple[float, float], ...]:
        if self.start <= self.end:
            return ((self.start, self.end),)
        return ((self.start, 53.0), (1.0, self.end))

    @property
    def words(self) -> str:
        return f"{week(self.start)} to {week(self.end)}"


def year_figure(windows: Sequence[Window], name: str, *, key: str = "year") -> Figure:
    """The windows of one plant at the reference site of the records."""
    per_week = (WIDTH - LEFT - 4) / 52
    marks = []
    for month, word in enumerate(MONTHS):
        x = LEFT + month * 52 / 12 * per_week
        marks += [text(x + 52 / 24 * per_week, 14, word[0], anchor="middle")]
        marks += [line(x, 19, x, TOP + ROW * len(windows), width=0.4)]
    styles = ("light", "middle", "dots", "cross")
    for row, window in enumerate(windows):
        y = TOP + row * ROW
        marks.append(text(2, y + 17, window.name, bold=True))
        for start, end in window.pieces:
            width = max(per_week, (end - start) * per_week)
            fill = hatch(key, styles[row % len(styles)])
            marks.append(box(LEFT + (start - 1) * per_week, y + 3, width, ROW - 12, fill=fill, edge=1.4))
    marks.append(line(WIDTH - 4, 19, WIDTH - 4, TOP + ROW * len(windows), width=0.4))
    title = f"The year of {name}"
    sentence = " ".join(f"{upfirst(window.name)}: {window.words}." for window in windows)
    return Figure(
        drawing(key, title, sentence, TOP + ROW * len(windows) + 6, marks),
        title,
        sentence,
        ("Window", "From", "To"),
        tuple((window.name, week(window.start), week(window.end)) for window in windows),
    )
