"""One practical: the loader every address goes through, and its page."""

from __future__ import annotations

from uuid import UUID

from flask import abort

from academy.domain.people import Permission
from academy.services.actor import Actor
from academy.store.queries import people as people_queries
from academy.store.queries import practicals as queries
from academy.store.queries.practicals import StoredPractical
from academy.web.context import course, db
from academy.web.identity import signed_in
from academy.web.pages import Page
from academy.web.parts import Filled
from academy.web.practicals.after_closing import after_closing, waits_blind
from academy.web.practicals.doubt_pages import doubt_shown
from academy.web.practicals.panel import practical_page
from academy.web.practicals.stage_views import open_here


def practical_for(actor: Actor, practical_id: UUID) -> StoredPractical:
    """Return a practical this person may see; missing and not yours are both 404."""
    stored = queries.stored_practical(db(), actor.shop_id, practical_id)
    if stored is None:
        abort(404)
    own = actor.person_id in {stored.practical.trainee_id, stored.practical.supervisor_id}
    if not own and not actor.may(Permission.READ_BOARD):
        abort(404)
    return stored


def shown_practical(stored: StoredPractical, close_form: Filled | None = None) -> Page:
    """Return the page of a practical for who is signed in."""
    people = [stored.practical.trainee_id, stored.practical.supervisor_id]
    blind_url = waits_blind(stored, signed_in())
    return practical_page(
        stored,
        signed_in(),
        dict(people_queries.names(db(), people)),
        course(),
        close_form or Filled(),
        open_here(stored.practical),
        doubt_shown(stored, signed_in()),
        None if blind_url else after_closing(stored, signed_in()),
        blind_url,
    )
