"""What can be decided now, and what is still missing for it."""

from __future__ import annotations

from datetime import date

from academy.domain.certification.evidence import Evidence
from academy.domain.certification.known import Known, ends, higher, lower
from academy.domain.certification.recertification import missing_to_renew, window_of
from academy.domain.certification.rules.decision import decide
from academy.domain.certification.standing import Missing, SupervisorsMissing
from academy.domain.curriculum.kinds import Supervision
from academy.domain.curriculum.schemes import Scheme


def missing_for_next(known: Known) -> tuple[Missing, ...]:
    """Return what is missing: different supervisors first, then what the next level asks."""
    rule = known.scheme.decision
    if rule is None or not rule.asked_at(known.shown.level):
        return known.shown.missing
    have = len(supervisors_of(known.scheme, known.evidence, known.shown.level))
    if rule.supervisors == 1 or have >= rule.supervisors:
        return known.shown.missing
    return (SupervisorsMissing(rule.supervisors, have), *known.shown.missing)


def missing_for_renewal(known: Known) -> tuple[Missing, ...] | None:
    """Return what recertification still asks; None while it is not due."""
    rule = known.scheme.recertification
    if rule is None or known.latest is None:
        return None
    if not window_of(rule, ends(known.latest)).holds(known.today):
        return None
    return missing_to_renew(known.scheme, known.latest, known.evidence)


def ready_for(known: Known) -> Supervision | None:
    """Return the highest level that can be decided now, for the first time or again.

    Nothing is decided while the certificate is suspended: re-assessment lifts that first.
    """
    if known.scheme.decision is None or decided_against(known):
        return None
    if known.register.suspensions_of(known.scheme.id):
        return None
    if any(isinstance(one, SupervisorsMissing) for one in missing_for_next(known)):
        return None
    ready = higher(_anew(known), _again(known))
    return ready if known.scheme.decision.asked_at(ready) else None


def decided_against(known: Known) -> bool:
    """Return whether it was decided against, and nothing was assessed since."""
    if known.refused is None:
        return False
    at = known.refused.decided_at
    sat = known.evidence.examinations.get(known.scheme.id, date.min)
    return sat <= at.date() and all(p.assessed_at <= at for p in known.evidence.practicals)


def supervisors_of(scheme: Scheme, evidence: Evidence, level: Supervision) -> frozenset[object]:
    """Return who assessed the practicals that a level and all below it rest on."""
    return frozenset(
        practical.supervisor_id
        for requirement in scheme.requirements
        if requirement.level.rank <= level.rank
        for task, rule in requirement.evidence.items()
        for practical in decide(rule, task, evidence.of_task(task)).rests_on
        if practical.supervisor_id is not None
    )


def _anew(known: Known) -> Supervision:
    """Return the level shown, where none as high is held."""
    held = known.held.level if known.held else Supervision.NOT_YET
    return known.shown.level if known.shown.level.rank > held.rank else Supervision.NOT_YET


def _again(known: Known) -> Supervision:
    """Return the level of the certificate that can be renewed."""
    if missing_for_renewal(known) != () or known.latest is None:
        return Supervision.NOT_YET
    return lower(known.latest.level, known.shown_once.level)
