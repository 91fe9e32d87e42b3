"""Every figure by name, and drawing one from what an author wrote."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from pydantic import ValidationError

from academy.figures import (
    defects_under_light,
    dew_point_chart,
    exposure_bar,
    orbit_trace,
    pad_section,
    paint_layers,
    panel_heat,
    pressure_crown,
    pressure_overhang,
    pressure_tilted,
    removal_budget_bar,
    section_overlap,
    spin_trace,
    spot_grid,
)
from academy.figures.figure import (
    Figure,
    FigureError,
    FigureKind,
    UnknownFigure,
    UnknownParameter,
)
from academy.figures.parameters import Fault, Parameters, faults

KINDS = (
    paint_layers.KIND,
    orbit_trace.KIND,
    spot_grid.KIND,
    pad_section.KIND,
    section_overlap.KIND,
    removal_budget_bar.KIND,
    spin_trace.KIND,
    pressure_tilted.KIND,
    pressure_overhang.KIND,
    pressure_crown.KIND,
    defects_under_light.KIND,
    panel_heat.KIND,
    dew_point_chart.KIND,
    exposure_bar.KIND,
)
NAMES: Mapping[str, FigureKind] = MappingProxyType({kind.name: kind for kind in KINDS})


def draw(name: str, parameters: Mapping[str, object]) -> Figure:
    """Return the figure called ``name``; what is left out takes its default.

    Raises
    ------
    UnknownFigure
        No figure has that name.
    UnknownParameter, FigureError
        The first parameter that is not known or does not fit.
    """
    kind = _kind(name)
    return kind.draw(_parameters(kind, parameters))


def check(name: str, parameters: Mapping[str, object]) -> tuple[FigureError, ...]:
    """Return every reason why the figure cannot be drawn; none when it can."""
    try:
        kind = _kind(name)
        kind.model.model_validate(_named(parameters))
    except ValidationError as error:
        return _errors(name, faults(kind.model, error))
    except FigureError as error:
        return (error,)
    return ()


def _kind(name: str) -> FigureKind:
    if name not in NAMES:
        raise UnknownFigure(name, "", "", ", ".join(NAMES))
    return NAMES[name]


def _parameters(kind: FigureKind, parameters: Mapping[str, object]) -> Parameters:
    try:
        return kind.model.model_validate(_named(parameters))
    except ValidationError as error:
        raise _errors(kind.name, faults(kind.model, error))[0] from error


def _named(parameters: Mapping[str, object]) -> dict[str, object]:
    # YAML reads a bare 1 or yes as a number or a truth value, even as a name.
    return {str(name): value for name, value in parameters.items()}


def _errors(name: str, found: tuple[Fault, ...]) -> tuple[FigureError, ...]:
    return tuple(
        (UnknownParameter if fault.unknown else FigureError)(
            name, fault.parameter, fault.given, fault.allowed
        )
        for fault in found
    )
