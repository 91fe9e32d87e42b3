"""Calculations about the air over a panel and what is in the bottle."""

from __future__ import annotations

from typing import Self

from pydantic import model_validator

from academy.calculations.inputs import Inputs, fault, quantity
from academy.calculations.registry import Calculation
from academy.domain.conditions import dew_point, dilution


class DewPointInputs(Inputs):
    """The air, and the panel where one is to be coated."""

    air_c: float = quantity("temperature of the air", "°C", ge=-40.0, le=60.0)
    rh_percent: float = quantity("relative humidity of the air", "%", ge=0.1, le=100.0)
    panel_c: float | None = quantity(
        "temperature of the panel", "°C", default=None, ge=-40.0, le=120.0
    )


def _dew_point(inputs: DewPointInputs) -> dict[str, object]:
    dew_c = dew_point.dew_point_c(inputs.air_c, inputs.rh_percent)
    margin = None if inputs.panel_c is None else dew_point.panel_margin(inputs.panel_c, dew_c)
    return {
        "dew_point_c": dew_c,
        "margin_k": margin and margin.margin_k,
        "panel_ok": margin and margin.enough,
    }


class DilutionInputs(Inputs):
    """Either the r of a 1:r mixture, or a stock, a target and a volume."""

    ratio: float | None = quantity(
        "parts of water to one part of concentrate, the r of 1:r", default=None, ge=0.0, le=100000.0
    )
    stock_percent: float | None = quantity(
        "strength of the stock", "%", default=None, gt=0.0, le=100.0
    )
    target_percent: float | None = quantity(
        "strength wanted, at most the stock's", "%", default=None, gt=0.0, le=100.0
    )
    volume_ml: float | None = quantity("volume wanted", "ml", default=None, gt=0.0, le=1000000.0)

    @model_validator(mode="after")
    def _one_question(self) -> Self:
        wanted = {
            "stock_percent": self.stock_percent,
            "target_percent": self.target_percent,
            "volume_ml": self.volume_ml,
        }
        given = [name for name, value in wanted.items() if value is not None]
        if self.ratio is not None and given:
            raise fault(
                given[0],
                "give ratio alone, or stock_percent, target_percent and volume_ml without it",
            )
        if self.ratio is None and not given:
            raise fault(
                "ratio",
                "missing; give ratio (0 or more), or stock_percent, target_percent and volume_ml",
            )
        if self.ratio is None and len(given) < len(wanted):
            missing = next(name for name in wanted if name not in given)
            raise fault(missing, "missing; stock_percent, target_percent and volume_ml go together")
        if self.target_percent is not None and self.stock_percent is not None:
            _not_stronger(self.target_percent, self.stock_percent)
        return self


def _not_stronger(target_percent: float, stock_percent: float) -> None:
    if target_percent > stock_percent:
        raise fault(
            "target_percent",
            f"{target_percent:g} is not at most {stock_percent:g}, the stock's strength",
        )


def _dilution(inputs: DilutionInputs) -> dict[str, object]:
    if inputs.ratio is not None:
        percent = dilution.percent_of_ratio(inputs.ratio)
        return {"percent": percent, "stock_ml": None, "water_ml": None}
    # The validator has seen to it that the three stand together.
    stock, target, volume = inputs.stock_percent, inputs.target_percent, inputs.volume_ml
    assert stock is not None
    assert target is not None
    assert volume is not None
    mixed = dilution.mixture(stock, target, volume)
    return {"percent": None, "stock_ml": mixed.stock_ml, "water_ml": mixed.water_ml}


CALCULATIONS = (
    Calculation(
        name="dew-point",
        inputs=DewPointInputs,
        compute=_dew_point,
        units={"dew_point_c": "°C", "margin_k": "K"},
        formula="T_d = c γ/(b − γ), γ = ln(RH/100) + b T/(c + T), b = 17.625, c = 243.04 °C; panel at least 3 K above",
        source=(
            "Magnus formula, Alduchov & Eskridge 1996, Journal of Applied Meteorology 35, 601; the 3 K are "
            "attributed to ISO 8502-4 by trade pages and were written for painting steel"
        ),
        caution=(
            "It supports and does not replace the coating's data sheet, its safety data sheet, local rules and "
            "qualified practice. Measure the panel itself: in a cold shop it lags behind the air."
        ),
    ),
    Calculation(
        name="dilution",
        inputs=DilutionInputs,
        compute=_dilution,
        units={"percent": "%", "stock_ml": "ml", "water_ml": "ml"},
        formula="1:r is 100/(1 + r) %; stock = volume × target/stock strength, water the rest",
        source="Arithmetic of volumes; shrinking on mixing is left out",
        caution=(
            "It supports and does not replace the label, the safety data sheet, local rules and qualified "
            "practice. Some labels mean 1:10 as one part in ten: ask. Alcohol mixtures burn; label every "
            "bottle with content, strength and date."
        ),
    ),
)
