"""The blueprint that every address of the logbook belongs to."""

from __future__ import annotations

from flask import Blueprint

bp = Blueprint("logbook", __name__)
