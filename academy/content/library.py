"""The course as the running site serves it: the last good one, kept fresh."""

from __future__ import annotations

import logging
import threading
import time
from collections.abc import Callable
from pathlib import Path
from types import MappingProxyType

from academy.content.compiler import Compiled, compile_course, course_digest
from academy.content.counts import counts_of
from academy.content.last_good import keep_course, kept_course
from academy.content.problems import Problem, Problems
from academy.content.references import Addresses
from academy.content.source import Stamp, read_source, stamps
from academy.domain.curriculum.course import Course

LOOK_EVERY_S = 1.0

NO_COURSE = Course(
    title="",
    modules=(),
    tasks=(),
    drills=(),
    schemes=(),
    cautions=(),
    glossary=(),
    digest="",
)


LOG = logging.getLogger(__name__)


class CourseLibrary:
    """Serves the last course without errors and watches its source.

    The folder is looked at once a second at most, when somebody asks: first the
    files' sizes and times, then, if one changed, their content.  While one
    thread compiles, the others go on with the course they have.  With ``kept_at``
    the last good course also outlives a restart.
    """

    def __init__(
        self,
        root: Path,
        *,
        addresses: Addresses | None = None,
        kept_at: Path | None = None,
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        self._root = root
        self._addresses = addresses
        self._kept_at = kept_at
        self._clock = clock
        self._lock = threading.Lock()
        self._looked_at: float | None = None
        self._stamps: tuple[Stamp, ...] | None = None
        self._digest = ""
        self._newest: Compiled | None = None
        self._good = NO_COURSE

    @property
    def course(self) -> Course:
        """Return the last good course; an empty one with digest '' before there is any."""
        self._look()
        return self._good

    @property
    def problems(self) -> tuple[Problem, ...]:
        """Return the problems of the newest source, also while an older course is served."""
        self._look()
        newest = self._newest
        return newest.problems if newest else ()

    @property
    def compiled(self) -> Compiled | None:
        """Return what came of the newest source."""
        self._look()
        return self._newest

    def _look(self) -> None:
        looked_at = self._looked_at
        if looked_at is not None and self._clock() - looked_at < LOOK_EVERY_S:
            return
        # Only the very first callers wait for the compiler.
        if self._lock.acquire(blocking=self._newest is None):
            try:
                self._refresh()
            finally:
                self._lock.release()

    def _refresh(self) -> None:
        now = self._clock()
        if self._looked_at is not None and now - self._looked_at < LOOK_EVERY_S:
            return
        seen = stamps(self._root)
        if self._newest is None or seen != self._stamps:
            digest = course_digest(read_source(self._root, Problems()).digest)
            if self._newest is None or digest != self._digest:
                self._compile(digest)
            self._stamps = seen
        self._looked_at = self._clock()

    def _compile(self, digest: str) -> None:
        self._digest = digest
        try:
            compiled = compile_course(self._root, addresses=self._addresses)
        except Exception:
            # A fault of ours, not of the author's: the site goes on with what it has.
            LOG.exception("the course in %s could not be compiled", self._root)
            compiled = _uncompiled()
        self._newest = compiled
        if compiled.course is not None:
            self._good = compiled.course
            if self._kept_at is not None:
                keep_course(self._root, self._kept_at)
        elif self._good is NO_COURSE and self._kept_at is not None:
            self._good = kept_course(self._kept_at, self._addresses) or NO_COURSE


def _uncompiled() -> Compiled:
    sentence = "the course could not be compiled; the program's log says more"
    problem = Problem("course.md", 1, sentence, template=sentence)
    return Compiled(None, (problem,), counts_of(NO_COURSE, 0), NO_COURSE, MappingProxyType({}))
