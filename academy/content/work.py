"""Reading practical tasks, drills and prepared questions."""

from __future__ import annotations

from dataclasses import dataclass

from academy.content.markdown import read_markdown, sections
from academy.content.matter import Page
from academy.content.problems import Problems
from academy.content.references import References
from academy.content.schema import DrillMatter, SpokenMatter, TaskMatter
from academy.content.typeset import SetText, Typesetter
from academy.content.validated import validated
from academy.domain.curriculum.schemes import SpokenQuestion
from academy.domain.curriculum.tasks import Criterion, Drill, PracticalTask

TRAINER_HEADING = "Trainer's sheet"
MODEL_ANSWER_HEADING = "Model answer"


def read_task(page: Page, references: References, problems: Problems) -> PracticalTask | None:
    """Read a practical task; a heading ``## Trainer's sheet`` opens the trainer's part."""
    matter = validated(TaskMatter, page.matter, problems)
    if matter is None:
        return None
    _check_task(page, matter, problems)
    body = _body(page, references, problems)
    setter = Typesetter(page.file.path, references, problems)

    def words(text: str, *keys: object) -> str:
        return setter.words(text, page.matter.place(keys).line)

    return PracticalTask(
        id=page.file.name,
        title=matter.title,
        kind_of_work=matter.kind_of_work,
        objectives=tuple(matter.objectives),
        cautions=tuple(matter.cautions),
        spots=matter.spots,
        readings_per_spot=matter.readings_per_spot,
        limit_um=matter.limit_um,
        criteria=tuple(
            Criterion(one.id, words(one.text, "criteria", index), one.critical, one.measured)
            for index, one in enumerate(matter.criteria)
        ),
        set_up_checks=tuple(
            words(text, "set-up-checks", index) for index, text in enumerate(matter.set_up_checks)
        ),
        minutes=matter.minutes,
        body_html=body.text.html,
        digest=page.file.digest,
        substrates=tuple(matter.substrates),
        trainer_sheet_html=body.trainer.html,
    )


def read_drill(page: Page, references: References, problems: Problems) -> Drill | None:
    """Read a drill."""
    matter = validated(DrillMatter, page.matter, problems)
    if matter is None:
        return None
    body = _body(page, references, problems)
    return Drill(
        id=page.file.name,
        title=matter.title,
        objectives=tuple(matter.objectives),
        cautions=tuple(matter.cautions),
        minutes=matter.minutes,
        body_html=body.text.html,
        digest=page.file.digest,
    )


def read_spoken(page: Page, references: References, problems: Problems) -> SpokenQuestion | None:
    """Read a prepared question; the heading ``## Model answer`` opens what a good answer says."""
    matter = validated(SpokenMatter, page.matter, problems)
    if matter is None:
        return None
    body = _body(page, references, problems, MODEL_ANSWER_HEADING)
    if not body.trainer.html:
        problems.error(page.file.at(page.body_line), "there is no heading '## Model answer'")
    return SpokenQuestion(
        id=page.file.name,
        objective_id=matter.objective,
        text_html=body.text.html,
        model_answer_html=body.trainer.html,
        digest=page.file.digest,
    )


@dataclass(frozen=True, slots=True)
class _Body:
    """The text everybody reads, and the trainer's."""

    text: SetText
    trainer: SetText


def _body(
    page: Page, references: References, problems: Problems, heading: str = TRAINER_HEADING
) -> _Body:
    setter = Typesetter(page.file.path, references, problems)
    tokens = read_markdown(page.body, page.body_line)
    if not tokens:
        problems.error(page.file.at(page.body_line), "there is no text under the front matter")
    _, headed = sections(tokens, 2)
    trainer = next((s for s in headed if s.title.replace("’", "'") == heading), None)
    if trainer is None:
        return _Body(setter.set(tokens), SetText("", ""))
    start = next(
        index
        for index, token in enumerate(tokens)
        if token.type == "heading_open" and token.map and token.map[0] == trainer.line
    )
    end = start + 3 + len(trainer.tokens)
    return _Body(setter.set([*tokens[:start], *tokens[end:]]), setter.set(trainer.tokens))


def _check_task(page: Page, matter: TaskMatter, problems: Problems) -> None:
    seen: set[str] = set()
    for index, criterion in enumerate(matter.criteria):
        if criterion.id in seen:
            problems.error(
                page.matter.place(["criteria", index]),
                "the criterion %(id)s stands twice",
                id=criterion.id,
            )
        seen.add(criterion.id)
    measured = any(criterion.measured for criterion in matter.criteria)
    if matter.limit_um is not None and not measured:
        problems.error(
            page.matter.place(["criteria"]), "a limit is given and no criterion is measured"
        )
    if matter.limit_um is None and measured:
        problems.error(
            page.matter.place(["criteria"]), "a criterion is measured and no limit-um is given"
        )
    if not any(criterion.critical for criterion in matter.criteria):
        problems.warning(page.matter.place(["criteria"]), "no criterion is critical")
