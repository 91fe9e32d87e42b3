"""A day's hand-arm vibration in points, against the action and the limit value."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Self

from pydantic import BeforeValidator, Field, model_validator

from academy.domain.exposure.vibration import (
    ACTION_VALUE_M_S2,
    LIMIT_VALUE_M_S2,
    POINTS_AT_ACTION_VALUE,
    DailyVibration,
    VibrationExposure,
    daily_vibration,
)
from academy.figures.axes import horizontal_axis
from academy.figures.figure import Figure, FigureKind, FigureTable
from academy.figures.geometry import Scale, hatch_rectangle
from academy.figures.numerals import TIED, measured, significant, written
from academy.figures.parameters import Parameters, clash, several, split_list
from academy.figures.svg import Canvas, Point
from academy.figures.wording import notes, notes_height

WIDTH = 320.0
LEFT, RIGHT, TOP, BAR = 8.0, 292.0, 40.0, 30.0
KEY, ROW = TOP + BAR + 50, 22.0
MOST = 5
NAME_LENGTH = 16

Magnitude = Annotated[float, Field(ge=0.1, le=30)]
Minutes = Annotated[float, Field(ge=1, le=720)]
Name = Annotated[str, Field(min_length=1, max_length=NAME_LENGTH)]


class ExposureBar(Parameters):
    """The day's machines with their magnitudes and times, in the same order."""

    machines: Annotated[tuple[Name, ...], BeforeValidator(split_list)] = several(
        ("rotary", "dual action"), MOST, f"a name of at most {NAME_LENGTH} letters", "", "machines"
    )
    magnitudes_m_s2: Annotated[tuple[Magnitude, ...], BeforeValidator(split_list)] = several(
        (4.0, 5.5), MOST, "0.1 to 30 m/s²", "m/s2", "vibration of each, with its uncertainty added"
    )
    minutes: Annotated[tuple[Minutes, ...], BeforeValidator(split_list)] = several(
        (60.0, 45.0), MOST, "1 to 720 min", "min", "time the hands are on each while it runs"
    )

    @model_validator(mode="after")
    def _belong_together(self) -> Self:
        count = len(self.machines)
        for name in ("magnitudes_m_s2", "minutes"):
            if len(getattr(self, name)) != count:
                given = ", ".join(f"{value:g}" for value in getattr(self, name))
                raise clash(name, given, f"one for each of the {count} machines")
        if sum(self.minutes) > 24 * 60:
            raise clash("minutes", f"{sum(self.minutes):g} together", "at most a day together")
        return self


@dataclass(frozen=True, slots=True)
class Share:
    """What one machine adds to the day."""

    name: str
    magnitude_m_s2: float
    minutes: float
    points: float


def shares(given: ExposureBar) -> tuple[Share, ...]:
    """Return each machine's points."""
    rows = zip(given.machines, given.magnitudes_m_s2, given.minutes, strict=True)
    return tuple(
        Share(name, magnitude, minutes, daily_vibration([_exposure(magnitude, minutes)]).points)
        for name, magnitude, minutes in rows
    )


def day(given: ExposureBar) -> DailyVibration:
    """Return the whole day's vibration."""
    rows = zip(given.magnitudes_m_s2, given.minutes, strict=True)
    return daily_vibration([_exposure(magnitude, minutes) for magnitude, minutes in rows])


def _exposure(magnitude_m_s2: float, minutes: float) -> VibrationExposure:
    return VibrationExposure(magnitude_m_s2, minutes / 60)


def points_at_limit() -> float:
    """Return the points at the limit value; points go with the square of the magnitude."""
    return POINTS_AT_ACTION_VALUE * (LIMIT_VALUE_M_S2 / ACTION_VALUE_M_S2) ** 2


def draw_exposure_bar(given: ExposureBar) -> Figure:
    """Draw each machine's points end to end, with the action and the limit value."""
    total = day(given)
    words = _words(total)
    parts = shares(given)
    foot = KEY + ROW * len(parts) + 2
    canvas = Canvas(WIDTH, foot + notes_height(words, WIDTH) + 6)
    scale = Scale(0, max(points_at_limit(), total.points) * 1.08, LEFT, RIGHT)
    _draw_parts(canvas, parts, scale)
    _draw_values(canvas, scale)
    horizontal_axis(canvas, scale, TOP + BAR + 6, "", most=6)
    notes(canvas, Point(2, foot), words, WIDTH)
    return Figure(canvas.finished(), _alternative(given), _table(given), given.caption)


def _draw_values(canvas: Canvas, scale: Scale) -> None:
    """Draw the action and the limit value, one word above the other where they are near."""
    action, limit = scale(POINTS_AT_ACTION_VALUE), scale(points_at_limit())
    higher = 15 if limit - action < 80 else 0
    rows = (
        (action, "action", POINTS_AT_ACTION_VALUE, 0),
        (limit, "limit", points_at_limit(), higher),
    )
    for x, name, points, rise in rows:
        top = TOP - 8 - rise
        canvas.line(Point(x, top), Point(x, TOP + BAR + 6), "figure-accent", stroke_width=3)
        near = x < 40
        place = Point(x + 5 if near or rise else x, top - 3)
        canvas.text(place, f"{name} {written(points)}", "start" if near or rise else "middle")


def _draw_parts(canvas: Canvas, parts: tuple[Share, ...], scale: Scale) -> None:
    """Draw the parts of the bar and, below, what each filling stands for."""
    canvas.text(Point(WIDTH - 2, KEY - 6), "points", "end")
    before = 0.0
    for count, part in enumerate(parts):
        start, end = scale(before), scale(before + part.points)
        _fill(canvas, count, Point(start, TOP), end - start, BAR)
        y = KEY + count * ROW
        _fill(canvas, count, Point(LEFT, y), 18, 12)
        canvas.text(Point(LEFT + 26, y + 11), _worked(part))
        canvas.text(Point(WIDTH - 2, y + 11), significant(part.points), "end")
        before += part.points


def _fill(canvas: Canvas, count: int, corner: Point, width: float, height: float) -> None:
    """Fill a part so that it differs from its neighbours by more than its strength."""
    canvas.rectangle(corner, width, height, f"figure-fill-{(3, 1, 4, 2, 1)[count]}")
    if count % 2:
        hatch_rectangle(
            canvas, corner, width, height, gap=(5, 5, 5, 9, 9)[count], falling=count > 2
        )
    canvas.rectangle(corner, width, height)


def _worked(part: Share) -> str:
    magnitude = measured(part.magnitude_m_s2, "m/s²")
    return f"{part.name}: {magnitude}, {measured(part.minutes, 'min', 0)}"


def _said(part: Share) -> str:
    return f"{_worked(part)}: {_points(part.points)}"


def _points(points: float) -> str:
    return f"{significant(points)}{TIED}points"


def _words(total: DailyVibration) -> list[str]:
    return [
        f"Together {_points(total.points)}: A(8) {significant(total.a8_m_s2)}{TIED}m/s².",
        _verdict(total),
        f"Action value {written(ACTION_VALUE_M_S2)}{TIED}m/s² is "
        f"{written(POINTS_AT_ACTION_VALUE)} points; limit value "
        f"{written(LIMIT_VALUE_M_S2)}{TIED}m/s² is {written(points_at_limit())}.",
    ]


def _verdict(total: DailyVibration) -> str:
    if total.limit_value_reached:
        return "The limit value is reached: such a day must not be worked."
    if total.action_value_reached:
        return "The action value is reached: the exposure has to be brought down."
    return "Below the action value; less is better still."


def _alternative(given: ExposureBar) -> str:
    listed = "; ".join(_said(part) for part in shares(given))
    minutes = measured(sum(given.minutes), "min", 0)
    words = " ".join(_words(day(given)))
    return f"A day's hand-arm vibration, {minutes} in all. {listed}. {words}"


def _table(given: ExposureBar) -> FigureTable:
    rows = [
        (
            part.name,
            written(part.magnitude_m_s2),
            written(part.minutes, 0),
            significant(part.points),
        )
        for part in shares(given)
    ]
    total = day(given)
    a8 = f"{significant(total.a8_m_s2)} (A(8))"
    rows.append(("together", a8, written(sum(given.minutes), 0), significant(total.points)))
    return FigureTable(("machine", "vibration (m/s²)", "time (min)", "points"), tuple(rows))


KIND = FigureKind(
    "exposure-bar",
    "a day's hand-arm vibration against its action and limit value",
    ExposureBar,
    draw_exposure_bar,
)
