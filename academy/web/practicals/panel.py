"""What a practical's page shows: everything recorded so far and what comes next."""

from __future__ import annotations

from collections.abc import Mapping
from uuid import UUID, uuid4

from flask import url_for

from academy.domain.curriculum.course import Course
from academy.domain.practical.outcome import Judged, judged, measured_of
from academy.domain.practical.record import Practical
from academy.domain.practical.signatures import Meaning
from academy.domain.practical.stages import ADDED_UP, Stage
from academy.services.actor import Actor
from academy.services.practical_record import unchanged
from academy.store.queries.gauges import SuspectPractical
from academy.store.queries.practicals import PracticalSummary, StoredPractical
from academy.web.doubts import doubt_says
from academy.web.formats import sentence_text
from academy.web.language import day_text, ngettext
from academy.web.language import gettext as _
from academy.web.parts import Fact, Filled, Link
from academy.web.practicals.doubt_pages import NO_DOUBT, DoubtShown
from academy.web.practicals.pages import (
    CriterionLine,
    PracticalLine,
    PracticalPage,
    SignatureLine,
    StageLine,
)
from academy.web.practicals.recorded import recorded
from academy.web.practicals.removal_shown import readings_tables, removal_facts
from academy.web.practicals.stage_pages import OpenHere
from academy.web.practicals.stage_views import offline
from academy.web.practicals.words import (
    kind_word,
    outcome_sign,
    outcome_word,
    removal_sign,
    stage_word,
    stop_reason_word,
)
from academy.web.times import shop_day

NOBODY: Filled = Filled()


def practical_page(
    stored: StoredPractical,
    actor: Actor,
    names: Mapping[UUID, str],
    course: Course,
    sign_form: Filled = NOBODY,
    countersign_form: Filled = NOBODY,
    open_here: tuple[OpenHere, ...] = (),
    doubt: DoubtShown = NO_DOUBT,
) -> PracticalPage:
    """Return the page of one practical for one reader.

    What lies beside it, other practicals at the panel and a doubt about its
    gauge, is looked up by whoever knows a shop; the preview knows none.
    """
    practical, task = stored.practical, stored.practical.task
    mine = actor.person_id == practical.supervisor_id
    recording = mine and practical.closed_at is None
    outcome = judged(practical, stored.gauge) if practical.judgement or practical.stopped else None
    shown = measured_of(practical, stored.gauge)
    meanings = {signature.meaning for signature in stored.signatures}
    return PracticalPage(
        practical_id=practical.id,
        title=task.title,
        facts=_facts(stored, names),
        body_html=task.body_html,
        cautions=tuple(c for c in (course.caution(i) for i in task.cautions) if c is not None),
        stages=tuple(_stage_line(practical, stage, recording) for stage in practical.stages),
        next_action=_next_action(practical) if recording else None,
        more=_more(practical) if recording else (),
        open_here=open_here,
        stop_url=url_for("practicals.stop", practical_id=practical.id) if recording else "",
        offline=offline(practical) if recording else None,
        stopped=_stopped(practical),
        doubt=doubt,
        said=recorded(practical, sacrificial=stored.sacrificial),
        readings=readings_tables(practical, shown),
        verdict_sign=removal_sign(shown.verdict.outcome) if shown else "",
        verdict=sentence_text(shown.verdict) if shown else "",
        telling=tuple(sentence_text(says) for says in shown.telling) if shown else (),
        removal_facts=removal_facts(practical, shown),
        criteria=_criteria(outcome) if practical.judgement else (),
        outcome_sign=outcome_sign(outcome.outcome) if outcome else "",
        outcome=outcome_word(outcome.outcome) if outcome else "",
        talk=_talk(practical),
        photographs=tuple(
            Link(
                photograph.caption or _("Photograph"),
                url_for(
                    "practicals.photograph",
                    practical_id=practical.id,
                    photograph_id=photograph.id,
                ),
            )
            for photograph in stored.photographs
        ),
        photograph_id=uuid4(),
        may_record=recording,
        may_close=recording and practical.next_stage is None,
        closed=practical.closed_at is not None,
        digest=stored.record.digest if stored.record else "",
        whole=unchanged(stored.record) if stored.record else True,
        signatures=tuple(
            SignatureLine(s.name, _meaning(s.meaning), f"{s.signed_at:%Y-%m-%d %H:%M} UTC")
            for s in stored.signatures
        ),
        supervisor_signs=_to_sign(
            stored, names, Meaning.ASSESSED in meanings, practical.supervisor_id
        ),
        trainee_signs=_to_sign(stored, names, Meaning.AGREED in meanings, practical.trainee_id),
        sign_form=sign_form,
        countersign_form=countersign_form,
    )


def practical_line(summary: PracticalSummary, doubt: SuspectPractical | None) -> PracticalLine:
    """Return one practical in a list, in words, with the doubt about its gauge if there is one."""
    url = url_for("practicals.practical", practical_id=summary.id)
    title = _("%(task)s, %(trainee)s", task=summary.task_title, trainee=summary.trainee_name)
    says = _(
        "%(kind)s, %(section)s, with %(supervisor)s, %(day)s",
        kind=kind_word(summary.kind),
        section=summary.section_name,
        supervisor=summary.supervisor_name,
        day=day_text(shop_day(summary.opened_at)),
    )
    if doubt is not None:
        says = f"{says}. {doubt_says(doubt)}"
    if summary.closed_at is None:
        return PracticalLine(title, url, "waiting", _("open"), says)
    outcome = summary.outcome or ""
    state = (
        _("%(outcome)s, signed", outcome=outcome_word(outcome))
        if summary.signed_at
        else _("%(outcome)s, closed and not signed yet", outcome=outcome_word(outcome))
    )
    return PracticalLine(title, url, outcome_sign(outcome), state, says)


def _facts(stored: StoredPractical, names: Mapping[UUID, str]) -> tuple[Fact, ...]:
    practical, task = stored.practical, stored.practical.task
    limit = (
        _("%(limit)g µm at any spot", limit=task.limit_um)
        if task.limit_um is not None
        else _("none: no removal")
    )
    return (
        Fact(_("Trainee"), names.get(practical.trainee_id, "–")),
        Fact(_("Supervisor"), names.get(practical.supervisor_id, "–")),
        Fact(_("Section"), stored.section_name),
        Fact(_("Counts as"), kind_word(practical.kind)),
        Fact(_("Limit"), limit),
    )


def _stage_line(practical: Practical, stage: Stage, recording: bool) -> StageLine:
    count = sum(step.stage is stage for step in practical.steps) if stage in practical.done else 0
    url = url_for("practicals.stage", practical_id=practical.id, stage=stage.value)
    if count and stage in ADDED_UP:
        state = ngettext("one step recorded", "%(num)s steps recorded", count)
        return StageLine(stage_word(stage), "right", state, "")
    if count:
        return StageLine(stage_word(stage), "right", _("recorded"), url if recording else "")
    if stage is practical.next_stage:
        return StageLine(stage_word(stage), "waiting", _("next"), url if recording else "")
    return StageLine(stage_word(stage), "other", _("not yet"), "")


def _next_action(practical: Practical) -> Link | None:
    stage = practical.next_stage
    if stage is None:
        return None
    url = url_for("practicals.stage", practical_id=practical.id, stage=stage.value)
    return Link(stage_word(stage), url)


def _more(practical: Practical) -> tuple[Link, ...]:
    """Return what may be recorded again before the readings after the work."""
    if not practical.working_steps or practical.after is not None:
        return ()
    words = {Stage.WORKING: _("Another working step"), Stage.TEST_SPOT: _("Another test spot")}
    if Stage.AFTER in practical.stages:
        words[Stage.BETWEEN] = _("Readings between steps")
    return tuple(
        Link(word, url_for("practicals.stage", practical_id=practical.id, stage=stage.value))
        for stage, word in words.items()
        if stage in practical.stages or stage is Stage.BETWEEN
    )


def _stopped(practical: Practical) -> tuple[Fact, ...]:
    if practical.stopped is None:
        return ()
    return (
        Fact(_("Stopped for safety"), stop_reason_word(practical.stopped.reason)),
        Fact(_("What it was"), practical.stopped.says),
    )


def _criteria(outcome: Judged | None) -> tuple[CriterionLine, ...]:
    if outcome is None:
        return ()
    return tuple(
        CriterionLine(
            item.criterion.text,
            item.criterion.critical,
            item.criterion.measured,
            "right" if item.met else "other",
            _("met") if item.met else _("not met"),
        )
        for item in outcome.criteria
    )


def _talk(practical: Practical) -> tuple[Fact, ...]:
    if practical.talk is None:
        return ()
    return (
        Fact(_("What went well"), practical.talk.went_well),
        Fact(_("The one thing to change"), practical.talk.change_next),
    )


def _meaning(meaning: str) -> str:
    return {Meaning.ASSESSED: _("assessed"), Meaning.AGREED: _("seen and agreed")}[Meaning(meaning)]


def _to_sign(
    stored: StoredPractical, names: Mapping[UUID, str], signed: bool, person_id: UUID
) -> str:
    """Return the name of the person who still signs, or nothing."""
    return "" if signed or stored.record is None else names.get(person_id, "–")
