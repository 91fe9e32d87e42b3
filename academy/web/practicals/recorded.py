"""What was recorded at the panel, in words, stage by stage."""

from __future__ import annotations

from dataclasses import dataclass

from academy.domain.practical.burn_through import what_it_is
from academy.domain.practical.record import Practical
from academy.domain.practical.steps import (
    Cooled,
    FirstLook,
    GaugeSeen,
    Inspection,
    Plan,
    SetUp,
    Step,
    TestSpot,
    TraineeMarks,
    WorkingStep,
)
from academy.domain.practical.technique import arm_speed_of
from academy.web.formats import sentence_text
from academy.web.language import gettext as _
from academy.web.parts import Fact
from academy.web.practicals.words import against_word, help_word, pressure_word, stage_word
from academy.web.times import when_words


@dataclass(frozen=True, slots=True)
class Said:
    """One recorded step: its heading, what was written down, and what follows from it."""

    heading: str
    facts: tuple[Fact, ...]
    says: tuple[str, ...] = ()


def recorded(practical: Practical, *, sacrificial: bool) -> tuple[Said, ...]:
    """Return everything recorded besides readings, criteria and talk, in order.

    Of a stage that was recorded again only the newest stands here; all of them
    are in the record.
    """
    newest = {step.stage: step for step in practical.steps}
    return tuple(
        said
        for step in practical.steps
        if (newest[step.stage] is step or isinstance(step.body, TestSpot | WorkingStep))
        and (said := _said(practical, step, sacrificial)) is not None
    )


def _said(practical: Practical, step: Step, sacrificial: bool) -> Said | None:
    heading = stage_word(step.stage)
    match step.body:
        case FirstLook(light, sees, _pictures):
            return Said(heading, (Fact(_("Light"), light), Fact(_("What was on it"), sees)))
        case GaugeSeen() as gauge:
            return Said(heading, (Fact(_("Verification shown"), _gauge(gauge)),))
        case SetUp() as set_up:
            return Said(heading, _set_up(set_up))
        case Plan() as plan:
            return Said(heading, _plan(plan))
        case TestSpot(tried, shows, enough):
            facts = (
                *_work(tried),
                Fact(_("What it showed"), shows),
                Fact(_("Enough"), _("yes") if enough else _("no, one thing is changed")),
            )
            return Said(heading, facts, _follows(practical, tried, sacrificial))
        case WorkingStep() as worked:
            speed = sentence_text(arm_speed_of(worked))
            return Said(
                _("Working step"), _work(worked), (speed, *_follows(practical, worked, sacrificial))
            )
        case TraineeMarks(sees, against):
            return Said(heading, _seen(_("The trainee saw"), sees, against_word(against)))
        case Inspection(_first, sees, against):
            beside = against_word(against) if against else "–"
            return Said(heading, _seen(_("The supervisor saw"), sees, beside))
        case Cooled(waited_min, panel_c):
            warm = f"{panel_c} °C" if panel_c is not None else "–"
            facts = (Fact(_("Left to cool"), f"{waited_min} min"), Fact(_("Panel"), warm))
            return Said(heading, facts)
    return None


def _gauge(seen: GaugeSeen) -> str:
    if seen.verified_at is None:
        return _("none that day")
    passed = _("passed") if seen.passed else _("failed")
    return f"{when_words(seen.verified_at)}, {passed}"


def _set_up(set_up: SetUp) -> tuple[Fact, ...]:
    facts = [Fact(_("Present"), str(len(set_up.present)))]
    facts += [
        Fact(_("Does not apply"), f"{check}: {why}") for check, why in set_up.not_applying.items()
    ]
    if set_up.foil:
        says = _(
            "%(reading)s µm on %(certified)s µm, within ±%(allowed).1f µm",
            reading=set_up.foil.reading_um,
            certified=set_up.foil.certified_um,
            allowed=set_up.foil.allowed_um,
        )
        facts.append(Fact(_("Foil"), says))
    return tuple(facts)


def _plan(plan: Plan) -> tuple[Fact, ...]:
    facts = [Fact(_("The trainee's plan"), plan.says)]
    if plan.expected_um is not None:
        expected = f"{plan.expected_um} ± {plan.give_or_take_um} µm"
        facts.append(Fact(_("Removal expected"), expected))
    return tuple(facts)


def _work(step: WorkingStep) -> tuple[Fact, ...]:
    return (
        Fact(_("Set-up"), ", ".join((step.machine, step.pad, step.abrasive, step.dial))),
        Fact(
            _("Work"),
            _(
                "%(passes)d passes, %(minutes)d min %(seconds)d s, pressure %(pressure)s",
                passes=step.passes,
                minutes=step.seconds // 60,
                seconds=step.seconds % 60,
                pressure=pressure_word(step.pressure),
            ),
        ),
        Fact(_("Help given"), help_word(step.help_given)),
    )


def _seen(heading: str, sees: str, beside: str) -> tuple[Fact, ...]:
    return (Fact(heading, sees), Fact(_("Beside the reference panel"), beside))


def _follows(practical: Practical, step: WorkingStep, sacrificial: bool) -> tuple[str, ...]:
    says = []
    if step.colour_on_pad:
        says.append(_("Colour came on the pad or the towel."))
    if step.struck_through:
        says.append(sentence_text(what_it_is(practical.kind, sacrificial=sacrificial)))
    return tuple(says)
