"""The board, and the evidence behind each of its cells."""

from __future__ import annotations

from datetime import date
from uuid import UUID

from flask import url_for
from flask.typing import ResponseReturnValue

from academy.domain.certification import Evidence
from academy.domain.certification.held_back import ReturnCheckDue
from academy.domain.curriculum.course import Course
from academy.domain.curriculum.kinds import Supervision
from academy.domain.curriculum.schemes import Requirement
from academy.domain.people import Permission
from academy.domain.practical.counting import doubt_shown
from academy.services import board as service
from academy.services.gauges import suspect_practicals
from academy.store.queries.decisions import DecisionRow
from academy.store.queries.evidence import SignedPracticalRow
from academy.web.certification import acts, certificate, deciding
from academy.web.certification.acts import restriction_line
from academy.web.certification.blueprint import bp
from academy.web.certification.pages import BoardPage, EvidenceLine, EvidencePage, LevelLine
from academy.web.certification.words import (
    level_word,
    says,
    status_sign,
    status_word,
    until_and_missing,
)
from academy.web.context import clock, course, db
from academy.web.doubts import suspect_line
from academy.web.formats import sentence_text
from academy.web.identity import requires, signed_in
from academy.web.language import day_text
from academy.web.language import gettext as _
from academy.web.pages import render
from academy.web.parts import BoardCell, BoardRow, BoardTable, Link
from academy.web.times import shop_day, today

# Importing the others puts their addresses into the blueprint.
__all__ = ["acts", "bp", "certificate", "deciding"]


@bp.get("/")
@requires(Permission.READ_BOARD)
def board() -> ResponseReturnValue:
    """Show who may do what today."""
    now = clock()
    found = service.board(db(), actor=signed_in(), course=course(), now=now)
    doubts = tuple(map(suspect_line, suspect_practicals(db(), signed_in().shop_id)))
    return render(BoardPage(_board_table(found, course()), shop_day(now), doubts))


@bp.get("/<uuid:person_id>/<scheme_id>")
@requires(Permission.READ_BOARD)
def evidence(person_id: UUID, scheme_id: str) -> ResponseReturnValue:
    """Show all that stands behind one cell."""
    good = course()
    found = service.cell_evidence(
        db(),
        actor=signed_in(),
        person_id=person_id,
        scheme_id=scheme_id,
        course=good,
        now=clock(),
    )
    return render(
        EvidencePage(
            person_name=found.person.name,
            scheme_title=found.scheme.title,
            scheme_html=found.scheme.body_html,
            sign=status_sign(found.today),
            word=status_word(found.today),
            says=until_and_missing(found.today, good),
            levels=tuple(
                _level_line(requirement, found.today.level, good)
                for requirement in found.scheme.requirements
            ),
            modules=_module_lines(found.evidence, found.scheme.requirements, good),
            practicals=tuple(_practical_line(row, good, today()) for row in found.practicals),
            scheme_version=found.scheme.version,
            scheme_digest=found.scheme.digest,
            decisions=tuple(map(_decision_line, found.decisions)),
            acts=_acts(found),
            restrictions=tuple(restriction_line(row, good) for row in found.restrictions),
        )
    )


def _acts(found: service.CellEvidence) -> tuple[Link, ...]:
    """Return what the person signed in may do about this cell."""
    actor, person_id = signed_in(), found.person.person_id
    own = actor.person_id == person_id

    def to(endpoint: str) -> str:
        return url_for(endpoint, person_id=person_id, scheme_id=found.scheme.id)

    acts = []
    if found.today.ready_for and actor.may(Permission.DECIDE_CERTIFICATE) and not own:
        acts.append(Link(_("Decide on this certificate"), to(".decide")))
    idle = any(isinstance(why, ReturnCheckDue) for why in found.today.held_back)
    if idle and actor.may(Permission.DECIDE_CERTIFICATE) and not own:
        acts.append(Link(_("Sign a return check"), to(".check_return")))
    if actor.may(Permission.RESTRICT_WORK):
        acts.append(
            Link(
                _("Hold back"), url_for(".restrict", person_id=person_id, scheme_id=found.scheme.id)
            )
        )
        if any(row.valid_until for row in found.decisions):
            acts.append(Link(_("Withdraw the certificate"), to(".withdraw")))
    return tuple(acts)


def _decision_line(row: DecisionRow) -> EvidenceLine:
    day, level = day_text(shop_day(row.decided_at)), level_word(row.level)
    if row.valid_until is None:
        says = _("against, by %(name)s: %(why)s", name=row.decided_by_name, why=row.reason)
        return EvidenceLine(_("'%(level)s', %(day)s", level=level, day=day), says, "withdrawn", "")
    says = _(
        "by %(name)s, until %(until)s", name=row.decided_by_name, until=day_text(row.valid_until)
    )
    return EvidenceLine(
        _("Certificate '%(level)s', %(day)s", level=level, day=day), says, "valid",
        url_for(".certificate_of", decision_id=row.id),
    )  # fmt: skip


def _board_table(board: service.Board, course: Course) -> BoardTable:
    return BoardTable(
        caption=_("Who may do what today"),
        people=_("Person"),
        kinds=tuple(scheme.title for scheme in board.schemes),
        rows=tuple(
            BoardRow(
                line.person.name,
                _cell_url(line.person.person_id, board.schemes[0].id) if board.schemes else "",
                tuple(
                    BoardCell(
                        status_sign(standing),
                        status_word(standing),
                        _cell_url(line.person.person_id, standing.scheme_id),
                        says(standing, course),
                    )
                    for standing in line.standings
                ),
            )
            for line in board.lines
        ),
    )


def _cell_url(person_id: UUID, scheme_id: str) -> str:
    return url_for("certification.evidence", person_id=person_id, scheme_id=scheme_id)


def _level_line(requirement: Requirement, reached: Supervision, course: Course) -> LevelLine:
    modules = {module.id: module.title for module in course.modules}
    tasks = {task.id: task.title for task in course.tasks}
    asks = [
        _("the quiz of '%(module)s'", module=modules.get(module_id, module_id))
        for module_id in requirement.modules
    ] + [
        _("%(needed)d competent in a row at '%(task)s'", needed=needed, task=tasks.get(t, t))
        for t, needed in requirement.practicals.items()
    ]
    if requirement.examination:
        asks.append(_("the examination"))
    met = requirement.level.rank <= reached.rank
    return LevelLine(level_word(requirement.level), "right" if met else "other", tuple(asks))


def _module_lines(
    evidence: Evidence, requirements: tuple[Requirement, ...], course: Course
) -> tuple[EvidenceLine, ...]:
    asked = {module_id for requirement in requirements for module_id in requirement.modules}
    return tuple(
        EvidenceLine(
            module.title,
            _("quiz passed on %(day)s", day=day_text(evidence.modules_passed[module.id]))
            if module.id in evidence.modules_passed
            else _("quiz not passed"),
            "right" if module.id in evidence.modules_passed else "other",
            url_for("study.module", module_id=module.id),
        )
        for module in course.modules
        if module.id in asked
    )


def _practical_line(row: SignedPracticalRow, course: Course, today: date) -> EvidenceLine:
    task, doubt = course.task(row.task_id), doubt_shown(row.facts, today)
    competent = row.record["outcome"] == "competent"
    return EvidenceLine(
        task.title if task else row.task_id,
        _(
            "%(outcome)s, assessed %(day)s, record %(digest)s",
            outcome=_("competent") if competent else _("not yet competent"),
            day=day_text(shop_day(row.closed_at)),
            digest=row.digest[:12],
        )
        + (f"; {sentence_text(doubt)}" if doubt else ""),
        "competent" if competent else "not-yet-competent",
        url_for("practicals.practical", practical_id=row.practical_id),
    )
