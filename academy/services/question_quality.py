"""Judging the questions of the course by a shop's answers: what to mend first, and why."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Mapping
from threading import Lock

from sqlalchemy.orm import Session

from academy.domain.curriculum.course import Course
from academy.domain.people import Permission
from academy.services.actor import Actor
from academy.services.judged_questions import QuestionQuality
from academy.store.queries import question_quality as queries

KEPT_AT_MOST = 4

_kept: OrderedDict[object, QuestionQuality] = OrderedDict()
_keeping = Lock()


def question_quality(
    session: Session, *, actor: Actor, course: Course, ratings: Mapping[str, int]
) -> QuestionQuality:
    """Return how good the questions are, by this shop's answers.

    ``ratings`` holds ratings that stand in place of the author's, by wording.
    What was computed is kept until an answer, a dispute, a rating or the course
    changes.
    """
    actor.require(Permission.JUDGE_QUESTIONS)
    state = (
        actor.shop_id,
        course.digest,
        queries.stamp(session, actor.shop_id),
        tuple(sorted(ratings.items())),
    )
    with _keeping:
        known = _kept.get(state)
    if known is None:
        # it brings numpy, so not before it is needed
        from academy.services.judging_questions import judged

        known = judged(session, actor.shop_id, course, ratings)
        with _keeping:
            _kept[state] = known
            while len(_kept) > KEPT_AT_MOST:
                _kept.popitem(last=False)
    return known
