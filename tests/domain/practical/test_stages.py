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
            (
                "first-look",
                "gauge",
                "before",
                "set-up",
                "plan",
                "test-spot",
                "working",
                "trainee-marks",
                "inspection",
                "cooled",
                "after",
                "criteria",
                "talk",
            ),
            id="with a limit it is read before and after",
        ),
        pytest.param(
            a_measuring_task(),
            ("set-up", "gauge", "before", "criteria", "talk"),
            id="with spots and no limit it only measures",
        ),
        pytest.param(
            a_task_by_eye(),
            (
                "first-look",
                "set-up",
                "plan",
                "test-spot",
                "working",
                "trainee-marks",
                "inspection",
                "criteria",
                "talk",
            ),
            id="without spots it is judged by eye",
        ),
        pytest.param(
            a_task_by_eye(cautions=()),
            ("set-up", "trainee-marks", "inspection", "criteria", "talk"),
            id="without a machine there is nothing to time",
        ),
    ],
)
def test_a_task_asks_for_its_stages_in_order(task: PracticalTask, stages: tuple[str, ...]) -> None:
    assert stages_of(task) == tuple(Stage(stage) for stage in stages)
