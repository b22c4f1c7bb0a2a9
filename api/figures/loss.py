"""What holds each of two plants back here, by cause, as bars."""

from collections.abc import Mapping, Sequence

from api.figures.drawing import WIDTH, Figure, box, drawing, hatch, line, text

CAUSES = (("roots", "roots"), ("light", "light"), ("enemies", "enemies"), ("all", "together"))
LEFT = 74.0
BAR = 20.0


BESIDE = "roots, light and shared enemies together"
AFTER = "a season cut short and enemies left in the ground"
"""What holds a plant back where two stand together, and where one follows the other."""


def loss_figure(
    losses: Sequence[tuple[str, Mapping[str, float]]], *, causes: str = BESIDE, key: str = "loss"
) -> Figure:
    """Bars of 0-100 % per plant and cause; ``losses`` are (name, {cause: share})."""
    room = WIDTH - LEFT - 46
    marks, y = [], 8.0
    for name, loss in losses:
        marks.append(text(2, y + 12, name, bold=True))
        y += 20
        for cause, word in CAUSES:
            share = min(1.0, loss.get(cause, 0.0))
            fill = hatch(key, "dense" if cause == "all" else "light")
            marks.append(text(LEFT - 6, y + 14, word, anchor="end", bold=cause == "all"))
            marks.append(box(LEFT, y + 2, max(1.0, room * share), BAR - 4, fill=fill))
            marks.append(
                text(LEFT + room * share + 6, y + 14, f"{round(100 * share)} %", bold=cause == "all")
            )
            y += BAR
        marks.append(line(LEFT, y - 4 * BAR, LEFT, y, width=1.5))
        y += 12
    title = "What holds each back here"
    sentence = " ".join(
        f"{name} is held back by {round(100 * loss.get('all', 0.0))} %: {causes}." for name, loss in losses
    )
    rows = tuple((name, *(f"{round(100 * loss.get(c, 0.0))} %" for c, _ in CAUSES)) for name, loss in losses)
    return Figure(
        drawing(key, title, sentence, y, marks),
        title,
        sentence,
        ("Plant", *(w.capitalize() for _, w in CAUSES)),
        rows,
    )


def loss_strip(
    losses: Sequence[tuple[str, Mapping[str, float]]], *, causes: str = BESIDE, key: str = "strip"
) -> Figure:
    """The small form: one bar a plant, all causes together; ``losses`` are (name, {cause: share 0-1})."""
    shares = [(name, loss.get("all", 0.0)) for name, loss in losses]
    caption = f"How far each is held back: by {causes}."
    return strip(shares, "How far each is held back here", caption, ("Plant", "Held back"), key=key)


def strip(
    shares: Sequence[tuple[str, float]],
    title: str,
    caption: str,
    heads: tuple[str, str],
    *,
    key: str = "strip",
) -> Figure:
    """One bar a row, with its number; ``shares`` are (name, share 0-1) of what a full bar is."""
    left = min(10 + max(7.4 * len(name) for name, _ in shares), 150.0)
    room = WIDTH - left - 50
    marks = []
    for row, (name, share) in enumerate(shares):
        y, filled = row * (BAR + 4), min(1.0, share)
        marks.append(text(2, y + 15, name, bold=True))
        marks.append(box(left, y + 4, room, BAR - 4, edge=0.4))
        marks.append(box(left, y + 4, max(1.0, room * filled), BAR - 4, fill=hatch(key, "dense")))
        marks.append(text(WIDTH - 4, y + 15, f"{round(100 * share)} %", anchor="end", bold=True))
    rows = tuple((name, f"{round(100 * share)} %") for name, share in shares)
    sentence = f"{caption} {', '.join(f'{name}: {said}' for name, said in rows)}."
    drawn = drawing(key, title, sentence, len(shares) * (BAR + 4) + 4, marks)
    return Figure(drawn, title, caption, heads, rows)
