"""Whether the parts of the course name one another rightly."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from academy.content.draft import Draft
from academy.content.problems import Place
from academy.domain.assessment.examination import SPOKEN_QUESTIONS
from academy.domain.curriculum.course import Course, Module
from academy.domain.curriculum.lessons import Lesson
from academy.domain.curriculum.questions import Question
from academy.domain.curriculum.schemes import Scheme


def check_agreement(course: Course, draft: Draft) -> None:
    """Note every name that no part of the course answers to."""
    objectives = {o.id for module in course.modules for o in module.objectives}
    questions = {q.id for module in course.modules for q in module.questions}
    for module in course.modules:
        _names(draft, "module", module.id, "cautions", module.cautions, _cautions(course))
        _blueprint_rows(module, draft)
        own = {objective.id for objective in module.objectives}
        for lesson in module.lessons:
            _lesson(course, module, lesson, own, draft)
        for question in module.questions:
            _question(course, question, own, questions, draft)
    _tasks_and_drills(course, objectives, draft)
    _spoken(course, objectives, draft)
    _schemes(course, draft)


def _cautions(course: Course) -> set[str]:
    return {caution.id for caution in course.cautions}


def _names(
    draft: Draft, kind: str, name: str, field: str, given: Sequence[str], known: set[str]
) -> None:
    for index, item in enumerate(given):
        if item not in known:
            draft.problems.error(
                draft.place(kind, name, field, index),
                "there is no %(field)s called %(item)s",
                field=_SINGULAR[field],
                item=item,
            )
        elif item in given[:index]:
            draft.problems.error(
                draft.place(kind, name, field, index), "%(item)s is named twice", item=item
            )


_SINGULAR = {
    "cautions": "caution",
    "objectives": "objective",
    "apart-from": "question",
}


def _blueprint_rows(module: Module, draft: Draft) -> None:
    own = {objective.id for objective in module.objectives}
    page = draft.pages["module", module.id]
    for name in page.matter.value["blueprint"]:
        if name not in own:
            draft.problems.error(
                page.matter.place(["blueprint", name]),
                "the blueprint names %(name)s, which is no objective of this module",
                name=name,
            )


def _lesson(course: Course, module: Module, lesson: Lesson, own: set[str], draft: Draft) -> None:
    _names(draft, "lesson", lesson.path, "cautions", lesson.cautions, _cautions(course))
    _names(draft, "lesson", lesson.path, "objectives", lesson.objectives, own)
    for index, caution in enumerate(lesson.cautions):
        if caution in _cautions(course) - set(module.cautions):
            draft.problems.error(
                draft.place("lesson", lesson.path, "cautions", index),
                "the lesson warns of %(caution)s and its module does not open with it",
                caution=caution,
            )


def _question(
    course: Course, question: Question, own: set[str], questions: set[str], draft: Draft
) -> None:
    def place(*keys: object) -> Place:
        return draft.place("question", question.id, *keys)

    if question.objective_id not in own:
        draft.problems.error(
            place("objective"),
            "the objective %(id)s is not one of this module",
            id=question.objective_id,
        )
    _names(draft, "question", question.id, "apart-from", question.apart_from, questions)
    if question.id in question.apart_from:
        draft.problems.error(place("apart-from"), "the question is kept apart from itself")
    link = question.teaches
    lesson = course.lesson(link.module_id, link.lesson_id)
    if lesson is None:
        if link.module_id not in draft.unread:
            draft.problems.error(
                place("teaches"),
                "L17: there is no lesson %(module)s/%(lesson)s",
                module=link.module_id,
                lesson=link.lesson_id,
            )
    elif link.anchor not in {heading.anchor for heading in lesson.headings}:
        draft.problems.error(
            place("teaches"),
            "L17: the lesson %(path)s has no heading #%(anchor)s",
            path=lesson.path,
            anchor=link.anchor,
        )
    elif question.objective_id not in lesson.objectives:
        draft.problems.warning(
            place("teaches"),
            "the lesson %(path)s does not say that it teaches %(objective)s",
            path=lesson.path,
            objective=question.objective_id,
        )


def _tasks_and_drills(course: Course, objectives: set[str], draft: Draft) -> None:
    cautions = _cautions(course)
    for task in course.tasks:
        _names(draft, "task", task.id, "objectives", task.objectives, objectives)
        _names(draft, "task", task.id, "cautions", task.cautions, cautions)
        _kind_of_work(course, "task", task.id, task.kind_of_work, draft)
    for drill in course.drills:
        _names(draft, "drill", drill.id, "objectives", drill.objectives, objectives)
        _names(draft, "drill", drill.id, "cautions", drill.cautions, cautions)


def _spoken(course: Course, objectives: set[str], draft: Draft) -> None:
    for question in course.spoken:
        if question.objective_id not in objectives:
            draft.problems.error(
                draft.place("spoken", question.id, "objective"),
                "no module has the objective %(name)s",
                name=question.objective_id,
            )


def _examination(course: Course, scheme: Scheme, draft: Draft) -> None:
    asked = any(requirement.examination for requirement in scheme.requirements)
    place = draft.place("scheme", scheme.id, "levels" if asked else "examination")
    if asked and scheme.examination is None:
        draft.problems.error(place, "a level asks for the examination and none is described")
    if scheme.examination is None:
        return
    if not asked:
        draft.problems.error(place, "an examination is described and no level asks for it")
    taught = {o.id for m in course.modules if m.id in scheme.modules for o in m.objectives}
    prepared = sum(question.objective_id in taught for question in course.spoken)
    if prepared < SPOKEN_QUESTIONS:
        draft.problems.error(
            place,
            "an examination needs %(needed)d prepared questions on its modules in spoken/; there are %(have)d",
            needed=SPOKEN_QUESTIONS,
            have=prepared,
        )


def _kind_of_work(course: Course, kind: str, name: str, work: str, draft: Draft) -> None:
    # Without a sound course.md nothing is listed, and that is said once already.
    if course.kinds_of_work and work not in course.kinds_of_work:
        draft.problems.error(
            draft.place(kind, name, "kind-of-work"),
            "course.md does not list the kind of work %(work)s",
            work=work,
        )


def _schemes(course: Course, draft: Draft) -> None:
    for scheme in course.schemes:
        _kind_of_work(course, "scheme", scheme.id, scheme.kind_of_work, draft)
        _examination(course, scheme, draft)
        for place, sentence, name in _asked_names(course, scheme.id, draft):
            draft.problems.error(place, sentence, name=name)
    served = [scheme.kind_of_work for scheme in course.schemes]
    for work in course.kinds_of_work:
        place = draft.place("course", "", "kinds-of-work", work)
        if work not in served:
            draft.problems.warning(place, "no scheme leads to %(name)s", name=work)
        elif served.count(work) > 1:
            draft.problems.error(place, "two schemes lead to %(name)s", name=work)


def _asked_names(course: Course, scheme_id: str, draft: Draft) -> Iterator[tuple[Place, str, str]]:
    scheme = course.scheme(scheme_id)
    for asked in scheme.requirements if scheme else ():
        for index, module in enumerate(asked.modules):
            if course.module(module) is None:
                place = draft.place("scheme", scheme_id, "levels", asked.level, "modules", index)
                yield place, "there is no module called %(name)s", module
        for task in asked.practicals:
            if course.task(task) is None:
                place = draft.place("scheme", scheme_id, "levels", asked.level, "practicals", task)
                yield place, "there is no practical task called %(name)s", task
