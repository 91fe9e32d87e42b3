"""The blueprint that every address for studying belongs to."""

from __future__ import annotations

from flask import Blueprint

bp = Blueprint("study", __name__)
