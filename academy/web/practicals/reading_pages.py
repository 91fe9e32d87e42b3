"""The page on which a round of readings is typed, spoken by a gauge, or pasted."""

from __future__ import annotations

from statistics import median

from flask import abort, url_for
from flask.typing import ResponseReturnValue
from werkzeug.datastructures import MultiDict

from academy.domain.people import Permission
from academy.domain.practical.stages import READ, Stage
from academy.domain.practical.steps import Readings
from academy.services.gauge_trust import why_not_read
from academy.store.queries.cutting import section_known
from academy.store.queries.practicals import StoredPractical
from academy.web.context import clock, course, db
from academy.web.forms import as_typed, error_text
from academy.web.identity import requires, signed_in
from academy.web.language import gettext as _
from academy.web.pages import render
from academy.web.parts import Choosable, Filled
from academy.web.practicals.blueprint import bp
from academy.web.practicals.pasting import pasted_into
from academy.web.practicals.readings import empty_readings, left_out_reasons, typed_readings
from academy.web.practicals.stage_pages import AtThePanel, BenchSheetPage, ReadingsPage
from academy.web.practicals.words import stage_word

USUAL_UM = 110.0  # common practice, no source: a factory panel, where nothing has been read yet


def readings_page(
    stored: StoredPractical,
    panel: AtThePanel,
    sent: MultiDict[str, str] | None,
    form: Filled,
) -> ReadingsPage:
    """Return the readings form: empty, as typed, with a pasted column, or to be added to."""
    task, note, fault = stored.practical.task, "", form.faults.get("", "")
    if sent is None:
        typed = empty_readings(task, _taken(stored, panel.stage))
    else:
        typed = typed_readings(task, sent, gauge_sd_um(stored))
        if "understand" in sent:
            pasted = pasted_into(typed.fields, sent)
            sent, note = pasted.sent, pasted.says if pasted.understood else ""
            fault = "" if pasted.understood else pasted.says
            typed = typed_readings(task, sent, gauge_sd_um(stored))
    return ReadingsPage(
        panel=panel,
        title=stage_word(panel.stage),
        spots=tuple(typed.of_spot(spot) for spot in range(1, task.spots + 1)),
        reasons=tuple(Choosable(reason, reason) for reason in left_out_reasons()),
        why=tuple(typed.reasons.get(spot, "") for spot in range(1, task.spots + 1)),
        faults=typed.faults if sent is not None and not note else 0,
        fault=fault or _why_not_read(stored),
        note=note,
        says=_(
            "Read each of the %(spots)d marked spots %(readings)d times or more, lifting the"
            " probe each time. One reading is the whole film down to the metal.",
            spots=task.spots,
            readings=task.readings_per_spot,
        ),
        form=Filled(as_typed(sent) if sent else {}),
        photographs=len(stored.pictures_of(panel.stage)) if panel.stage in READ else 0,
        usual_um=f"{_usual_um(stored):.1f}",
        decimals=_decimals(stored),
        sheet_url=url_for("practicals.bench_sheet", task_id=task.id),
    )


@bp.get("/bench-sheet/<task_id>")
@requires(Permission.ASSESS_PRACTICAL)
def bench_sheet(task_id: str) -> ResponseReturnValue:
    """Show the blank sheet of a task, to print and to write on at the panel."""
    task = course().task(task_id)
    if task is None or not task.spots:
        abort(404)
    rounds = [_("Before")] + ([_("After")] if task.limit_um is not None else [])
    return render(
        BenchSheetPage(
            title=_("Bench sheet: %(task)s", task=task.title),
            rounds=tuple(rounds),
            spots=tuple(range(1, task.spots + 1)),
            boxes=tuple(range(1, task.readings_per_spot + 2)),
            limit=f"{task.limit_um:g} µm" if task.limit_um is not None else "–",
        )
    )


def gauge_sd_um(stored: StoredPractical) -> float | None:
    """Return the repeatability of a practical's gauge, a standard deviation."""
    return float(stored.gauge.repeatability_um) if stored.gauge else None


def _taken(stored: StoredPractical, stage: Stage) -> Readings | None:
    """Return the round that stands, so that more readings can be added to it."""
    practical = stored.practical
    if stage not in practical.done:
        return None
    return {Stage.BEFORE: practical.before, Stage.AFTER: practical.after}.get(stage)


def _usual_um(stored: StoredPractical) -> float:
    """Return about what this section reads, from what it or its neighbours read before."""
    practical = stored.practical
    read = practical.newest_readings
    known = section_known(db(), signed_in().shop_id, stored.section_id)
    read = read or (known.first if known else None)
    if read is not None:
        return median(float(value) for spot in read.spots for value in spot.readings_um)
    return (known.neighbours_um if known else None) or USUAL_UM


def _decimals(stored: StoredPractical) -> int:
    """Return how many decimals the gauge shows."""
    if stored.gauge is None:
        return 1
    exponent = stored.gauge.resolution_um.normalize().as_tuple().exponent
    return min(max(-exponent, 0), 2) if isinstance(exponent, int) else 1


def _why_not_read(stored: StoredPractical) -> str:
    """Return why the gauge is not read with now: said before anybody takes forty readings."""
    refusal = why_not_read(db(), signed_in().shop_id, stored, clock())
    return error_text(refusal) if refusal else ""
