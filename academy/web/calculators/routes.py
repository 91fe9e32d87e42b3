"""The calculators: what the platform teaches, shows and decides by, computed for anybody.

There is no state: the inputs stand in the address, so a link keeps them.
"""

from __future__ import annotations

import json
import shlex
from collections.abc import Mapping
from urllib.parse import urlencode

from flask import Blueprint, abort, request, url_for
from flask.typing import ResponseReturnValue

from academy.calculations import CALCULATIONS, CATALOGUE, Answer, NotComputable, run
from academy.calculations.examples import EXAMPLES
from academy.calculations.offered import GROUPS, OFFERED
from academy.calculations.query import flat_texts
from academy.domain.people import Permission
from academy.web.calculators.controls import controls_of, defaults_of
from academy.web.calculators.faults import in_plain_names, query_faults
from academy.web.calculators.fields import Field, fields_of
from academy.web.calculators.measures import UnitSystem
from academy.web.calculators.pages import (
    CalculatorGroup,
    CalculatorPage,
    CalculatorsPage,
    CommandLineOnly,
    Computed,
)
from academy.web.calculators.reading import (
    Reading,
    carried_over,
    control_names,
    read_query,
)
from academy.web.calculators.results import shown_results, spot_table
from academy.web.formats import sentence_text
from academy.web.identity import requires
from academy.web.language import gettext as _
from academy.web.pages import render
from academy.web.parts import Filled, Link, Listed

bp = Blueprint("calculators", __name__, url_prefix="/calculators")

UNITS, MORE = "units", "more"


@bp.get("/")
@requires(Permission.USE_CALCULATORS)
def overview() -> ResponseReturnValue:
    """List the calculators by what a person does."""
    return render(
        CalculatorsPage(
            groups=tuple(
                CalculatorGroup(
                    f"group-{number}",
                    _(group.title),
                    tuple(
                        Listed(
                            _(title), url_for(".show", name=name), _sentence(CATALOGUE[name].says)
                        )
                        for name, title in group.calculations.items()
                    ),
                )
                for number, group in enumerate(GROUPS, 1)
            ),
            others=tuple(
                CommandLineOnly(entry.name, _sentence(entry.says))
                for entry in CATALOGUE.values()
                if entry.name not in OFFERED
            ),
        )
    )


@bp.get("/<name>")
@requires(Permission.USE_CALCULATORS)
def show(name: str) -> ResponseReturnValue:
    """Show one calculator, and what comes out of the inputs in the address."""
    if name not in OFFERED:
        abort(404)
    fields = fields_of(CALCULATIONS[name])
    typed = {key: text for key, text in request.args.items() if key not in (UNITS, MORE)}
    reading = read_query(fields, typed, request.args.get(UNITS))
    if MORE in request.args or not any(text.strip() for text in typed.values()):
        return render(_page(name, fields, reading, {}))
    faults = query_faults(CALCULATIONS[name], fields, reading)
    if faults:
        return render(_page(name, fields, reading, faults), 422)
    try:
        computed = _computed(run(name, reading.inputs), fields, reading)
    except NotComputable as fault:
        return render(_page(name, fields, reading, {"": _not_computable(fault, fields)}), 422)
    return render(_page(name, fields, reading, {}, computed))


def _sentence(says: str) -> str:
    """Return a line of the catalogue as a sentence of its own."""
    text = _(says)
    return f"{text[:1].upper()}{text[1:]}."


def _page(
    name: str,
    fields: tuple[Field, ...],
    reading: Reading,
    faults: Mapping[str, str],
    computed: Computed | None = None,
) -> CalculatorPage:
    calculation = CALCULATIONS[name]
    texts = {**reading.typed, **_defaults_used(fields, reading)}
    form = Filled(texts, faults)
    return CalculatorPage(
        name=name,
        title=_(OFFERED[name]),
        says=_sentence(calculation.says),
        form=form,
        controls=controls_of(name, fields, texts, reading.system, _rows_wanted()),
        units=reading.system,
        unit_links=_unit_links(name, fields, reading),
        example_url=_example_url(name, fields, reading.system),
        computed=computed,
        formula=calculation.formula,
        source=calculation.source,
        caution=_(calculation.caution),
    )


def _defaults_used(fields: tuple[Field, ...], reading: Reading) -> dict[str, str]:
    """Return the defaults of what was left empty: they are shown, since they are computed with."""
    return {name: text for name, text in defaults_of(fields).items() if not reading.text(name)}


def _computed(answer: Answer, fields: tuple[Field, ...], reading: Reading) -> Computed:
    given = json.dumps(reading.inputs, ensure_ascii=False)
    return Computed(
        results=shown_results(answer, reading.system),
        table=spot_table(answer),
        link=_address(answer.name, fields, reading.typed, reading.system),
        command=f"academy calc {answer.name} --json {shlex.quote(given)}",
        unrounded=json.dumps(answer.as_json_object(), ensure_ascii=False, indent=2),
    )


def _not_computable(fault: NotComputable, fields: tuple[Field, ...]) -> str:
    text = in_plain_names(sentence_text(fault.reason), fields)
    return _("This cannot be computed: %(reason)s", reason=text)


def _rows_wanted() -> int:
    wanted = request.args.get(MORE, "")
    return int(wanted) if wanted.isdecimal() and len(wanted) < 4 else 0


def _unit_links(name: str, fields: tuple[Field, ...], reading: Reading) -> tuple[Link, ...]:
    """Return the two unit systems; the other one's link carries the inputs over."""
    labels = {UnitSystem.METRIC: _("Metric units"), UnitSystem.US: _("US units")}
    other = carried_over(fields, reading.typed, reading.system)
    return tuple(
        Link(
            label,
            _address(name, fields, reading.typed if system is reading.system else other, system),
            system is reading.system,
        )
        for system, label in labels.items()
    )


def _example_url(name: str, fields: tuple[Field, ...], system: UnitSystem) -> str:
    example = flat_texts(EXAMPLES[name])
    if system is UnitSystem.US:
        example = carried_over(fields, example, UnitSystem.METRIC)
    return _address(name, fields, example, system)


def _address(
    name: str, fields: tuple[Field, ...], typed: Mapping[str, str], system: UnitSystem
) -> str:
    """Return the address that holds these inputs."""
    query = {key: typed[key] for key in control_names(fields, typed) if typed[key].strip()}
    if system is UnitSystem.US:
        query = {UNITS: system, **query}
    return (
        f"{url_for('.show', name=name)}?{urlencode(query)}"
        if query
        else url_for(".show", name=name)
    )
