"""Which stages a task goes through."""

from __future__ import annotations

import pytest

from academy.domain.curriculum.tasks import PracticalTask
from academy.domain.practical.stages import Stage, stages_of
from tests.support.course import a_measuring_task, a_task, a_task_by_eye


@pytest.mark.parametrize(
    ("task", "stages"),
    [
        pytest.param(
            a_task(),
            ("before", "set-up", "working", "inspection", "after", "criteria", "talk"),
            id="with a limit it is read before and after",
        ),
        pytest.param(
            a_measuring_task(),
            ("set-up", "before", "criteria", "talk"),
            id="with spots and no limit it only measures",
        ),
        pytest.param(
            a_task_by_eye(),
            ("set-up", "working", "inspection", "criteria", "talk"),
            id="without spots it is judged by eye",
        ),
    ],
)
def test_a_task_asks_for_its_stages_in_order(task: PracticalTask, stages: tuple[str, ...]) -> None:
    assert stages_of(task) == tuple(Stage(stage) for stage in stages)
