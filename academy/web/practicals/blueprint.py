"""The blueprint that every address of a practical belongs to."""

from __future__ import annotations

from flask import Blueprint

bp = Blueprint("practicals", __name__, url_prefix="/practicals")
