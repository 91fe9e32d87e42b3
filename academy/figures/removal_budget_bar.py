"""What has been taken off, what is planned and what the budget leaves."""

from __future__ import annotations

from dataclasses import dataclass

from academy.domain.metrology.budget import Budget, CutDecision, PlannedStep, may_cut_again
from academy.figures.axes import horizontal_axis
from academy.figures.figure import Figure, FigureKind, FigureTable
from academy.figures.geometry import Scale, dimension, hatch_rectangle
from academy.figures.numerals import TIED, measured, written
from academy.figures.parameters import Parameters, number
from academy.figures.svg import Canvas, Point
from academy.figures.wording import LINE, notes, notes_height

WIDTH = 320.0
LEFT, RIGHT = 10.0, 286.0
BAR = 26.0


class RemovalBudgetBar(Parameters):
    """Readings of the whole paint at one place, and the step that is planned there."""

    baseline_um: float = number(112, 20, 1000, "um", "reading before anybody polished")
    now_um: float = number(107, 20, 1000, "um", "reading now")
    planned_um: float = number(2, 0, 30, "um", "what the next step is expected to take off")
    uncertainty_um: float = number(1, 0, 20, "um", "how far that may be wrong")
    cap_um: float = number(8, 0.5, 50, "um", "most that may come off in all")
    floor_um: float = number(80, 0, 500, "um", "least that must stay at the thinnest spot")
    clear_um: float | None = number(
        None, 5, 300, "um", "clear coat, where known: a quarter of it may be the lower cap"
    )
    thinnest_um: float | None = number(
        None, 20, 1000, "um", "reading at the thinnest spot; left out: the reading now"
    )


@dataclass(frozen=True, slots=True)
class Counted:
    """The budget as counted by the trade's rule, with what the drawing needs."""

    decision: CutDecision
    cap_um: float
    planned_um: float
    uncertainty_um: float
    thinnest_um: float

    @property
    def used_um(self) -> float:
        """What has come off so far."""
        return self.decision.used_um

    @property
    def in_all_um(self) -> float:
        """Used, planned and uncertainty together."""
        return self.used_um + self.planned_um + self.uncertainty_um

    @property
    def left_um(self) -> float:
        """What the thinnest spot keeps at the worst."""
        return self.thinnest_um - self.planned_um - self.uncertainty_um

    @property
    def verdict(self) -> str:
        """The answer in words."""
        return "The step fits." if self.decision.allowed else "The step does not fit: do not cut."


def counted(given: RemovalBudgetBar) -> Counted:
    """Count the budget by the rule that the shop works by."""
    budget = Budget(given.cap_um, given.floor_um, given.clear_um)
    thinnest_um = given.now_um if given.thinnest_um is None else given.thinnest_um
    decision = may_cut_again(
        given.baseline_um,
        given.now_um,
        PlannedStep(given.planned_um, given.uncertainty_um),
        budget=budget,
        minimum_now_um=thinnest_um,
    )
    cap_um = float(budget.cap())
    return Counted(decision, cap_um, given.planned_um, given.uncertainty_um, thinnest_um)


def draw_removal_budget_bar(given: RemovalBudgetBar) -> Figure:
    """Draw the budget as a bar against the cap, and what is left against the floor."""
    count = counted(given)
    words = _words(given, count)
    canvas = Canvas(WIDTH, 272 + notes_height(words, WIDTH) + 6)
    _draw_taken_off(canvas, count)
    _draw_left(canvas, given, count)
    notes(canvas, Point(2, 272), words, WIDTH)
    return Figure(
        canvas.finished(), _alternative(given, count), _table(given, count), given.caption
    )


def _draw_taken_off(canvas: Canvas, count: Counted) -> None:
    longest = max(count.cap_um, count.in_all_um)
    scale = Scale(0, longest * 1.06, LEFT, RIGHT)
    top = 40.0
    canvas.text(Point(2, 13), "Taken off at this place")
    used, planned = scale(count.used_um), scale(count.used_um + count.planned_um)
    canvas.rectangle(Point(LEFT, top), used - LEFT, BAR, "figure-fill-4")
    canvas.rectangle(Point(LEFT, top), used - LEFT, BAR)
    hatch_rectangle(canvas, Point(used, top), planned - used, BAR, gap=5)
    canvas.rectangle(Point(used, top), planned - used, BAR)
    reach = count.uncertainty_um
    middle = count.used_um + count.planned_um
    _draw_doubt(canvas, (scale(max(middle - reach, 0)), scale(middle + reach)), top + BAR / 2)
    _draw_limit(canvas, scale(count.cap_um), top, "cap")
    horizontal_axis(canvas, scale, top + BAR + 6, "µm")
    _draw_key(canvas, top + BAR + 34, count)


def _draw_doubt(canvas: Canvas, ends: tuple[float, float], y: float) -> None:
    if ends[1] - ends[0] > 0.5:
        dimension(canvas, Point(ends[0], y), Point(ends[1], y))


def _draw_limit(canvas: Canvas, x: float, top: float, words: str) -> None:
    canvas.line(Point(x, top - 8), Point(x, top + BAR + 6), "figure-accent", stroke_width=3)
    canvas.text(Point(x, top - 12), words, "middle")


def _draw_key(canvas: Canvas, top: float, count: Counted) -> None:
    """Say beside a patch of each filling what it stands for."""
    canvas.rectangle(Point(LEFT, top), 18, 11, "figure-fill-4")
    canvas.rectangle(Point(LEFT, top), 18, 11)
    canvas.text(Point(LEFT + 26, top + 10), f"used {measured(count.used_um, 'µm', 2)}")
    hatch_rectangle(canvas, Point(150, top), 18, 11, gap=5)
    canvas.rectangle(Point(150, top), 18, 11)
    canvas.text(Point(176, top + 10), f"planned {_step(count)}")


def _step(count: Counted) -> str:
    planned, doubt = written(count.planned_um, 2), measured(count.uncertainty_um, "µm", 2)
    return f"{planned}{TIED}±{TIED}{doubt}"


def _draw_left(canvas: Canvas, given: RemovalBudgetBar, count: Counted) -> None:
    shown = (given.floor_um, given.baseline_um, count.left_um, count.thinnest_um)
    lowest, highest = min(shown), max(shown)
    room = max((highest - lowest) * 0.08, 1)
    scale = Scale(lowest - room, highest + room, LEFT, RIGHT)
    top = 172.0
    canvas.text(Point(2, top - 27), "Left on the panel, thinnest spot")
    now, after = scale(count.thinnest_um), scale(count.thinnest_um - count.planned_um)
    canvas.rectangle(Point(LEFT, top), after - LEFT, BAR, "figure-fill-2")
    hatch_rectangle(canvas, Point(after, top), now - after, BAR, gap=5)
    canvas.rectangle(Point(LEFT, top), now - LEFT, BAR)
    reach = count.uncertainty_um
    ends = (
        count.thinnest_um - count.planned_um - reach,
        count.thinnest_um - count.planned_um + reach,
    )
    _draw_doubt(canvas, (scale(ends[0]), scale(ends[1])), top + BAR / 2)
    floor, baseline = scale(given.floor_um), scale(given.baseline_um)
    _draw_limit(canvas, floor, top, "floor")
    horizontal_axis(canvas, scale, top + BAR + 6, "µm")
    _draw_baseline(canvas, baseline, top, lower=abs(floor - baseline) < 60)
    now_words = f"now {measured(count.thinnest_um, 'µm', 2)}"
    left_words = f"at worst {measured(count.left_um, 'µm', 2)} after the step"
    canvas.text(Point(LEFT, top + BAR + 44 + LINE / 2), f"{now_words}, {left_words}")


def _draw_baseline(canvas: Canvas, x: float, top: float, lower: bool) -> None:
    """Mark the baseline; its word goes to the row of the step's words where the floor is near."""
    foot = top + BAR + (28 if lower else 6)
    canvas.line(Point(x, top - 8), Point(x, foot), stroke_dasharray="4 3")
    y = foot + 10 if lower else top - 12
    canvas.text(Point(min(max(x, 28), 290), y), "baseline", "middle")


def _words(given: RemovalBudgetBar, count: Counted) -> list[str]:
    used, planned, doubt = (
        written(value, 2) for value in (count.used_um, count.planned_um, count.uncertainty_um)
    )
    thinnest = written(count.thinnest_um, 2)
    return [
        f"Worst: {used} + {planned} + {doubt} = {measured(count.in_all_um, 'µm', 2)} off; "
        f"cap {measured(count.cap_um, 'µm', 2)}.",
        f"Worst: {thinnest} − {planned} − {doubt} = {measured(count.left_um, 'µm', 2)} left; "
        f"floor {measured(given.floor_um, 'µm', 2)}.",
        count.verdict,
    ]


def _alternative(given: RemovalBudgetBar, count: Counted) -> str:
    return (
        f"Removal budget. Baseline {measured(given.baseline_um, 'µm', 2)}, "
        f"now {measured(given.now_um, 'µm', 2)}: {measured(count.used_um, 'µm', 2)} used. "
        f"Planned {_step(count)}. {' '.join(_words(given, count))}"
    )


def _table(given: RemovalBudgetBar, count: Counted) -> FigureTable:
    rows = (
        ("baseline", given.baseline_um),
        ("now", given.now_um),
        ("used", count.used_um),
        ("planned", count.planned_um),
        ("uncertainty", count.uncertainty_um),
        ("in all, at worst", count.in_all_um),
        ("cap", count.cap_um),
        ("thinnest spot now", count.thinnest_um),
        ("thinnest spot after the step, at worst", count.left_um),
        ("floor", given.floor_um),
    )
    cells = tuple((name, written(value, 2)) for name, value in rows)
    return FigureTable(("quantity", "µm"), cells)


KIND = FigureKind(
    "removal-budget-bar",
    "what came off, what is planned, and what the budget leaves",
    RemovalBudgetBar,
    draw_removal_budget_bar,
)
