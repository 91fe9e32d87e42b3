"""Which role may do what: the whole table, written out once more."""

from __future__ import annotations

import pytest

from academy.domain.people import GRANTS, Permission, Role, granted

T, S, O = Role.TRAINEE, Role.SUPERVISOR, Role.OWNER  # noqa: E741

TABLE = {
    Permission.AMEND_PRACTICAL: {S, O},
    Permission.ASSESS_PRACTICAL: {S},
    Permission.CONFIRM_LOGBOOK: {S},
    Permission.DECIDE_CERTIFICATE: {S, O},
    Permission.DECIDE_DISPUTE: {S, O},
    Permission.DECIDE_OBJECTION: {S, O},
    Permission.ENTER_PAPER: {S, O},
    Permission.INVITE_PERSON: {O},
    Permission.JUDGE_AGAIN: {S, O},
    Permission.JUDGE_QUESTIONS: {O},
    Permission.JUDGE_REFERENCES: {S},
    Permission.KEEP_REFERENCES: {S, O},
    Permission.OPEN_EXAMINATION: {S},
    Permission.RATE_QUESTIONS: {S},
    Permission.READ_BOARD: {S, O},
    Permission.READ_COURSE_PROBLEMS: {O},
    Permission.READ_LOGBOOKS: {S, O},
    Permission.READ_OWN_LOGBOOK: {T, S, O},
    Permission.READ_PEOPLE: {S, O},
    Permission.READ_PRACTICAL: {T, S, O},
    Permission.READ_TRAINER_SHEET: {S, O},
    Permission.READ_WORKSHOP: {S, O},
    Permission.RESTRICT_WORK: {O},
    Permission.SCAN_LABEL: {T, S, O},
    Permission.SETTLE_DOUBT: {O},
    Permission.SIGN_PRACTICAL: {T, S, O},
    Permission.SIT_QUIZ: {T, S, O},
    Permission.STUDY: {T, S, O},
    Permission.USE_CALCULATORS: {T, S, O},
    Permission.VERIFY_GAUGE: {S, O},
    Permission.WRITE_LOGBOOK: {T, S, O},
    Permission.WRITE_SETTINGS: {O},
    Permission.WRITE_WORKSHOP: {S, O},
}


@pytest.mark.parametrize("role", Role)
@pytest.mark.parametrize("permission", Permission)
def test_a_role_may_do_what_the_table_says_and_nothing_else(
    permission: Permission, role: Role
) -> None:
    assert granted([role], permission) is (role in TABLE[permission])


def test_every_role_is_in_the_grants() -> None:
    assert set(GRANTS) == set(Role)


@pytest.mark.parametrize("permission", Permission)
def test_somebody_without_a_role_may_do_nothing(permission: Permission) -> None:
    assert not granted([], permission)


def test_two_roles_add_up() -> None:
    both = [Role.TRAINEE, Role.SUPERVISOR]
    assert granted(both, Permission.SIT_QUIZ)
    assert granted(both, Permission.ASSESS_PRACTICAL)
    assert not granted(both, Permission.INVITE_PERSON)
