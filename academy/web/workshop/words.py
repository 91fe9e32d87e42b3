"""The workshop's closed vocabularies in the reader's language."""

from __future__ import annotations

from academy.domain.curriculum.kinds import Substrate
from academy.domain.metrology.budget import History
from academy.domain.metrology.methods import GaugeMethod
from academy.domain.metrology.verification import Combine
from academy.domain.workshop.machines import Machine, VibrationSource
from academy.domain.workshop.panels import ClearCoat, Curvature
from academy.web.language import gettext as _
from academy.web.language import territories
from academy.web.parts import Choosable

# groups of countries, parts of one and test codes that stand among the territories
NO_COUNTRY = frozenset({"EU", "EZ", "UN", "QO", "XA", "XB", "ZZ"})


def substrates() -> tuple[Choosable, ...]:
    """Return what a panel can be made of."""
    return (
        Choosable(Substrate.STEEL, _("steel")),
        Choosable(Substrate.ALUMINIUM, _("aluminium")),
        Choosable(Substrate.PLASTIC, _("plastic"), _("no gauge here reads paint on plastic")),
    )


def curvatures() -> tuple[Choosable, ...]:
    """Return the shapes of a panel."""
    return (
        Choosable(Curvature.FLAT, _("flat")),
        Choosable(Curvature.GENTLE, _("gently curved")),
        Choosable(Curvature.TIGHT, _("tightly curved")),
    )


def clear_coats() -> tuple[Choosable, ...]:
    """Return how a clear coat can answer to a pad."""
    return (
        Choosable(ClearCoat.UNKNOWN, _("not known"), _("make a test spot first")),
        Choosable(ClearCoat.HARD, _("hard")),
        Choosable(ClearCoat.SOFT, _("soft")),
    )


def histories() -> tuple[Choosable, ...]:
    """Return what can be known of a panel's past."""
    return (
        Choosable(History.KNOWN, _("known: never polished or repainted")),
        Choosable(History.UNKNOWN, _("unknown")),
        Choosable(History.REPAINT, _("repainted")),
    )


def methods() -> tuple[Choosable, ...]:
    """Return the methods a gauge can have."""
    return (
        Choosable(GaugeMethod.MAGNETIC, _("magnetic"), _("reads paint on steel")),
        Choosable(GaugeMethod.EDDY_CURRENT, _("eddy current"), _("reads paint on aluminium")),
    )


def combinations() -> tuple[Choosable, ...]:
    """Return how two tolerances can add."""
    return (
        Choosable(
            Combine.ROOT_SUM_SQUARE,
            _("root-sum-square"),
            _("the square root of the sum of their squares; the stricter one"),
        ),
        Choosable(Combine.SUM, _("sum"), _("one added to the other; looser")),
    )


def countries() -> tuple[Choosable, ...]:
    """Return the countries by their name in the reader's language."""
    known = ((code, name) for code, name in territories().items() if _is_country(code))
    return tuple(Choosable(code, name) for code, name in sorted(known, key=lambda c: c[1]))


def _is_country(code: str) -> bool:
    """Return whether a code is two letters of ISO 3166-1 and not a code for what is none."""
    return len(code) == 2 and code.isalpha() and code not in NO_COUNTRY


def machine_kinds() -> tuple[Choosable, ...]:
    """Return the kinds of machine."""
    return (
        Choosable(Machine.ROTARY, _("rotary")),
        Choosable(Machine.FREE_SPINNING, _("free-spinning dual action")),
        Choosable(Machine.FORCED, _("forced-rotation dual action")),
    )


def vibration_sources() -> tuple[Choosable, ...]:
    """Return where a vibration value can come from."""
    return (
        Choosable(VibrationSource.UNKNOWN, _("not known")),
        Choosable(VibrationSource.DECLARED, _("declared by the maker")),
        Choosable(VibrationSource.MEASURED, _("measured at this work")),
    )


def word_of(options: tuple[Choosable, ...], value: str) -> str:
    """Return the label of one value."""
    return next(option.label for option in options if option.value == value)
