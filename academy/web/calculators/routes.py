"""The calculators: every computation the platform teaches, shows or decides by."""

from __future__ import annotations

from flask import Blueprint
from flask.typing import ResponseReturnValue

from academy.calculations.catalogue import CATALOGUE
from academy.domain.people import Permission
from academy.web.calculators.pages import CalculatorsPage
from academy.web.identity import requires
from academy.web.pages import render

bp = Blueprint("calculators", __name__, url_prefix="/calculators")


@bp.get("/")
@requires(Permission.USE_CALCULATORS)
def overview() -> ResponseReturnValue:
    """List the calculations."""
    return render(
        CalculatorsPage(tuple((name, entry.says) for name, entry in sorted(CATALOGUE.items())))
    )
