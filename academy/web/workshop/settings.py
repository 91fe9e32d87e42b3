"""What the owner decides for the workshop."""

from __future__ import annotations

from flask import flash, redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.domain.exposure.legal import UnknownCountry
from academy.domain.people import Permission
from academy.domain.workshop.policy import ShopPolicy, UnknownTimeZone
from academy.services import shop_settings
from academy.store.queries.shop_settings import policy
from academy.web.context import clock, db, unit_of_work
from academy.web.forms import FormRefused, refused
from academy.web.identity import requires, signed_in
from academy.web.language import gettext as _
from academy.web.pages import render
from academy.web.parts import Filled
from academy.web.workshop import words
from academy.web.workshop.blueprint import bp
from academy.web.workshop.forms import SettingsForm
from academy.web.workshop.pages import SettingsPage


@bp.get("/workshop/settings")
@requires(Permission.WRITE_SETTINGS)
def settings() -> ResponseReturnValue:
    """Show the owner's figures."""
    now = policy(db(), signed_in().shop_id)
    typed = {
        "time_zone": now.time_zone,
        "combine": now.combine.value,
        "remeasure_days": str(now.remeasure_days),
        "car_cap_um": str(now.car_cap_um),
        "car_floor_um": str(now.car_floor_um),
        "country": now.country,
    }
    return render(_page(Filled(typed)))


@bp.post("/workshop/settings")
@requires(Permission.WRITE_SETTINGS)
def change_settings() -> ResponseReturnValue:
    """Set the owner's figures."""
    try:
        form = SettingsForm.of(request.form)
        with unit_of_work() as session:
            shop_settings.change_settings(
                session, actor=signed_in(), settings=ShopPolicy(**form.model_dump()), now=clock()
            )
    except FormRefused as fault:
        return render(_page(fault.filled), 422)
    except UnknownTimeZone as fault:
        return render(_page(refused(request.form, fault, "time_zone")), 422)
    except UnknownCountry as fault:
        return render(_page(refused(request.form, fault, "country")), 422)
    flash(_("The settings hold from now on."))
    return redirect(url_for("workshop.overview"), code=303)


def _page(form: Filled) -> SettingsPage:
    return SettingsPage(form, words.combinations(), words.countries())
