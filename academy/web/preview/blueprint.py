"""The blueprint of the preview's own addresses; only the preview registers it."""

from __future__ import annotations

from flask import Blueprint

bp = Blueprint("preview", __name__)
