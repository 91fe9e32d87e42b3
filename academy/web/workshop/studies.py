"""A gauge study on a phone: chosen, read page by page, answered in plain words."""

from __future__ import annotations

from decimal import Decimal
from uuid import UUID, uuid4

from flask import abort, flash, redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.domain.metrology.errors import NothingVaries
from academy.domain.metrology.gauge_reach import smallest_removal_um
from academy.domain.metrology.readings import Refused, read_reading
from academy.domain.people import Permission
from academy.domain.sentences import TradeError
from academy.services import gauge_studies, gauges
from academy.store.queries import gauge_studies as queries
from academy.store.queries.people import members
from academy.store.queries.workshop import gauge, sections
from academy.web.context import clock, db, unit_of_work
from academy.web.formats import sentence_text
from academy.web.forms import FormRefused, as_typed, error_text, kept_id, refused
from academy.web.identity import requires, signed_in
from academy.web.language import gettext as _
from academy.web.pages import render
from academy.web.parts import Choosable, Filled
from academy.web.workshop.blueprint import bp
from academy.web.workshop.forms import StudyForm
from academy.web.workshop.pages import NewStudyPage, StudyAnswerPage, StudyTurnPage

HUNDREDTH = Decimal("0.01")


@bp.get("/workshop/gauges/<uuid:gauge_id>/studies/new")
@requires(Permission.VERIFY_GAUGE)
def new_study(gauge_id: UUID) -> ResponseReturnValue:
    """Show what is chosen before the first reading."""
    return render(_new_page(Filled({"repeats": "3"}), gauge_id, uuid4()))


@bp.post("/workshop/gauges/<uuid:gauge_id>/studies")
@requires(Permission.VERIFY_GAUGE)
def begin_study(gauge_id: UUID) -> ResponseReturnValue:
    """Begin a study."""
    study_id = kept_id(request.form, "study_id")
    try:
        form = StudyForm.of(request.form)
        new = gauge_studies.NewStudy(
            study_id, gauge_id, tuple(form.people), tuple(form.sections), form.repeats
        )
        with unit_of_work() as session:
            gauge_studies.begin_study(session, actor=signed_in(), new=new, now=clock())
    except FormRefused as fault:
        return render(_new_page(fault.filled, gauge_id, study_id), 422)
    except gauge_studies.StudyOutOfBounds as fault:
        return render(_new_page(refused(request.form, fault), gauge_id, study_id), 422)
    return redirect(url_for("workshop.show_study", study_id=study_id), code=303)


@bp.get("/workshop/studies/<uuid:study_id>")
@requires(Permission.VERIFY_GAUGE)
def show_study(study_id: UUID) -> ResponseReturnValue:
    """Show whose turn it is, or the answer."""
    found = _study(study_id)
    if found.next_turn is not None:
        return render(_turn_page(Filled(), found, found.next_turn, uuid4()))
    return render(_answer_page(found))


@bp.post("/workshop/studies/<uuid:study_id>/rounds")
@requires(Permission.VERIFY_GAUGE)
def record_round(study_id: UUID) -> ResponseReturnValue:
    """Keep one page of readings."""
    found, round_id = _study(study_id), kept_id(request.form, "round_id")
    here = url_for("workshop.show_study", study_id=study_id)
    turn = found.next_turn
    if turn is None:
        return redirect(here, code=303)
    try:
        # a page left open while somebody else's was read must not become the next person's
        if request.form.get("turn") != _turn_word(turn):
            raise gauge_studies.NotTheirTurn()
        readings_um = _typed(found)
        with unit_of_work() as session:
            gauge_studies.record_round(
                session, actor=signed_in(), study_id=study_id, round_id=round_id,
                readings_um=readings_um, now=clock(),
            )  # fmt: skip
    except FormRefused as fault:
        return render(_turn_page(fault.filled, found, turn, round_id), 422)
    except TradeError as fault:
        page = _turn_page(Filled({}, {"": error_text(fault)}), found, turn, uuid4())
        return render(page, 422)
    return redirect(here, code=303)


@bp.post("/workshop/studies/<uuid:study_id>/take-over")
@requires(Permission.WRITE_WORKSHOP)
def take_over(study_id: UUID) -> ResponseReturnValue:
    """Make the study's repeatability the gauge's own."""
    found = _study(study_id)
    answer = gauge_studies.answer_of(found)
    if answer is None:
        abort(404)
    repeatability = Decimal(str(answer.repeatability_um)).quantize(HUNDREDTH)
    with unit_of_work() as session:
        gauges.take_over_repeatability(
            session, actor=signed_in(), gauge_id=found.gauge_id,
            repeatability_um=repeatability, now=clock(),
        )  # fmt: skip
    flash(_("The gauge's repeatability is %(um)s µm from now on.", um=repeatability))
    return redirect(url_for("workshop.gauge_history", gauge_id=found.gauge_id), code=303)


def _study(study_id: UUID) -> queries.StudyRow:
    found = queries.study(db(), signed_in().shop_id, study_id)
    return found if found is not None else abort(404)


def _turn_word(turn: queries.Turn) -> str:
    return f"{turn.round} {turn.person_id}"


def _typed(found: queries.StudyRow) -> tuple[Decimal, ...]:
    """Return a reading for each section; raises FormRefused where one cannot be understood."""
    faults, values = {}, []
    for number, _section in enumerate(found.sections, 1):
        parsed = read_reading(request.form.get(f"section-{number}", ""))
        if isinstance(parsed, Refused):
            faults[f"section-{number}"] = sentence_text(parsed.sentence)
        else:
            values.append(Decimal(str(parsed.value_um)))
    if faults:
        raise FormRefused(Filled(as_typed(request.form), faults))
    return tuple(values)


def _new_page(form: Filled, gauge_id: UUID, study_id: UUID) -> NewStudyPage:
    shop_id = signed_in().shop_id
    row = gauge(db(), shop_id, gauge_id)
    if row is None:
        abort(404)
    return NewStudyPage(
        form,
        row.label,
        gauge_id,
        study_id,
        tuple(Choosable(str(one.person_id), one.name) for one in members(db(), shop_id)),
        tuple(Choosable(str(one.id), one.name) for one in sections(db(), shop_id)),
    )


def _turn_page(
    form: Filled, found: queries.StudyRow, turn: queries.Turn, round_id: UUID
) -> StudyTurnPage:
    return StudyTurnPage(
        form,
        found.id,
        round_id,
        _turn_word(turn),
        turn.person,
        len(found.read_um) + 1,
        len(found.turns),
        tuple(Choosable(f"section-{n}", name) for n, name in enumerate(found.sections, 1)),
    )


def _answer_page(found: queries.StudyRow) -> StudyAnswerPage:
    try:
        answer = gauge_studies.answer_of(found)
    except NothingVaries as fault:
        return StudyAnswerPage(found.id, found.gauge_id, (error_text(fault),), may_take_over=False)
    assert answer is not None
    return StudyAnswerPage(found.id, found.gauge_id, _in_words(answer), may_take_over=True)


def _in_words(answer: gauge_studies.StudyAnswer) -> tuple[str, ...]:
    same = [smallest_removal_um(answer.repeatability_um, n) for n in (1, 3, 5)]
    return (
        _(
            "One person reading one spot again scatters by %(um).2f µm (standard deviation).",
            um=answer.repeatability_um,
        ),
        _("Changing hands adds %(um).2f µm.", um=answer.hands_um),
        _(
            "When the same person reads before and after, the smallest removal this gauge shows is"
            " %(one).1f µm with one reading a spot, %(three).1f µm with three, %(five).1f µm with five.",
            one=same[0],
            three=same[1],
            five=same[2],
        ),
        _(
            "When another person reads after, three readings show no less than about %(um).1f µm:"
            " let one person read both times.",
            um=_other_hands(answer),
        ),
    )


def _other_hands(answer: gauge_studies.StudyAnswer) -> float:
    """More readings average out the scatter, not the difference between two people's hands."""
    three = smallest_removal_um(answer.repeatability_um, 3)
    return float((three**2 + smallest_removal_um(answer.hands_um, 1) ** 2) ** 0.5)
