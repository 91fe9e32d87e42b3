"""The grants table: which role may do what.

This is the one place where roles meet capabilities.  A page names a
permission, never a role; what a permission lets a person do to one particular
thing is said by the policies.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from enum import StrEnum

from academy.domain.people.roles import Role


class Permission(StrEnum):
    """One thing a role may do, as ``scope:action``."""

    AMEND_PRACTICAL = "practical:amend"
    ASSESS_PRACTICAL = "practical:assess"
    CONFIRM_LOGBOOK = "logbook:confirm"
    DECIDE_CERTIFICATE = "certificate:decide"
    DECIDE_DISPUTE = "dispute:decide"
    DECIDE_OBJECTION = "objection:decide"
    INVITE_PERSON = "people:invite"
    JUDGE_AGAIN = "practical:judge-again"
    JUDGE_QUESTIONS = "questions:judge"
    JUDGE_REFERENCES = "reference:judge"
    KEEP_REFERENCES = "reference:keep"
    ENTER_PAPER = "examination:enter-paper"
    OPEN_EXAMINATION = "examination:open"
    RESTRICT_WORK = "work:restrict"
    RATE_QUESTIONS = "questions:rate"
    READ_BOARD = "board:read"
    READ_COURSE_PROBLEMS = "course:read-problems"
    READ_LOGBOOKS = "logbook:read"
    READ_OWN_LOGBOOK = "logbook:read-own"
    READ_PEOPLE = "people:read"
    READ_PRACTICAL = "practical:read"
    READ_TRAINER_SHEET = "course:read-trainer-sheet"
    READ_WORKSHOP = "workshop:read"
    SCAN_LABEL = "label:scan"
    SETTLE_DOUBT = "doubt:settle"
    SIGN_PRACTICAL = "practical:sign"
    SIT_QUIZ = "quiz:sit"
    STUDY = "course:study"
    USE_CALCULATORS = "calculators:use"
    VERIFY_GAUGE = "gauge:verify"
    WRITE_LOGBOOK = "logbook:write"
    WRITE_SETTINGS = "settings:write"
    WRITE_WORKSHOP = "workshop:write"


_EVERYBODY = frozenset(
    {
        Permission.STUDY,
        Permission.SIT_QUIZ,
        Permission.READ_OWN_LOGBOOK,
        Permission.WRITE_LOGBOOK,
        Permission.READ_PRACTICAL,
        Permission.USE_CALCULATORS,
        # a trainee countersigns; the policy says whose practical and in which place
        Permission.SIGN_PRACTICAL,
        # whoever stands at a panel scans its label, a set-up's or a product's
        Permission.SCAN_LABEL,
    }
)
_SUPERVISOR = _EVERYBODY | {
    Permission.AMEND_PRACTICAL,
    Permission.ASSESS_PRACTICAL,
    Permission.CONFIRM_LOGBOOK,
    # the scheme says whether a supervisor's decision is asked for
    Permission.DECIDE_CERTIFICATE,
    Permission.DECIDE_DISPUTE,
    Permission.DECIDE_OBJECTION,
    Permission.JUDGE_AGAIN,
    Permission.JUDGE_REFERENCES,
    Permission.KEEP_REFERENCES,
    Permission.ENTER_PAPER,
    Permission.OPEN_EXAMINATION,
    Permission.RATE_QUESTIONS,
    Permission.READ_BOARD,
    Permission.READ_LOGBOOKS,
    Permission.READ_PEOPLE,
    Permission.READ_TRAINER_SHEET,
    Permission.READ_WORKSHOP,
    Permission.VERIFY_GAUGE,
    Permission.WRITE_WORKSHOP,
}
_OWNER = _EVERYBODY | {
    # where a shop has one supervisor, the owner decides, judges again, and amends for who has left
    Permission.AMEND_PRACTICAL,
    Permission.DECIDE_CERTIFICATE,
    Permission.DECIDE_DISPUTE,
    Permission.DECIDE_OBJECTION,
    Permission.JUDGE_AGAIN,
    Permission.KEEP_REFERENCES,
    # the second reader of a paper where there is one supervisor
    Permission.ENTER_PAPER,
    Permission.INVITE_PERSON,
    Permission.JUDGE_QUESTIONS,
    Permission.READ_BOARD,
    Permission.READ_LOGBOOKS,
    Permission.READ_COURSE_PROBLEMS,
    Permission.READ_PEOPLE,
    Permission.READ_TRAINER_SHEET,
    Permission.READ_WORKSHOP,
    Permission.RESTRICT_WORK,
    Permission.SETTLE_DOUBT,
    Permission.VERIFY_GAUGE,
    Permission.WRITE_SETTINGS,
    Permission.WRITE_WORKSHOP,
}

GRANTS: Mapping[Role, frozenset[Permission]] = {
    Role.TRAINEE: _EVERYBODY,
    Role.SUPERVISOR: frozenset(_SUPERVISOR),
    Role.OWNER: frozenset(_OWNER),
}


def granted(roles: Iterable[Role], permission: Permission) -> bool:
    """Return whether any of the roles carries the permission."""
    return any(permission in GRANTS[role] for role in roles)
