"""A working step: one tap on a saved set-up, or the same again with one thing changed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from uuid import UUID

from flask import request
from werkzeug.datastructures import MultiDict

from academy.domain.practical.stages import Stage
from academy.domain.practical.steps import TestSpot, WorkingStep
from academy.store.queries.practicals import StoredPractical
from academy.store.queries.tools import SetUpRow, set_ups
from academy.web.context import db
from academy.web.exposure_notice import exposure_notice
from academy.web.forms import FormRefused, as_typed
from academy.web.identity import signed_in
from academy.web.language import gettext as _
from academy.web.parts import Choosable, Filled
from academy.web.practicals.cutting import cutting_again
from academy.web.practicals.stage_input import TestSpotForm, WorkForm
from academy.web.practicals.stage_pages import AtThePanel, WorkPage
from academy.web.practicals.words import helps, pressures

SAME, TYPED = "same", "typed"


@dataclass(frozen=True, slots=True)
class Kit:
    """What a step is worked with."""

    machine: str = ""
    pad: str = ""
    abrasive: str = ""
    dial: str = ""
    pad_mm: int | None = None
    set_up_id: UUID | None = None


def working_step_of(stored: StoredPractical, sent: MultiDict[str, str]) -> WorkingStep:
    """Return the working step a form says."""
    return _step(stored, WorkForm.of(sent), sent)


def test_spot_of(stored: StoredPractical, sent: MultiDict[str, str]) -> TestSpot:
    """Return the test spot a form says."""
    form = TestSpotForm.of(sent)
    return TestSpot(_step(stored, form, sent), form.shows, form.enough == "yes")


def work_page(stored: StoredPractical, panel: AtThePanel, form: Filled) -> WorkPage:
    """Return the form of a test spot or a working step, with the last one to repeat."""
    practical, test_spot = stored.practical, panel.stage is Stage.TEST_SPOT
    choices = _choices(stored)
    filled = form if form.typed or form.faults else _as_last(stored)
    done = len(practical.test_spots if test_spot else practical.working_steps)
    return WorkPage(
        panel=panel,
        form=filled,
        title=_("Test spot") if test_spot else _("Working step"),
        test_spot=test_spot,
        number=done + 1,
        cutting=cutting_again(stored),
        set_ups=(*choices, Choosable(TYPED, _("another set-up"), _("type it below"))),
        typed=not choices or filled.typed.get("set_up") == TYPED,
        pressures=pressures(),
        helps=helps(),
        exposure=exposure_notice(practical.trainee_id),
    )


def _choices(stored: StoredPractical) -> tuple[Choosable, ...]:
    last = _last(stored)
    again = (Choosable(SAME, _("the same again"), _kit_words(_kit_of(last))),) if last else ()
    return again + tuple(
        Choosable(str(row.id), row.label, _kit_words(_kit_saved(row))) for row in _saved()
    )


def _step(stored: StoredPractical, form: WorkForm, sent: MultiDict[str, str]) -> WorkingStep:
    kit = _chosen(stored, form)
    worked_with = {
        "machine": form.machine or kit.machine,
        "pad": form.pad or kit.pad,
        "abrasive": form.abrasive or kit.abrasive,
        "dial": form.dial or kit.dial,
    }
    missing = {name: _("Fill this in") for name, value in worked_with.items() if not value}
    if missing:
        raise FormRefused(Filled(as_typed(sent), _where_to_choose(missing, form)))
    return WorkingStep(
        **worked_with,
        passes=form.passes,
        seconds=form.minutes * 60 + form.seconds,
        pressure=form.pressure,
        help_given=form.help_given,
        set_up_id=None if _changed(form, kit) else kit.set_up_id,
        pad_mm=form.pad_mm or kit.pad_mm,
        colour_on_pad=bool(form.colour_on_pad),
        struck_through=bool(form.struck_through),
    )


def _where_to_choose(missing: Mapping[str, str], form: WorkForm) -> dict[str, str]:
    """Say at the set-ups that none was chosen, where nothing at all was typed."""
    if len(missing) == 4 and form.set_up != TYPED:
        return {"set_up": _("Choose a set-up, or type what is used")}
    return dict(missing)


def _chosen(stored: StoredPractical, form: WorkForm) -> Kit:
    last = _last(stored)
    if form.set_up == SAME and last:
        return _kit_of(last)
    row = next((row for row in _saved() if str(row.id) == form.set_up), None)
    return _kit_saved(row) if row else Kit()


def _changed(form: WorkForm, kit: Kit) -> bool:
    typed = (form.machine, form.pad, form.abrasive, form.dial)
    return any(
        new and new != old
        for new, old in zip(typed, (kit.machine, kit.pad, kit.abrasive, kit.dial), strict=True)
    )


def _saved() -> tuple[SetUpRow, ...]:
    return tuple(set_ups(db(), signed_in().shop_id))


def _last(stored: StoredPractical) -> WorkingStep | None:
    done = stored.practical.machine_work
    return done[-1] if done else None


def _kit_saved(row: SetUpRow) -> Kit:
    return Kit(row.machine, row.pad, row.abrasive, row.dial, row.pad_mm or row.plate_mm, row.id)


def _kit_of(step: WorkingStep) -> Kit:
    return Kit(step.machine, step.pad, step.abrasive, step.dial, step.pad_mm, step.set_up_id)


def _kit_words(kit: Kit) -> str:
    return ", ".join((kit.machine, kit.pad, kit.abrasive, kit.dial))


def _as_last(stored: StoredPractical) -> Filled:
    """Return the form with the last step's passes and pressure, to change one thing."""
    last, scanned = _last(stored), request.args.get("set_up", "")
    if scanned:  # from the label of a set-up
        return Filled({"set_up": scanned})
    if last is None:
        return Filled({} if _saved() else {"set_up": TYPED})
    filled = {"set_up": SAME, "passes": str(last.passes), "pressure": last.pressure.value}
    return Filled(filled)
