"""Whether the decisions of a scenario hang together."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from academy.domain.curriculum.findings import Finding, Subject, error
from academy.domain.curriculum.questions import Decision, PanelState, Question
from academy.domain.curriculum.scenario import panel_after

FULL_MARKS_PERCENT = 100


def graph_findings(question: Question) -> Iterator[Finding]:
    """Yield what is wrong with a scenario's decisions, marks and panel."""
    known = {decision.id: decision for decision in question.decisions}
    dangling = list(_unknown_followers(question, known))
    yield from dangling
    cycle = _cycle(question.decisions[0], known, ()) if question.decisions else None
    if cycle:
        yield error(
            Subject("question", question.id, f"decision {cycle[0]}"),
            "the decisions go round in a circle: %(circle)s",
            circle=" -> ".join(cycle),
        )
    keyless = [d for d in question.decisions if d.key not in d.effects]
    if cycle or dangling or keyless or not question.decisions:
        return
    yield from _unreached(question, known)
    yield from _marks(question, known)
    yield from _panel(question)


def most_marks(decision: Decision, known: Mapping[str, Decision]) -> int:
    """Return the most percent that any path from here on can earn (no cycles)."""
    return max(
        effect.marks + (most_marks(known[effect.follows], known) if effect.follows else 0)
        for effect in decision.effects.values()
    )


def _unknown_followers(question: Question, known: Mapping[str, Decision]) -> Iterator[Finding]:
    for decision in question.decisions:
        for number, effect in decision.effects.items():
            if effect.follows is not None and effect.follows not in known:
                yield error(
                    Subject("question", question.id, f"effect {decision.id} {number}"),
                    "option %(option)s of %(decision)s is followed by %(follows)s, "
                    "which is not a decision of this scenario",
                    option=number,
                    decision=decision.id,
                    follows=effect.follows,
                )


def _cycle(
    decision: Decision, known: Mapping[str, Decision], trail: tuple[str, ...]
) -> tuple[str, ...] | None:
    if decision.id in trail:
        return (*trail[trail.index(decision.id) :], decision.id)
    for effect in decision.effects.values():
        following = known.get(effect.follows) if effect.follows else None
        found = _cycle(following, known, (*trail, decision.id)) if following else None
        if found:
            return found
    return None


def _unreached(question: Question, known: Mapping[str, Decision]) -> Iterator[Finding]:
    reached: set[str] = set()
    open_ids = [question.decisions[0].id]
    while open_ids:
        decision_id = open_ids.pop()
        if decision_id not in reached:
            reached.add(decision_id)
            effects = known[decision_id].effects.values()
            open_ids += [effect.follows for effect in effects if effect.follows]
    for decision_id in known:
        if decision_id not in reached:
            yield error(
                Subject("question", question.id, f"decision {decision_id}"),
                "no path reaches the decision %(decision)s",
                decision=decision_id,
            )


def _marks(question: Question, known: Mapping[str, Decision]) -> Iterator[Finding]:
    subject = Subject("question", question.id, "decisions")
    best = _marks_along_keys(question, known)
    if best != FULL_MARKS_PERCENT:
        yield error(
            subject,
            "the marks along the path of the keys add up to %(marks)s, not to 100",
            marks=best,
        )
    most = most_marks(question.decisions[0], known)
    if most > FULL_MARKS_PERCENT:
        yield error(
            subject, "a path through this scenario earns %(marks)s, more than 100", marks=most
        )


def _marks_along_keys(question: Question, known: Mapping[str, Decision]) -> int:
    marks = 0
    decision: Decision | None = question.decisions[0]
    while decision is not None:
        effect = decision.effects[decision.key]
        marks += effect.marks
        decision = known[effect.follows] if effect.follows else None
    return marks


def _panel(question: Question) -> Iterator[Finding]:
    panel = question.panel or PanelState()
    for decision in question.decisions:
        for number, effect in decision.effects.items():
            given = {
                "thickness_um": effect.removed_um and panel.thickness_um is None,
                "temperature_c": effect.warms_k and panel.temperature_c is None,
                "minutes": effect.takes_minutes and panel.minutes is None,
            }
            for name, missing in given.items():
                if missing:
                    yield error(
                        Subject("question", question.id, f"effect {decision.id} {number}"),
                        "this option changes %(name)s, which the panel does not give",
                        name=name,
                    )
    if panel.thickness_um is not None:
        yield from _worn_through(question, panel)


def _worn_through(question: Question, panel: PanelState) -> Iterator[Finding]:
    heaviest = [
        max(decision.effects.values(), key=lambda effect: effect.removed_um)
        for decision in question.decisions
    ]
    left_um = panel_after(panel, heaviest).thickness_um
    if left_um is not None and left_um < 0:
        yield error(
            Subject("question", question.id, "panel"),
            "the decisions can take off more than the panel has: %(left)g micrometres left",
            left=left_um,
        )
