"""Which stage may be recorded now, after what has been."""

from __future__ import annotations

from collections.abc import Sequence
from collections.abc import Set as AbstractSet

from academy.domain.practical.refusals import StageIsOver, StageNotAsked, StageNotReached
from academy.domain.practical.stages import Stage


def refuse_out_of_order(
    title: str, stages: Sequence[Stage], done: AbstractSet[Stage], stage: Stage
) -> None:
    """Raise a sentence unless a stage comes now.

    Parameters
    ----------
    title
        the task's title
    stages
        what the practical asks, in order
    done
        the stages that stand
    """
    if stage is Stage.BETWEEN and Stage.AFTER in stages:
        _refuse_not_between(done)
        return
    if stage not in stages:
        raise StageNotAsked(stage, title)
    missing = next((s for s in stages[: stages.index(stage)] if s not in done), None)
    if missing is not None:
        raise StageNotReached(stage, missing)
    # once paint has been worked, what was found and read before the work is fixed
    worked = stages.index(Stage.WORKING) if Stage.WORKING in stages else 0
    if Stage.WORKING in done and stages.index(stage) < worked and stage is not Stage.TEST_SPOT:
        raise StageIsOver(stage, Stage.WORKING)
    if stage in {Stage.TEST_SPOT, Stage.WORKING} and Stage.AFTER in done:
        raise StageIsOver(stage, Stage.AFTER)


def _refuse_not_between(done: AbstractSet[Stage]) -> None:
    if Stage.WORKING not in done:
        raise StageNotReached(Stage.BETWEEN, Stage.WORKING)
    if Stage.AFTER in done:
        raise StageIsOver(Stage.BETWEEN, Stage.AFTER)
