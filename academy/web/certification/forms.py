"""What is typed to decide, to withdraw, to hold back and to check a return."""

from __future__ import annotations

from datetime import date
from typing import Annotated
from uuid import UUID

from pydantic import Field, StringConstraints

from academy.domain.curriculum.kinds import Supervision
from academy.web.forms import Form

Words = Annotated[str, StringConstraints(min_length=1, max_length=200)]
Reason = Annotated[str, StringConstraints(max_length=1000)]
Password = Annotated[str, StringConstraints(min_length=1, max_length=1000, strip_whitespace=False)]


class SignedForm(Form):
    """Something signed: the id it was opened with, a reason, and who one is, proved again."""

    act_id: UUID
    reason: Reason = ""
    sign_in_name: Words
    password: Password


class DecisionForm(SignedForm):
    """For which level, and whether for or against."""

    level: Supervision
    grant: Annotated[str, Field(pattern="^(yes|no)$")]


class RestrictionForm(SignedForm):
    """At which level somebody or some work is held, and when it is looked at again."""

    level: Supervision
    person_id: UUID | None = None
    scheme_id: Annotated[str, StringConstraints(max_length=100)] | None = None
    review_on: date
