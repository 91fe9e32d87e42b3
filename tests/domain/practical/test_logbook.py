"""Practice work by stage: what counts, what waits, who may enter and confirm what."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import permutations
from uuid import UUID, uuid4

import pytest

from academy.domain.curriculum.kinds import Supervision
from academy.domain.practical.logbook import (
    DayToCome,
    EntryKind,
    NotAloneYet,
    NothingToConfirm,
    NotTheirOwnEntry,
    PracticeStage,
    Practised,
    practice_by_task,
    refuse_alone,
    refuse_confirming,
    refuse_day_to_come,
)

MONDAY = date(2026, 3, 2)


def practised(
    stage: PracticeStage, day: int = 0, *, task: str = "polish", confirmed: bool = True
) -> Practised:
    return Practised(task, stage, MONDAY + timedelta(days=day), confirmed)


def test_the_highest_confirmed_stage_is_the_one_reached() -> None:
    entries = [
        practised(PracticeStage.OBSERVED),
        practised(PracticeStage.ASSISTED, 1),
        practised(PracticeStage.ASSISTED, 2),
        practised(PracticeStage.SUPERVISED, 3, confirmed=False),
    ]
    (line,) = practice_by_task(entries)

    assert line.reached is PracticeStage.ASSISTED
    assert line.counts == {PracticeStage.OBSERVED: 1, PracticeStage.ASSISTED: 2}
    assert line.waiting == 1
    assert line.last_on == MONDAY + timedelta(days=3)


def test_the_order_of_reading_changes_nothing() -> None:
    entries = [practised(stage, day) for day, stage in enumerate(PracticeStage)]

    shown = [practice_by_task(order) for order in permutations(entries)]

    assert all(lines == shown[0] for lines in shown)


def test_what_waits_for_a_supervisor_reaches_no_stage() -> None:
    (line,) = practice_by_task([practised(PracticeStage.ALONE, confirmed=False)])

    assert line.reached is None


def test_the_task_worked_last_stands_first() -> None:
    lines = practice_by_task(
        [practised(PracticeStage.OBSERVED, 5, task="sand"), practised(PracticeStage.ALONE, 1)]
    )

    assert [line.task_id for line in lines] == ["sand", "polish"]


@pytest.mark.parametrize("stage", [*PracticeStage, None])
@pytest.mark.parametrize("level", Supervision)
def test_alone_is_entered_only_where_the_level_is_alone(
    stage: PracticeStage | None, level: Supervision
) -> None:
    if stage is PracticeStage.ALONE and level is not Supervision.ALONE:
        with pytest.raises(NotAloneYet, match="enter it as supervised"):
            refuse_alone(stage, level, "Polishing")
    else:
        refuse_alone(stage, level, "Polishing")


@pytest.mark.parametrize(("day", "allowed"), [(-400, True), (-1, True), (0, True), (1, False)])
def test_work_is_entered_once_it_is_done(day: int, allowed: bool) -> None:
    if allowed:
        refuse_day_to_come(MONDAY + timedelta(days=day), MONDAY)
    else:
        with pytest.raises(DayToCome):
            refuse_day_to_come(MONDAY + timedelta(days=day), MONDAY)


HERSELF, ANOTHER = uuid4(), uuid4()


@pytest.mark.parametrize(
    ("actor", "kind", "replaced", "refused"),
    [
        pytest.param(ANOTHER, EntryKind.PRACTICE, False, None, id="a supervisor who saw it"),
        pytest.param(HERSELF, EntryKind.PRACTICE, False, NotTheirOwnEntry, id="one's own"),
        pytest.param(ANOTHER, EntryKind.DRILL, False, NothingToConfirm, id="a drill"),
        pytest.param(ANOTHER, EntryKind.PRACTICE, True, NothingToConfirm, id="replaced"),
    ],
)
def test_who_confirms_what(
    actor: UUID, kind: EntryKind, replaced: bool, refused: type[Exception] | None
) -> None:
    if refused is None:
        refuse_confirming(actor, HERSELF, kind, replaced)
    else:
        with pytest.raises(refused):
            refuse_confirming(actor, HERSELF, kind, replaced)
