"""Scenarios: how a decision changes the panel, and which paths lead through one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from academy.domain.curriculum.questions import Decision, Effect, PanelState, Question


@dataclass(frozen=True, slots=True)
class Step:
    """One decision as it was taken; ``panel`` is the panel after it."""

    decision: Decision
    chosen: int
    effect: Effect
    panel: PanelState


@dataclass(frozen=True, slots=True)
class Path:
    """A way through a scenario.

    ``marks_percent`` is clamped to 0..100.  ``ended`` is false while a
    decision is still open; ``next_decision`` is that decision.
    """

    steps: tuple[Step, ...]
    marks_percent: int
    panel: PanelState
    next_decision: Decision | None

    @property
    def ended(self) -> bool:
        """Return whether the situation has come to its end."""
        return self.next_decision is None


def panel_after(panel: PanelState, effects: Sequence[Effect]) -> PanelState:
    """Return the panel after the effects, in their order.

    A quantity the author left out of the panel stays out.  Micrometres are
    taken off, kelvin and minutes are added, the newest finish stands.
    """
    for effect in effects:
        panel = replace(
            panel,
            thickness_um=_sum(panel.thickness_um, -effect.removed_um),
            temperature_c=_sum(panel.temperature_c, effect.warms_k),
            minutes=_sum(panel.minutes, effect.takes_minutes),
            finish=panel.finish if effect.finish is None else effect.finish,
        )
    return panel


def best_path(question: Question) -> Path:
    """Return the path of a scenario that follows each decision's key."""
    return _path(question, {decision.id: decision.key for decision in question.decisions})


def path_taken(question: Question, choices: Mapping[str, int]) -> Path:
    """Return the path of the choices made so far (decision id -> option number).

    A choice for a decision the path never reaches, or for an option the
    decision does not have, does not count.
    """
    return _path(question, choices)


def every_path(decisions: Sequence[Decision]) -> Iterator[tuple[tuple[str, int], ...]]:
    """Yield each way through as (decision id, option number) pairs.

    Only for graphs without a cycle; see ``graph.graph_findings``.
    """
    known = {decision.id: decision for decision in decisions}
    if decisions:
        yield from _onwards(decisions[0], known)


def changes_numbers(question: Question) -> bool:
    """Return whether some decision changes a number of the panel."""
    return any(
        effect.removed_um or effect.warms_k or effect.takes_minutes
        for decision in question.decisions
        for effect in decision.effects.values()
    )


def _sum(value: float | None, change: float) -> float | None:
    # Tenths of a micrometre added up in binary leave tails such as 109.60000000000001.
    return None if value is None else round(value + change, 6)


def _path(question: Question, choices: Mapping[str, int]) -> Path:
    known = {decision.id: decision for decision in question.decisions}
    panel = question.panel or PanelState()
    decision = question.decisions[0] if question.decisions else None
    steps: list[Step] = []
    while decision is not None and len(steps) < len(known):
        chosen = choices.get(decision.id)
        effect = None if chosen is None else decision.effects.get(chosen)
        if chosen is None or effect is None:
            break
        panel = panel_after(panel, [effect])
        steps.append(Step(decision, chosen, effect, panel))
        decision = known.get(effect.follows) if effect.follows else None
    marks = sum(step.effect.marks for step in steps)
    return Path(tuple(steps), min(100, max(0, marks)), panel, decision)


def _onwards(
    decision: Decision, known: Mapping[str, Decision]
) -> Iterator[tuple[tuple[str, int], ...]]:
    for number, effect in decision.effects.items():
        here = (decision.id, number)
        following = known.get(effect.follows) if effect.follows else None
        if following is None:
            yield (here,)
        else:
            for rest in _onwards(following, known):
                yield (here, *rest)
