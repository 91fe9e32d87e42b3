"""Mixing a concentrate with water.

"1:10" is read here as one part and ten parts, eleven in all.  Some labels
mean one part in ten: the label decides, so ask.  Shrinking on mixing
(alcohol and water lose some) is left out.
"""

from __future__ import annotations

from dataclasses import dataclass

from academy.domain.sentences import TradeError


@dataclass(eq=False)
class StrongerThanTheStock(TradeError):
    """Water only weakens: no mixture is stronger than what it is made from."""

    template = "%(target_percent)g %% cannot be mixed from a stock of %(stock_percent)g %%"
    target_percent: float
    stock_percent: float


@dataclass(frozen=True, slots=True)
class Mixture:
    """What to measure out."""

    stock_ml: float
    water_ml: float


def percent_of_ratio(parts_of_water: float, concentrate_percent: float = 100.0) -> float:
    """Return the strength of a 1:r mixture, ``c/(1 + r)`` percent."""
    return concentrate_percent / (1.0 + parts_of_water)


def mixture(stock_percent: float, target_percent: float, volume_ml: float) -> Mixture:
    """Return the stock and the water for a volume, ``V_s = V · target/stock``.

    Percent by volume.  Raises StrongerThanTheStock.
    """
    if target_percent > stock_percent:
        raise StrongerThanTheStock(target_percent, stock_percent)
    stock_ml = volume_ml * target_percent / stock_percent
    return Mixture(stock_ml, volume_ml - stock_ml)
