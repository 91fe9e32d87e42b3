"""Who may judge and sign whose work."""

from __future__ import annotations

from uuid import UUID

import pytest

from academy.domain.people import NotTheirOwn, may_sign, refuse_own_practical

TRAINEE = UUID(int=1)
SUPERVISOR = UUID(int=2)
SOMEBODY_ELSE = UUID(int=3)


@pytest.mark.parametrize(
    ("actor", "trainee", "supervisor", "allowed"),
    [
        pytest.param(SUPERVISOR, TRAINEE, SUPERVISOR, True, id="who stood at the panel signs"),
        pytest.param(SOMEBODY_ELSE, TRAINEE, SUPERVISOR, False, id="another one does not"),
        pytest.param(TRAINEE, TRAINEE, SUPERVISOR, False, id="the trainee does not"),
        pytest.param(SUPERVISOR, SUPERVISOR, SUPERVISOR, False, id="nobody signs their own"),
    ],
)
def test_who_signs_a_practical(actor: UUID, trainee: UUID, supervisor: UUID, allowed: bool) -> None:
    assert may_sign(actor, trainee, supervisor) is allowed


def test_nobody_judges_their_own_work() -> None:
    with pytest.raises(NotTheirOwn, match="Nobody assesses or signs their own"):
        refuse_own_practical(TRAINEE, TRAINEE)


def test_a_supervisor_judges_somebody_elses_work() -> None:
    refuse_own_practical(SUPERVISOR, TRAINEE)
