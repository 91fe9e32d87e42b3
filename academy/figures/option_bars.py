"""Who takes which option: how many, and how much else these people know."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from academy.figures.figure import Figure, FigureTable
from academy.figures.geometry import Scale, steps
from academy.figures.numerals import written
from academy.figures.svg import Canvas, Point

WIDTH = 320.0
BARS = (8.0, 148.0)
MEANS = (178.0, 306.0)
TOP, ROW = 46.0, 44.0


@dataclass(frozen=True, slots=True)
class OptionBar:
    """One option: its label, how many of ``asked`` took it, and their rest share with its interval.

    Shares are in percent; ``mean`` is None where nobody took it.
    """

    label: str
    taken: int
    asked: int
    key: bool
    mean: float | None
    lower: float
    upper: float

    @property
    def percent(self) -> float:
        """Return the share of those asked who took the option."""
        return 100 * self.taken / self.asked if self.asked else 0.0


@dataclass(frozen=True, slots=True)
class OptionBarWords:
    """The words of the figure in the reader's language."""

    caption: str
    alternative: str
    taken: str
    means: str
    columns: tuple[str, str, str, str]


def draw_option_bars(options: Sequence[OptionBar], words: OptionBarWords) -> Figure:
    """Draw a bar for how many took each option, and beside it what else they had right."""
    foot = TOP + ROW * len(options) - 16
    canvas = Canvas(WIDTH, foot + 26)
    canvas.text(Point(BARS[0], 14), words.taken)
    canvas.text(Point(MEANS[0] - 8, 14), words.means)
    share, mean = Scale(0, 100, *BARS), Scale(0, 100, *MEANS)
    for scale in (share, mean):
        _axis(canvas, scale, foot)
    for number, option in enumerate(options):
        _row(canvas, option, TOP + ROW * number, share, mean)
    return Figure(canvas.finished(), words.alternative, _table(options, words), words.caption)


def _axis(canvas: Canvas, scale: Scale, foot: float) -> None:
    for tick in steps(0, 100, 3):
        canvas.text(Point(scale(tick), foot + 16), written(tick, 0), "middle")


def _rules(canvas: Canvas, scale: Scale, y: float) -> None:
    for tick in steps(0, 100, 3):
        x = scale(tick)
        canvas.line(Point(x, y - 1), Point(x, y + 18), "figure-rule", stroke_width=0.6)


def _row(canvas: Canvas, option: OptionBar, y: float, share: Scale, mean: Scale) -> None:
    canvas.text(Point(BARS[0], y - 5), option.label)
    _rules(canvas, share, y)
    _rules(canvas, mean, y)
    bar = max(share(option.percent) - BARS[0], 0.6)
    corner = Point(BARS[0], y)
    canvas.rectangle(corner, bar, 16, "figure-fill-6" if option.key else "figure-fill-2")
    canvas.rectangle(corner, bar, 16)
    if option.mean is None:
        return
    middle = y + 8
    ends = (Point(mean(option.lower), middle), Point(mean(option.upper), middle))
    canvas.line(*ends, "figure-ink", stroke_width=1.5)
    for end in ends:
        canvas.line(Point(end.x, middle - 4), Point(end.x, middle + 4))
    kind = "figure-fill-6" if option.key else "figure-fill-2"
    canvas.circle(Point(mean(option.mean), middle), 5, kind)
    canvas.circle(Point(mean(option.mean), middle), 5)


def _table(options: Sequence[OptionBar], words: OptionBarWords) -> FigureTable:
    rows = tuple(
        (
            option.label,
            f"{option.taken}/{option.asked}",
            "–" if option.mean is None else written(option.mean, 0),
            "–"
            if option.mean is None
            else f"{written(option.lower, 0)}–{written(option.upper, 0)}",
        )
        for option in options
    )
    return FigureTable(words.columns, rows)
