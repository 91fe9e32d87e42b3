"""Reading a module: its page, its lessons and its questions."""

from __future__ import annotations

from dataclasses import dataclass

from academy.content.draft import Draft
from academy.content.layout import distinct
from academy.content.lessons import LessonDraft, read_lesson, set_lesson
from academy.content.markdown import read_markdown
from academy.content.matter import Page, read_page
from academy.content.problems import Place
from academy.content.questions import read_question
from academy.content.schema import ModuleMatter
from academy.content.source import SourceFile
from academy.content.typeset import Typesetter
from academy.content.validated import validated
from academy.domain.curriculum.course import Module
from academy.domain.curriculum.findings import Subject
from academy.domain.curriculum.kinds import Level
from academy.domain.curriculum.lessons import Lesson, Objective
from academy.domain.curriculum.questions import Blueprint, BlueprintCell, Question


@dataclass(frozen=True, slots=True)
class ModuleDraft:
    """A module whose front matter and lesson headings are known."""

    id: str
    number: int
    page: Page
    matter: ModuleMatter
    lessons: tuple[LessonDraft, ...]


def read_module(module_id: str, number: int, draft: Draft) -> ModuleDraft | None:
    """Read a module's page and its lessons' headings; None (noted) without a sound page."""
    path = f"modules/{module_id}/module.md"
    file = draft.source.files.get(path)
    if file is None:
        draft.problems.error(Place(path, 1), "the module %(id)s has no module.md", id=module_id)
        return None
    page = read_page(file, draft.problems)
    matter = validated(ModuleMatter, page.matter, draft.problems) if page else None
    lessons = tuple(_lesson_drafts(module_id, draft))
    if page is None or matter is None:
        return None
    draft.pages["module", module_id] = page
    draft.places[Subject("module", module_id)] = file.at(1)
    return ModuleDraft(module_id, number, page, matter, lessons)


def set_module(module: ModuleDraft, draft: Draft) -> Module:
    """Set a module's texts and read its questions."""
    page, matter = module.page, module.matter
    setter = Typesetter(page.file.path, draft.references, draft.problems)
    summary = setter.set(read_markdown(page.body, page.body_line))
    if not summary.text:
        draft.problems.error(page.file.at(page.body_line), "the module has no summary")
    _note_objectives(module, draft)
    return Module(
        id=module.id,
        number=module.number,
        title=matter.title,
        summary_html=summary.html,
        cautions=tuple(matter.cautions),
        objectives=tuple(
            Objective(
                one.id,
                setter.words(one.text, page.matter.place(["objectives", index]).line),
                one.kind,
                one.must_know,
                module.id,
            )
            for index, one in enumerate(matter.objectives)
        ),
        lessons=tuple(_lessons(module, draft)),
        questions=tuple(_questions(module.id, draft)),
        blueprint=_blueprint(matter),
        digest=page.file.digest,
        trainer_sheet_html=_trainer_sheet(module.id, draft),
    )


def _files(module_id: str, folder: str, draft: Draft) -> list[SourceFile]:
    below = draft.source.below(f"modules/{module_id}/{folder}")
    return list(distinct(below, draft.problems))


def _lesson_drafts(module_id: str, draft: Draft) -> list[LessonDraft]:
    found = []
    for file in _files(module_id, "lessons", draft):
        page = read_page(file, draft.problems)
        lesson = read_lesson(page, module_id, draft.problems) if page else None
        if page is None or lesson is None:
            draft.unread.add(module_id)
            continue
        draft.pages["lesson", lesson.path] = page
        draft.references.lessons[lesson.path] = lesson.sign
        found.append(lesson)
    return found


def _lessons(module: ModuleDraft, draft: Draft) -> list[Lesson]:
    return [set_lesson(lesson, draft.references, draft.problems) for lesson in module.lessons]


def _questions(module_id: str, draft: Draft) -> list[Question]:
    found = []
    for file in _files(module_id, "questions", draft):
        page = read_page(file, draft.problems)
        read = read_question(page, module_id, draft.references, draft.problems) if page else None
        if page is None or read is None:
            draft.unread.add(module_id)
            continue
        name = read.question.id
        if ("question", name) in draft.pages:
            first = draft.pages["question", name].file.path
            draft.problems.error(
                file.at(1), "the id %(id)s belongs to %(path)s", id=name, path=first
            )
            continue
        draft.pages["question", name] = page
        draft.wordings += read.wordings
        for part, line in read.lines.items():
            draft.places[Subject("question", name, part)] = file.at(line)
        found.append(read.question)
    return found


def _note_objectives(module: ModuleDraft, draft: Draft) -> None:
    matter = module.page.matter
    for index, objective in enumerate(module.matter.objectives):
        place = matter.place(["objectives", index])
        subject = Subject("objective", objective.id)
        if subject in draft.places:
            draft.problems.error(
                place,
                "the objective %(id)s stands already at %(first)s",
                id=objective.id,
                first=draft.places[subject],
            )
        draft.places.setdefault(subject, place)
        row = matter.place(["blueprint", objective.id])
        draft.places[Subject("blueprint", objective.id)] = row
        for level in Level:
            cell = matter.place(["blueprint", objective.id, level.value])
            draft.places[Subject("blueprint", objective.id, level.value)] = cell


def _blueprint(matter: ModuleMatter) -> Blueprint:
    return Blueprint(
        tuple(
            BlueprintCell(objective_id, level, count)
            for objective_id, cells in matter.blueprint.items()
            for level in Level
            if (count := getattr(cells, level.value))
        )
    )


def _trainer_sheet(module_id: str, draft: Draft) -> str:
    file = draft.source.files.get(f"modules/{module_id}/trainer.md")
    if file is None:
        return ""
    text, line = file.text, 1
    if text.startswith("---"):
        page = read_page(file, draft.problems)
        text, line = (page.body, page.body_line) if page else ("", 1)
    setter = Typesetter(file.path, draft.references, draft.problems)
    return setter.set(read_markdown(text, line)).html
