"""How warm a steel and a plastic panel get under a pad that rests in one place."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Self

from pydantic import model_validator

from academy.domain.polishing.heat import friction_heat, panel_rise
from academy.domain.polishing.materials import PanelMaterial
from academy.figures.axes import horizontal_axis, vertical_axis
from academy.figures.figure import Figure, FigureKind, FigureTable
from academy.figures.geometry import Scale
from academy.figures.numerals import TIED, measured, significant, written
from academy.figures.parameters import Parameters, clash, number
from academy.figures.svg import Canvas, Point
from academy.figures.wording import Label, labels_beside, notes, notes_height

WIDTH = 320.0
LEFT, RIGHT, TOP, BOTTOM = 34.0, 214.0, 26.0, 216.0
SAMPLES = 80


class PanelHeat(Parameters):
    """A dual-action machine held still, and the two panels."""

    force_n: float = number(40, 1, 150, "N", "force on the pad, machine's weight included")
    pad_mm: float = number(150, 50, 200, "mm", "diameter of the pad")
    throw_mm: float = number(15, 1, 30, "mm", "diameter of the orbit circle")
    orbits_per_min: float = number(4800, 500, 12000, "/min", "orbits a minute")
    friction: float = number(0.4, 0.1, 0.8, "", "friction of the pad on the paint")
    steel_mm: float = number(0.7, 0.5, 2, "mm", "thickness of the steel sheet")
    plastic_mm: float = number(2.5, 1, 6, "mm", "thickness of the plastic")
    seconds: float = number(40, 2, 60, "s", "time drawn")
    start_c: float = number(20, 5, 40, "C", "temperature at the start")
    stop_metal_c: float = number(60, 40, 80, "C", "stop on metal at")
    stop_plastic_c: float = number(50, 40, 80, "C", "stop on plastic at")

    @model_validator(mode="after")
    def _not_beyond_the_model(self) -> Self:
        hottest = max(rise_k(self, panel, self.seconds) for panel in panels(self))
        if hottest > HOTTEST_RISE_K:
            shorter = f"a time in which nothing warms by more than {HOTTEST_RISE_K:g} K"
            raise clash("seconds", self.seconds, shorter)
        return self


# Far beyond any paint: a chart up there would teach nothing.
HOTTEST_RISE_K = 400.0


@dataclass(frozen=True, slots=True)
class Panel:
    """One of the two panels, and when work on it has to stop."""

    name: str
    material: PanelMaterial
    thickness_mm: float
    stop_c: float


def panels(given: PanelHeat) -> tuple[Panel, Panel]:
    """Return the steel and the plastic panel."""
    return (
        Panel("steel", PanelMaterial.STEEL, given.steel_mm, given.stop_metal_c),
        Panel("ABS plastic", PanelMaterial.ABS, given.plastic_mm, given.stop_plastic_c),
    )


def flux_w_m2(given: PanelHeat) -> float:
    """Return the heat made on each square metre under the pad, which hardly spins."""
    from academy.domain.polishing.kinematics import dual_action_speed

    speed = dual_action_speed(given.pad_mm, given.throw_mm, given.orbits_per_min).mean_m_s
    return friction_heat(given.force_n, given.pad_mm, speed, given.friction).flux_w_m2


def rise_k(given: PanelHeat, panel: Panel, seconds: float) -> float:
    """Return how much warmer the panel's surface is after ``seconds``."""
    return panel_rise(panel.material, flux_w_m2(given), panel.thickness_mm, seconds).rise_k


def stops_after_s(given: PanelHeat, panel: Panel) -> float | None:
    """Return when the panel reaches its stop; None when it does not in the time drawn."""
    wanted_k = panel.stop_c - given.start_c
    if wanted_k <= 0 or rise_k(given, panel, given.seconds) < wanted_k:
        return 0.0 if wanted_k <= 0 else None
    low, high = 0.0, given.seconds
    for _ in range(40):
        middle = (low + high) / 2
        low, high = (low, middle) if rise_k(given, panel, middle) >= wanted_k else (middle, high)
    return high


def draw_panel_heat(given: PanelHeat) -> Figure:
    """Draw both temperatures over the seconds, with their stops dashed."""
    words = _words(given)
    canvas = Canvas(WIDTH, BOTTOM + 26 + notes_height(words, WIDTH) + 6)
    both = panels(given)
    hottest = max(rise_k(given, panel, given.seconds) for panel in both) + given.start_c
    highest = max(hottest, *(panel.stop_c for panel in both)) + 4
    across = Scale(0, given.seconds, LEFT, RIGHT)
    up = Scale(given.start_c, highest, BOTTOM, TOP)
    vertical_axis(canvas, up, LEFT, "°C", across=RIGHT - LEFT)
    horizontal_axis(canvas, across, BOTTOM, "s", most=6)
    canvas.text(Point(LEFT + 6, TOP - 9), "paint surface")
    labels = [_draw_panel(canvas, given, panel, across, up) for panel in both]
    labels += [_draw_stop(canvas, panel, up) for panel in both]
    labels.sort(key=lambda label: label.y)
    labels_beside(canvas, labels, RIGHT, RIGHT + 18, (0, BOTTOM + 26))
    notes(canvas, Point(2, BOTTOM + 26), words, WIDTH)
    return Figure(canvas.finished(), _alternative(given), _table(given), given.caption)


def _draw_panel(canvas: Canvas, given: PanelHeat, panel: Panel, across: Scale, up: Scale) -> Label:
    times = [given.seconds * step / SAMPLES for step in range(SAMPLES + 1)]
    points = [Point(across(at), up(given.start_c + rise_k(given, panel, at))) for at in times]
    kind = "figure-ink" if panel.material.is_metal else "figure-accent"
    canvas.polyline(points, kind, stroke_width=2)
    end_c = given.start_c + rise_k(given, panel, given.seconds)
    return Label(points[-1].y, (panel.name, measured(end_c, "°C", 0)))


def _draw_stop(canvas: Canvas, panel: Panel, up: Scale) -> Label:
    y = up(max(panel.stop_c, up.low))
    kind = "figure-ink" if panel.material.is_metal else "figure-accent"
    canvas.polyline((Point(LEFT, y), Point(RIGHT, y)), kind, stroke_dasharray="6 4")
    short = "metal" if panel.material.is_metal else "plastic"
    return Label(y, (f"stop, {short}", measured(panel.stop_c, "°C", 0)))


def _times(given: PanelHeat) -> list[str]:
    said = []
    for panel in panels(given):
        after_s = stops_after_s(given, panel)
        stop = measured(panel.stop_c, "°C", 0)
        if after_s is None:
            said.append(f"{panel.name} stays below {stop} for {measured(given.seconds, 's')}")
        else:
            said.append(f"{panel.name} reaches {stop} after {significant(after_s, 2)}{TIED}s")
    return said


def _words(given: PanelHeat) -> list[str]:
    steel, plastic = panels(given)
    return [
        f"{measured(given.force_n, 'N')}, {measured(given.pad_mm, 'mm')} pad, throw "
        f"{measured(given.throw_mm, 'mm')}, {written(given.orbits_per_min)}/min, friction "
        f"{written(given.friction, 2)}: {significant(flux_w_m2(given) / 1000)}{TIED}kW/m².",
        f"Steel {measured(steel.thickness_mm, 'mm', 2)}, plastic "
        f"{measured(plastic.thickness_mm, 'mm', 2)}, pad held still.",
        *(f"{said[0].upper()}{said[1:]}." for said in _times(given)),
        "A model on the hot side: measure the panel.",
    ]


def _alternative(given: PanelHeat) -> str:
    ends = "; ".join(
        f"{panel.name} from {measured(given.start_c, '°C', 0)} to "
        f"{measured(given.start_c + rise_k(given, panel, given.seconds), '°C', 0)}"
        for panel in panels(given)
    )
    course = "; ".join(
        f"after {at}{TIED}s steel {steel}{TIED}°C, plastic {plastic}{TIED}°C"
        for at, steel, plastic in _course(given)
    )
    return (
        f"Surface temperature under a resting pad over {measured(given.seconds, 's')}: {ends}. "
        f"{' '.join(_words(given))} {course}."
    )


def _course(given: PanelHeat) -> list[tuple[str, str, str]]:
    """Return time, steel and plastic at a few times, as they are printed."""
    steel, plastic = panels(given)
    times = [given.seconds * share for share in (0, 0.1, 0.25, 0.5, 0.75, 1)]
    return [
        (
            written(at, 2),
            written(given.start_c + rise_k(given, steel, at)),
            written(given.start_c + rise_k(given, plastic, at)),
        )
        for at in times
    ]


def _table(given: PanelHeat) -> FigureTable:
    return FigureTable(("time (s)", "steel (°C)", "ABS plastic (°C)"), tuple(_course(given)))


KIND = FigureKind(
    "panel-heat",
    "how warm steel and plastic get under a pad that rests in one place",
    PanelHeat,
    draw_panel_heat,
)
