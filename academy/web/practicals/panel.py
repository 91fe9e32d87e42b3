"""What a practical's page shows: everything recorded so far and what comes next."""

from __future__ import annotations

from collections.abc import Mapping
from uuid import UUID, uuid4

from flask import url_for

from academy.domain.curriculum.course import Course
from academy.domain.practical.outcome import Judged, judged, measured_of
from academy.domain.practical.record import Practical
from academy.domain.practical.stages import ADDED_UP, Stage
from academy.services.actor import Actor
from academy.store.queries.gauges import SuspectPractical
from academy.store.queries.practicals import PracticalSummary, StoredPractical
from academy.web.doubts import doubt_says
from academy.web.formats import sentence_text
from academy.web.language import day_text, ngettext
from academy.web.language import gettext as _
from academy.web.parts import Fact, Filled, Link
from academy.web.practicals.after_closing import AfterClosing
from academy.web.practicals.doubt_pages import NO_DOUBT, DoubtShown
from academy.web.practicals.pages import PracticalLine, PracticalPage, StageLine
from academy.web.practicals.record_cards import CriterionLine, criteria_lines, talk_facts
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

EMPTY: Filled = Filled()


def practical_page(
    stored: StoredPractical,
    actor: Actor,
    names: Mapping[UUID, str],
    course: Course,
    close_form: Filled = EMPTY,
    open_here: tuple[OpenHere, ...] = (),
    doubt: DoubtShown = NO_DOUBT,
    after: AfterClosing | None = None,
    blind_url: str = "",
) -> PracticalPage:
    """Return the page of one practical for one reader.

    What lies beside it, other practicals at the panel, a doubt about its gauge
    and what followed its closing, is looked up by whoever knows a shop; the
    preview knows none.  Whoever could judge it again, blind, does not see how
    it was judged.
    """
    practical, task = stored.practical, stored.practical.task
    mine = actor.person_id == practical.supervisor_id
    recording = mine and practical.closed_at is None
    outcome = judged(practical, stored.gauge) if practical.judgement or practical.stopped else None
    shown = measured_of(practical, stored.gauge)
    if blind_url:
        outcome = None
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
        criteria=_criteria(practical, outcome) if practical.judgement else (),
        outcome_sign=outcome_sign(outcome.outcome) if outcome else "",
        outcome=outcome_word(outcome.outcome) if outcome else "",
        talk=() if blind_url else talk_facts(practical.talk),
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
        close_form=close_form,
        after=after,
        blind_url=blind_url,
    )


def practical_line(
    summary: PracticalSummary, doubt: SuspectPractical | None, *, blind: bool = False
) -> PracticalLine:
    """Return one practical in a list, in words, with the doubt about its gauge if there is one.

    ``blind`` leaves out how it was judged.
    """
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
    if blind:
        return PracticalLine(title, url, "waiting", _("waits to be judged again"), says)
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


def _criteria(practical: Practical, outcome: Judged | None) -> tuple[CriterionLine, ...]:
    if outcome is None:
        return ()
    return criteria_lines(
        practical.task, {item.criterion.id: item.met for item in outcome.criteria}
    )
