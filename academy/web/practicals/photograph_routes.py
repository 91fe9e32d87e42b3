"""Photographs of a practical: encoded anew, kept, and shown to who may see it."""

from __future__ import annotations

from uuid import UUID, uuid4

from flask import Response, abort, flash, redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.domain.people import Permission
from academy.domain.practical.stages import Stage
from academy.domain.sentences import TradeError
from academy.files.photographs import NotAPhotograph
from academy.services import practical as service
from academy.web.context import academy, clock, unit_of_work
from academy.web.forms import error_text
from academy.web.identity import requires, signed_in
from academy.web.language import gettext as _
from academy.web.practicals.blueprint import bp
from academy.web.practicals.forms import PhotographForm
from academy.web.practicals.one import practical_for
from academy.web.practicals.words import stage_word

MOST_AT_ONCE = 6


@bp.post("/<uuid:practical_id>/photographs")
@requires(Permission.ASSESS_PRACTICAL)
def add_photograph(practical_id: UUID) -> ResponseReturnValue:
    """Keep a photograph, encoded anew, and put it into the practical."""
    practical_for(signed_in(), practical_id)
    form, file = PhotographForm.of(request.form), request.files.get("photograph")
    try:
        kept = academy().photographs.keep(file.read() if file else b"")
        _add(practical_id, form.photograph_id, kept.digest, form.caption, None)
        flash(_("The photograph is kept."))
    except (NotAPhotograph, TradeError) as fault:
        flash(error_text(fault))
    return redirect(url_for("practicals.practical", practical_id=practical_id), code=303)


@bp.get("/<uuid:practical_id>/photographs/<uuid:photograph_id>")
@requires(Permission.READ_PRACTICAL)
def photograph(practical_id: UUID, photograph_id: UUID) -> ResponseReturnValue:
    """Return a photograph of a practical one may see."""
    stored = practical_for(signed_in(), practical_id)
    found = next((p for p in stored.photographs if p.id == photograph_id), None)
    if found is None:
        abort(404)
    try:
        return Response(academy().photographs.read(found.digest), mimetype="image/jpeg")
    except FileNotFoundError:
        abort(404)


def keep_pictures(practical_id: UUID, stage: Stage) -> None:
    """Keep the photographs sent with a stage's form; one that is there already is not doubled.

    Raises
    ------
    NotAPhotograph
        A file is no picture; those before it are kept.
    """
    files = [file for file in request.files.getlist("photograph") if file.filename]
    there = set(practical_for(signed_in(), practical_id).pictures_of(stage))
    for file in files[:MOST_AT_ONCE]:
        kept = academy().photographs.keep(file.read())
        if kept.digest not in there:
            there.add(kept.digest)
            _add(practical_id, uuid4(), kept.digest, stage_word(stage), stage)


def _add(
    practical_id: UUID, photograph_id: UUID, digest: str, caption: str, stage: Stage | None
) -> None:
    with unit_of_work() as session:
        service.add_photograph(
            session,
            actor=signed_in(),
            practical_id=practical_id,
            photograph_id=photograph_id,
            digest=digest,
            caption=caption,
            stage=stage,
            now=clock(),
        )
