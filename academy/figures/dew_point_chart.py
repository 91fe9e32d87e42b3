"""The dew point over air temperature and humidity, and whether a panel is warm enough."""

from __future__ import annotations

from academy.domain.conditions.dew_point import MARGIN_K, PanelMargin, dew_point_c, panel_margin
from academy.figures.axes import horizontal_axis, vertical_axis
from academy.figures.figure import Figure, FigureKind, FigureTable
from academy.figures.geometry import Scale
from academy.figures.numerals import measured, written
from academy.figures.parameters import Parameters, number
from academy.figures.svg import Canvas, Point, through
from academy.figures.wording import Label, labels_beside, notes, notes_height

WIDTH = 320.0
LEFT, RIGHT, TOP, BOTTOM = 34.0, 196.0, 26.0, 226.0
HUMIDITIES = (20, 40, 60, 80, 100)
COLDEST, WARMEST = 0.0, 40.0


class DewPointChart(Parameters):
    """The air, and the panel where it has been measured."""

    air_c: float = number(20, 0, 40, "C", "air temperature")
    rh_percent: float = number(60, 10, 100, "%", "relative humidity")
    panel_c: float | None = number(None, 0, 60, "C", "panel temperature; left out: none drawn")


def needed_c(given: DewPointChart) -> float:
    """Return how warm the panel has to be."""
    return dew_point_c(given.air_c, given.rh_percent) + MARGIN_K


def margin(given: DewPointChart) -> PanelMargin | None:
    """Return the panel's margin over the dew point, where the panel was measured."""
    dew_c = dew_point_c(given.air_c, given.rh_percent)
    return None if given.panel_c is None else panel_margin(given.panel_c, dew_c)


def draw_dew_point_chart(given: DewPointChart) -> Figure:
    """Draw dew point curves for round humidities, and the place the air is at."""
    words = _words(given)
    canvas = Canvas(WIDTH, BOTTOM + 44 + notes_height(words, WIDTH) + 6)
    across = Scale(COLDEST, WARMEST, LEFT, RIGHT)
    up = _upward(given)
    vertical_axis(canvas, up, LEFT, "°C", across=RIGHT - LEFT)
    horizontal_axis(canvas, across, BOTTOM, "°C", most=5)
    canvas.text(Point(LEFT, TOP - 12), "dew point")
    canvas.text(Point((LEFT + RIGHT) / 2, BOTTOM + 33), "air temperature", "middle")
    for humidity in HUMIDITIES:
        _draw_curve(canvas, humidity, across, up)
    _draw_air(canvas, given, across, up)
    _draw_marks(canvas, given, up)
    notes(canvas, Point(2, BOTTOM + 44), words, WIDTH)
    return Figure(canvas.finished(), _alternative(given), _table(given), given.caption)


def _upward(given: DewPointChart) -> Scale:
    dew_c = dew_point_c(given.air_c, given.rh_percent)
    lowest = min(-10.0, 10 * (dew_c // 10))
    highest = max(40.0, needed_c(given) + 2, (given.panel_c or 0) + 2)
    return Scale(lowest, highest, BOTTOM, TOP)


def _draw_curve(canvas: Canvas, rh_percent: float, across: Scale, up: Scale) -> None:
    temperatures = [COLDEST + step for step in range(int(WARMEST - COLDEST) + 1)]
    places = [(air_c, dew_point_c(air_c, rh_percent)) for air_c in temperatures]
    points = [Point(across(air), up(dew)) for air, dew in places if dew >= up.low]
    canvas.polyline(points)
    canvas.text(Point(RIGHT + 4, points[-1].y + 4), f"{written(rh_percent)} %")


def _draw_air(canvas: Canvas, given: DewPointChart, across: Scale, up: Scale) -> None:
    x, y = across(given.air_c), up(dew_point_c(given.air_c, given.rh_percent))
    canvas.path(through((Point(x, BOTTOM), Point(x, y))), "figure-accent", stroke_dasharray="4 3")
    canvas.circle(Point(x, y), 5, "figure-fill-6")
    canvas.circle(Point(x, y), 5, "figure-ink", stroke_width=1.5)


def _draw_marks(canvas: Canvas, given: DewPointChart, up: Scale) -> None:
    """Draw the dew point, the least panel temperature and the panel across the chart."""
    dew_c = dew_point_c(given.air_c, given.rh_percent)
    marks = [(dew_c, "dew point", "none"), (needed_c(given), "panel from", "6 3")]
    if given.panel_c is not None:
        marks.append((given.panel_c, "panel", "2 3"))
    marks.sort(reverse=True)
    labels = []
    for value_c, name, dashes in marks:
        y = up(value_c)
        line = (Point(LEFT, y), Point(RIGHT, y))
        canvas.polyline(line, "figure-accent", stroke_width=1.6, stroke_dasharray=dashes)
        labels.append(Label(y, (name, measured(value_c, "°C"))))
    labels_beside(canvas, labels, RIGHT + 40, RIGHT + 58, (TOP - 20, BOTTOM + 30))


def _words(given: DewPointChart) -> list[str]:
    dew = measured(dew_point_c(given.air_c, given.rh_percent), "°C")
    said = [
        f"Air at {measured(given.air_c, '°C')} and {written(given.rh_percent)} % humidity: "
        f"dew point {dew}.",
        f"Coat only from {measured(needed_c(given), '°C')}: "
        f"{measured(MARGIN_K, 'K')} above the dew point.",
    ]
    found = margin(given)
    if found is not None and given.panel_c is not None:
        verdict = "warm enough" if found.enough else "too cold: do not coat"
        said.append(
            f"Panel {measured(given.panel_c, '°C')}: {measured(abs(found.margin_k), 'K')} "
            f"{'above' if found.margin_k >= 0 else 'below'} the dew point, {verdict}."
        )
    return [*said, "The coating's data sheet goes before this."]


def _alternative(given: DewPointChart) -> str:
    curves = ", ".join(f"{humidity} %" for humidity in HUMIDITIES)
    return (
        f"Dew point over air temperature from 0 to 40 °C, curves for {curves} humidity. "
        f"{' '.join(_words(given))}"
    )


def _table(given: DewPointChart) -> FigureTable:
    rows = [
        ("air", measured(given.air_c, "°C")),
        ("relative humidity", f"{written(given.rh_percent)} %"),
        ("dew point", measured(dew_point_c(given.air_c, given.rh_percent), "°C")),
        ("panel at least", measured(needed_c(given), "°C")),
    ]
    found = margin(given)
    if found is not None and given.panel_c is not None:
        rows.append(("panel", measured(given.panel_c, "°C")))
        rows.append(("panel above the dew point", measured(found.margin_k, "K")))
    return FigureTable(("quantity", "value"), tuple(rows))


KIND = FigureKind(
    "dew-point-chart",
    "the dew point of the air, and how warm a panel has to be",
    DewPointChart,
    draw_dew_point_chart,
)
