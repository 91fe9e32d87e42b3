"""The site in a process of its own, which a test may kill, with sittings of any question."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from random import Random
from uuid import UUID, uuid4

from academy.content.library import CourseLibrary
from academy.domain.assessment.forms import Form, laid_out
from academy.domain.assessment.frozen import DrawnForm
from academy.domain.assessment.key import right_response
from academy.domain.assessment.progress import Purpose
from academy.domain.curriculum.course import Course
from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.questions import Question
from academy.services.sitting_rows import NewSitting, write_sitting
from academy.settings import PROJECT, read_settings
from academy.store.database import Database, open_database
from academy.store.queries.study import responses
from academy.store.schema import upgrade
from tests.support.cast import Cast, settle
from tests.support.killable_server import KillableServer, free_port


@dataclass(kw_only=True)
class Server(KillableServer):
    """The whole program, killable, with its database, course and people at hand."""

    database: Database
    course: Course
    cast: Cast

    def sitting_of(self, questions: list[Question]) -> UUID:
        """Write a quiz sitting of these questions for the trainee."""
        made, chance, trainee = uuid4(), Random(5), self.cast.shop.trainee
        form = DrawnForm(Form(tuple(laid_out(q, chance) for q in questions)), (), 5)
        new = NewSitting(
            made, trainee.shop_id, trainee.person_id, Purpose.QUIZ, self.course.modules[0].id
        )
        with self.database.writing() as session:
            write_sitting(session, new, form, datetime.now(UTC))
        return made

    def kept(self, sitting_id: UUID) -> dict[str, dict[str, object]]:
        """Return the answers the database holds."""
        with self.database.reading() as session:
            return responses(session, self.cast.shop.shop_id, sitting_id)


@contextmanager
def served_apart(instance: Path) -> Iterator[Server]:
    """Serve an empty shop with its people from a process of its own."""
    database = open_database(read_settings({"ACADEMY_INSTANCE": str(instance)}).database_url)
    upgrade(database)
    with database.writing() as session:
        cast = settle(session)
    port = free_port()
    started = Server(
        port=port,
        module=("academy", "serve", "--empty", "--port", str(port)),
        environment={
            "ACADEMY_INSTANCE": str(instance),
            "ACADEMY_BASE_URL": f"http://127.0.0.1:{port}",
        },
        database=database,
        course=CourseLibrary(PROJECT / "content").course,
        cast=cast,
    )
    started.start()
    yield started
    started.kill()
    database.close()


def one_of(course: Course, kind: Interaction) -> Question:
    """Return the first question of a kind."""
    return next(q for m in course.modules for q in m.questions if q.interaction is kind)


def as_saved(question: Question) -> dict[str, object]:
    """Return the right response as the page sends it."""
    right = dict(right_response(question))
    if question.interaction is Interaction.NUMERIC_ENTRY:
        return {"value": _Number(right["value"])}
    return {"chosen": _Several(right["chosen"])} if "chosen" in right else right


class _Number(str):
    """A number with a decimal comma or point."""

    def __eq__(self, other: object) -> bool:
        return str(self) == str(other).replace(",", ".")

    __hash__ = str.__hash__


class _Several(list):  # type: ignore[type-arg]
    """Chosen numbers in whatever order the page sends them."""

    def __eq__(self, other: object) -> bool:
        return isinstance(other, list) and sorted(self) == sorted(other)

    __hash__ = None
