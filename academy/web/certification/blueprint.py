"""The blueprint of the board, certificates and what is decided about them."""

from __future__ import annotations

from flask import Blueprint

bp = Blueprint("certification", __name__, url_prefix="/board")
