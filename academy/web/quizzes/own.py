"""One's own sitting as its pages need it: the only way from an address to a sitting."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from flask import abort, url_for

from academy.domain.assessment.examination import Clock
from academy.domain.assessment.forms import FormQuestion
from academy.domain.assessment.frozen import DrawnForm, drawn_form_from_frozen
from academy.domain.assessment.progress import Purpose
from academy.domain.assessment.scoring import answered
from academy.services.actor import Actor
from academy.store.queries import study as queries
from academy.web.context import course, db
from academy.web.language import gettext as _
from academy.web.parts import Link
from academy.web.quizzes.pages import TimeLeft


@dataclass(frozen=True, slots=True)
class OwnSitting:
    """One's own sitting with its form and the latest responses."""

    row: queries.SittingRow
    drawn: DrawnForm
    responses: dict[str, dict[str, object]]

    @property
    def purpose(self) -> Purpose:
        """Return why it was opened."""
        return Purpose(self.row.purpose)

    @property
    def unanswered(self) -> tuple[int, ...]:
        """Return the positions of the questions without a whole answer."""
        return tuple(
            position
            for position, item in enumerate(self.drawn.form.questions, 1)
            if not answered(item.question, self.responses.get(item.question.id))
        )

    @property
    def total(self) -> int:
        """Return how many questions are on the form."""
        return len(self.drawn.form.questions)

    @property
    def title(self) -> str:
        """Return what the sitting is about."""
        return title_of(self.row.purpose, self.row.module_id, self.row.scheme_id)

    @property
    def back(self) -> Link | None:
        """Return the page the sitting was opened from."""
        if self.purpose is Purpose.EXAMINATION:
            return None
        if self.purpose is Purpose.REFRESHER:
            return Link(_("The course"), url_for("study.course_overview"))
        return Link(self.title, url_for("study.module", module_id=self.row.module_id))

    @property
    def clock(self) -> Clock | None:
        """Return an examination's clock once it runs."""
        examination, begun_at = self.row.examination, self.row.begun_at
        if examination is None or begun_at is None:
            return None
        return Clock(begun_at, examination["minutes"], examination["extra_time_percent"])

    @property
    def waits_to_begin(self) -> bool:
        """Return whether this is an examination whose clock has not been started."""
        return self.row.examination is not None and self.row.begun_at is None

    @property
    def larger_print(self) -> bool:
        """Return whether the pages of this sitting are enlarged."""
        return bool(self.row.examination and self.row.examination["larger_print"])

    def time_left(self, now: datetime) -> TimeLeft | None:
        """Return what the page says about the time, None where there is no clock."""
        clock = self.clock
        if clock is None:
            return None
        left_s = (clock.ends_at - now).total_seconds()
        return TimeLeft(clock.ends_at, now, max(0, int(left_s // 60)), clock.over(now))

    def item(self, position: int) -> FormQuestion:
        """Return the question at a position; 404 beyond the form."""
        if not 1 <= position <= self.total:
            abort(404)
        return self.drawn.form.questions[position - 1]


def own_sitting(actor: Actor, sitting_id: UUID) -> OwnSitting:
    """Return the actor's own sitting; 404 for anybody else's and for none."""
    row = queries.sitting(db(), actor.shop_id, actor.person_id, sitting_id)
    if row is None:
        abort(404)
    return OwnSitting(
        row,
        drawn_form_from_frozen(row.form),
        queries.responses(db(), actor.shop_id, sitting_id),
    )


def title_of(purpose: str, module_id: str, scheme_id: str | None) -> str:
    """Return what a sitting is about, in the course's words."""
    if purpose == Purpose.REFRESHER:
        return _("Five questions")
    if purpose == Purpose.EXAMINATION:
        scheme = course().scheme(scheme_id or "")
        return scheme.title if scheme else scheme_id or ""
    module = course().module(module_id)
    return module.title if module else module_id


def question_url(sitting_id: UUID, position: int) -> str:
    """Return the address of one question of a sitting."""
    return url_for("quizzes.question", sitting_id=sitting_id, position=position)
