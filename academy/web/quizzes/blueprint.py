"""The blueprint that every address of a sitting, an examination and a dispute belongs to."""

from __future__ import annotations

from flask import Blueprint

bp = Blueprint("quizzes", __name__)
