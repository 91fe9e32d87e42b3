"""What a phone asks for when the network at the panel drops and comes back."""

from __future__ import annotations

from uuid import UUID

from flask import abort, current_app, jsonify, send_from_directory
from flask.typing import ResponseReturnValue
from flask_wtf.csrf import generate_csrf

from academy.domain.people import Permission
from academy.web.identity import requires, signed_in
from academy.web.practicals.blueprint import bp
from academy.web.practicals.one import practical_for


@bp.get("/<uuid:practical_id>/recorded")
@requires(Permission.ASSESS_PRACTICAL)
def recorded_steps(practical_id: UUID) -> ResponseReturnValue:
    """Say which steps are recorded, and give a fresh token to send further ones with."""
    stored = practical_for(signed_in(), practical_id)
    if stored.practical.supervisor_id != signed_in().person_id:
        abort(403)
    return jsonify(
        token=generate_csrf(),
        person=str(signed_in().person_id),
        version=stored.practical.version,
        recorded=[str(step.id) for step in stored.practical.steps],
    )


@bp.get("/offline-worker.js")
@requires(Permission.ASSESS_PRACTICAL)
def offline_worker() -> ResponseReturnValue:
    """Return the worker from an address whose pages it may keep."""
    folder = current_app.static_folder
    if folder is None:
        abort(404)
    answer = send_from_directory(folder, "js/offline-worker.js", mimetype="text/javascript")
    answer.headers["Service-Worker-Allowed"] = "/"  # it has to hear that somebody signs out
    return answer
