"""A certificate as a page and a print: what it says, and what it is not."""

from __future__ import annotations

from uuid import UUID

from flask.typing import ResponseReturnValue

from academy.domain.curriculum.kinds import Supervision
from academy.domain.people import Permission
from academy.services import certificates
from academy.services.standing import person_on
from academy.web.certification.blueprint import bp
from academy.web.certification.pages import CertificatePage
from academy.web.certification.words import level_word, status_sign, status_word
from academy.web.context import course, db
from academy.web.identity import anybody, requires, signed_in
from academy.web.language import day_text
from academy.web.language import gettext as _
from academy.web.pages import render
from academy.web.parts import Fact
from academy.web.times import shop_day, today


@bp.get("/certificates/<uuid:decision_id>")
@requires(Permission.STUDY)
def certificate_of(decision_id: UUID) -> ResponseReturnValue:
    """Show a certificate to its holder and to who may see the board."""
    found = certificates.certificate(db(), actor=signed_in(), decision_id=decision_id)
    person = person_on(db(), signed_in().shop_id, found.row.person_id, course(), today())
    now = person.under(found.scheme)
    reader = anybody()
    return render(
        CertificatePage(
            holder=found.holder,
            scheme_title=found.scheme.title,
            scheme_html=found.scheme.body_html,
            shop_name=reader.row.shop_name if reader else "",
            sign=status_sign(now),
            word=status_word(now),
            level=level_word(found.row.level),
            meaning=meaning_of(found.row.level),
            facts=_facts(found),
            one_person=found.row.by_trainer,
            number=str(found.row.id),
            digest=found.scheme.digest[:12],
        )
    )


def meaning_of(level: Supervision) -> str:
    """Return in a sentence what a level lets its holder do."""
    return {
        Supervision.NOT_YET: "",
        Supervision.BESIDE: _("may do this work with a supervisor standing beside"),
        Supervision.ON_SITE: _("may do this work while a supervisor is on site"),
        Supervision.ALONE: _("may do this work alone"),
    }[level]


def _facts(found: certificates.Certificate) -> tuple[Fact, ...]:
    last = found.last_assessed_on
    assert found.row.valid_until is not None
    return (
        Fact(_("Issued"), day_text(shop_day(found.row.decided_at))),
        Fact(_("Last day"), day_text(found.row.valid_until)),
        Fact(_("Last assessed work"), day_text(last) if last else _("none")),
        Fact(_("Trained by"), ", ".join(found.trained_by) or _("nobody recorded")),
        Fact(_("Assessed by"), ", ".join(found.assessed_by) or _("nobody recorded")),
        Fact(_("Decided by"), found.row.decided_by_name),
        Fact(_("Scheme version"), str(found.scheme.version)),
    )
