"""From the files of ``content/`` to the course: read, set, check."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import TypeVar

from academy.content.agreement import check_agreement
from academy.content.counts import Counts, counts_of
from academy.content.draft import Draft
from academy.content.facts import read_facts, unused_facts
from academy.content.glossary_links import word_of
from academy.content.headed import Headed, read_headed, unique
from academy.content.judgement import check_curriculum
from academy.content.layout import check_layout, distinct, module_folders
from academy.content.markdown import read_markdown
from academy.content.matter import Page, read_page
from academy.content.modules import ModuleDraft, read_module, set_module
from academy.content.problems import Place, Problem, Problems
from academy.content.references import Addresses, References
from academy.content.schema import CourseMatter
from academy.content.schemes import read_scheme
from academy.content.source import read_source
from academy.content.typeset import RENDERER_VERSION, SetText, Typesetter
from academy.content.validated import validated
from academy.content.work import read_drill, read_spoken, read_task
from academy.domain.curriculum.course import Course, Module
from academy.domain.curriculum.findings import Severity
from academy.domain.curriculum.lessons import Caution, GlossaryTerm

T = TypeVar("T")
Progress = Callable[[int, int], None]


@dataclass(frozen=True, slots=True)
class Compiled:
    """What came of the source.

    ``course`` is None if there is any error; ``draft`` is what could be read
    all the same, for an author who wants to see how far it goes.
    """

    course: Course | None
    problems: tuple[Problem, ...]
    counts: Counts
    draft: Course
    fact_places: Mapping[str, tuple[Place, ...]]

    @property
    def errors(self) -> tuple[Problem, ...]:
        """Return the problems that keep the course from being served."""
        return tuple(p for p in self.problems if p.severity is Severity.ERROR)


def compile_course(
    root: Path, *, addresses: Addresses | None = None, progress: Progress | None = None
) -> Compiled:
    """Read, set and check the course; never raises for what an author wrote.

    ``progress`` is called with the modules done and the modules in all.
    """
    problems = Problems()
    source = read_source(root, problems)
    draft = Draft(source, problems, References(addresses=addresses or Addresses()))
    check_layout(source, problems)
    course = _course(draft, progress or (lambda done, of: None))
    check_agreement(course, draft)
    check_curriculum(course, draft)
    unused_facts(draft.references, problems)
    found = problems.in_order()
    broken = any(problem.severity is Severity.ERROR for problem in found)
    return Compiled(
        course=None if broken else course,
        problems=found,
        counts=counts_of(course, draft.references.figures_drawn),
        draft=course,
        fact_places={name: tuple(places) for name, places in draft.references.fact_places.items()},
    )


def _course(draft: Draft, progress: Progress) -> Course:
    page, matter = _course_page(draft)
    read_facts(draft.source, draft.references, draft.problems)
    terms = _headed("glossary/", draft)
    cautions = _headed("cautions.md", draft)
    draft.references.terms |= {name: word_of(term.section.title) for name, term in terms.items()}
    drafts = _module_drafts(matter, draft)
    summary = _summary(page, draft)
    # Before the lessons, which show a meaning beside the first use of its word.
    draft.references.glossary = _glossary(terms, draft)
    return Course(
        title=matter.title if matter else "",
        modules=_modules(drafts, draft, progress),
        tasks=_each("tasks", "task", read_task, draft),
        drills=_each("drills", "drill", read_drill, draft),
        schemes=_each("schemes", "scheme", read_scheme, draft),
        spoken=_each("spoken", "spoken", read_spoken, draft),
        cautions=tuple(
            Caution(name, one.section.title, _text(one, draft).html)
            for name, one in cautions.items()
        ),
        glossary=draft.references.glossary,
        digest=course_digest(draft.source.digest),
        summary_html=summary.html,
        kinds_of_work=MappingProxyType(matter.kinds_of_work if matter else {}),
        facts=tuple(draft.references.facts.values()),
    )


def _glossary(terms: Mapping[str, Headed], draft: Draft) -> tuple[GlossaryTerm, ...]:
    return tuple(
        GlossaryTerm(name, one.section.title, _text(one, draft).html)
        for name, one in sorted(terms.items(), key=lambda item: item[1].section.title.lower())
    )


def course_digest(source_digest: str) -> str:
    """Return the digest of a course: its source, and the version that set it."""
    return hashlib.sha256(f"{RENDERER_VERSION}\n{source_digest}".encode()).hexdigest()


def _course_page(draft: Draft) -> tuple[Page | None, CourseMatter | None]:
    file = draft.source.files.get("course.md")
    if file is None:
        draft.problems.error(Place("course.md", 1), "the course has no course.md")
        return None, None
    page = read_page(file, draft.problems)
    if page is None:
        return None, None
    draft.pages["course", ""] = page
    return page, validated(CourseMatter, page.matter, draft.problems)


def _summary(page: Page | None, draft: Draft) -> SetText:
    if page is None:
        return SetText("", "")
    setter = Typesetter(page.file.path, draft.references, draft.problems)
    return setter.set(read_markdown(page.body, page.body_line))


def _headed(prefix: str, draft: Draft) -> dict[str, Headed]:
    files = [file for path, file in sorted(draft.source.files.items()) if path.startswith(prefix)]
    entries = [entry for file in files for entry in read_headed(file, draft.problems)]
    return unique(entries, draft.problems)


def _text(entry: Headed, draft: Draft) -> SetText:
    setter = Typesetter(entry.file.path, draft.references, draft.problems)
    return setter.set(entry.section.tokens)


def _module_drafts(matter: CourseMatter | None, draft: Draft) -> list[ModuleDraft]:
    folders = module_folders(draft.source)
    listed = matter.modules if matter else folders
    for index, module_id in enumerate(listed):
        if module_id in listed[:index]:
            place = draft.place("course", "", "modules", index)
            draft.problems.error(place, "the module %(id)s is listed twice", id=module_id)
    for module_id in folders:
        if module_id not in listed:
            place = draft.place("course", "", "modules")
            draft.problems.error(place, "the module %(id)s is not listed", id=module_id)
    drafts = [
        read_module(module_id, number, draft)
        for number, module_id in enumerate(dict.fromkeys(listed), 1)
    ]
    return [module for module in drafts if module is not None]


def _modules(drafts: list[ModuleDraft], draft: Draft, progress: Progress) -> tuple[Module, ...]:
    found = []
    for done, module in enumerate(drafts, 1):
        found.append(set_module(module, draft))
        progress(done, len(drafts))
    return tuple(found)


def _each(
    folder: str,
    kind: str,
    read: Callable[[Page, References, Problems], T | None],
    draft: Draft,
) -> tuple[T, ...]:
    found = []
    for file in distinct(draft.source.below(folder), draft.problems):
        page = read_page(file, draft.problems)
        part = read(page, draft.references, draft.problems) if page else None
        if page is not None and part is not None:
            draft.pages[kind, file.name] = page
            found.append(part)
    return tuple(found)
