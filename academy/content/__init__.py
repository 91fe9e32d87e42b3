"""The curriculum compiler: Markdown in ``content/`` to typed curriculum objects."""

from __future__ import annotations

from academy.content.compiler import Compiled, compile_course
from academy.content.counts import Counts
from academy.content.problems import Place, Problem
from academy.content.references import Addresses

__all__ = ["Addresses", "Compiled", "Counts", "Place", "Problem", "compile_course"]
