"""Which answers say something about a question, and not about having seen it before.

An answer counts where a person met the question for the first time, in the
first sitting of a quiz or of an examination, and handed it in:

- Practice shows the reason at once and never counts; "five questions" asks what
  was taught long ago and is due; a must-know question asked again follows
  re-teaching.  None of them tells how hard a question is after its lesson.
- A second sitting of the same quiz is sat by those who failed, after they
  read the reasons.
- A question met before, in practice too, is answered from memory.
- Not presented is missing.  Presented and left blank is wrong.  A form on
  which nothing at all was answered was opened and left: it says nothing.
- A wording that was found faulty has no marks any more and is left out.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from academy.domain.assessment.progress import Purpose

COUNTED = frozenset({Purpose.QUIZ, Purpose.EXAMINATION})


@dataclass(frozen=True, slots=True)
class SatForm:
    """One sitting; ``subject`` is the module of a quiz or the scheme of an examination."""

    sitting: str
    person: str
    purpose: Purpose
    subject: str
    handed_in: bool
    anything_answered: bool


def counted_sittings(forms: Iterable[SatForm]) -> frozenset[str]:
    """Return the sittings that count, from all of a shop's in the order they were opened."""
    begun: set[tuple[str, Purpose, str]] = set()
    counted: set[str] = set()
    for form in forms:
        if form.purpose not in COUNTED:
            continue
        mark = (form.person, form.purpose, form.subject)
        if mark not in begun and form.handed_in and form.anything_answered:
            counted.add(form.sitting)
        begun.add(mark)
    return frozenset(counted)


def met_first(presented: Iterable[tuple[str, str]]) -> tuple[bool, ...]:
    """Say for each question presented, in order of time, whether its person meets it first there.

    ``presented`` holds the person and the question, whatever its wording: who
    read the reasons of an earlier wording has met the question.
    """
    met: set[tuple[str, str]] = set()
    return tuple(not (one in met or met.add(one)) for one in presented)  # type: ignore[func-returns-value]
