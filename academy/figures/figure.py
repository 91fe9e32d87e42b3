"""What a drawn figure is, and what is said when one cannot be drawn."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from html import escape

from academy.domain.sentences import TradeError
from academy.figures.parameters import Parameters, Taken


@dataclass(frozen=True, slots=True)
class FigureTable:
    """The numbers of a figure once more, as a table of text cells."""

    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Figure:
    """One drawn figure.

    ``svg`` holds neither ids nor style, so that any number of figures can stand
    on a page; ``labelled_svg`` is the same drawing with ``alternative_text`` as its label.
    """

    svg: str
    alternative_text: str
    table: FigureTable
    caption: str = ""

    @property
    def labelled_svg(self) -> str:
        """Return the drawing, saying what it shows to who cannot see it."""
        label = f'<svg aria-label="{escape(self.alternative_text)}"'
        return self.svg.replace("<svg", label, 1)


@dataclass(frozen=True, slots=True)
class FigureKind:
    """A figure that can be asked for by name."""

    name: str
    says: str
    model: type[Parameters]
    draw: Callable[..., Figure]

    @property
    def parameters(self) -> tuple[Taken, ...]:
        """Return what the figure takes: name, default, unit, range, description."""
        return self.model.taken()


@dataclass(eq=False)
class FigureError(TradeError):
    """A parameter that does not fit its figure."""

    template = "%(figure)s: %(parameter)s: %(given)s is not allowed; allowed: %(allowed)s"
    figure: str
    parameter: str
    given: str
    allowed: str


@dataclass(eq=False)
class UnknownParameter(FigureError):
    """A parameter that the figure does not take."""

    template = (
        "%(figure)s: no parameter is called %(parameter)s (given: %(given)s); "
        "the parameters are %(allowed)s"
    )


@dataclass(eq=False)
class UnknownFigure(FigureError):
    """A name that no figure has."""

    template = "no figure is called %(figure)s; the figures are %(allowed)s"
