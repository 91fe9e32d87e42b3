"""The blueprint that every address of the workshop belongs to."""

from __future__ import annotations

from flask import Blueprint

bp = Blueprint("workshop", __name__)
