"""``calculator`` blocks: a small form with its inputs filled in and the result beside them.

It needs no script: the form is sent to the calculators page, which computes
with whatever the reader has typed over.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from html import escape

from academy.calculations import CALCULATIONS, BadInput, NotComputable, run
from academy.calculations.described import InputField, described_inputs
from academy.calculations.labels import choice_label, input_label, result_label, row_label
from academy.calculations.offered import OFFERED
from academy.calculations.query import flat_texts
from academy.calculations.registry import Answer
from academy.content.matter import Located, read_yaml
from academy.content.problems import Place, Problems
from academy.content.quantities import quantity, rounded
from academy.content.units import with_unit


def calculator_html(
    name: str, block: str, place: Place, address: str, problems: Problems
) -> str | None:
    """Return the box a block asks for, or None (noted) when it cannot be computed.

    Parameters
    ----------
    place
        The line of the block's opening.
    address
        The calculator's page, with ``{name}`` in it.
    """
    if name not in OFFERED:
        problems.error(
            place,
            "there is no calculator '%(name)s'; the page has %(known)s",
            name=name,
            known=", ".join(OFFERED),
        )
        return None
    given = read_yaml(block, Place(place.path, place.line + 1), problems)
    if given is None:
        return None
    try:
        answer = run(name, {str(key): value for key, value in given.value.items()})
    except BadInput as fault:
        _note(fault, name, given, problems)
        return None
    except NotComputable as fault:
        problems.error(place, "calculator %(name)s: %(fault)s", name=name, fault=fault)
        return None
    return _set(answer, given.value, address.format(name=name))


def _note(fault: BadInput, name: str, given: Located, problems: Problems) -> None:
    for line in fault.faults:
        field = line.partition(":")[0]
        keys = field.replace("[", ".").replace("]", "").split(".")
        problems.error(given.place(keys), "calculator %(name)s: %(line)s", name=name, line=line)


def _set(answer: Answer, given: Mapping[str, object], address: str) -> str:
    title = escape(OFFERED[answer.name], quote=False)
    return (
        f'<form class="calculator-box" method="get" action="{escape(address)}#result" '
        f'aria-label="{escape(OFFERED[answer.name])}"><p>{title}</p>'
        f'<div class="inputs">{"".join(_inputs(answer.name, given))}</div>'
        f'<dl class="facts">{"".join(_results(answer))}</dl>'
        f"<p><small>{escape(answer.caution, quote=False)}</small></p>"
        "<div><button>Compute with your numbers</button></div></form>"
    )


def _inputs(name: str, given: Mapping[str, object]) -> list[str]:
    described = {field.path: field for field in described_inputs(CALCULATIONS[name])}
    return [_input(name, control, text, described) for control, text in flat_texts(given).items()]


def _input(calculation: str, control: str, text: str, described: Mapping[str, InputField]) -> str:
    label, field = _label(calculation, control.split("-"), described)
    words = f"<span>{escape(label, quote=False)}</span>"
    if isinstance(field.default, bool):
        return f"<label>{words}{_select(control, text, ('yes', 'no'))}</label>"
    if field.choices:
        return f"<label>{words}{_select(control, text, field.choices)}</label>"
    if field.listed:
        box = f'<textarea name="{escape(control)}" rows="2">{escape(text, quote=False)}</textarea>'
        return f"<label>{words}{box}</label>"
    box = (
        f'<input name="{escape(control)}" value="{escape(text)}" inputmode="decimal"'
        ' autocomplete="off">'
    )
    unit = _printed(field.unit)
    after = f"<span>{escape(unit, quote=False)}</span>" if unit else ""
    return f'<label>{words}<span class="with-unit">{box}{after}</span></label>'


def _label(
    calculation: str, steps: Sequence[str], described: Mapping[str, InputField]
) -> tuple[str, InputField]:
    if len(steps) == 1:
        return input_label(steps[0]), described[steps[0]]
    if len(steps) == 2:
        label = f"{input_label(steps[0])}: {input_label(steps[1])}"
        return label, described[f"{steps[0]}.{steps[1]}"]
    row = row_label(calculation, steps[0]) % {"number": steps[1]}
    return f"{row}: {input_label(steps[2])}", described[f"{steps[0]}[].{steps[2]}"]


def _select(control: str, chosen: str, choices: Sequence[str]) -> str:
    options = "".join(
        f'<option value="{escape(word)}"{" selected" if word == chosen else ""}>'
        f"{escape(choice_label(word), quote=False)}</option>"
        for word in choices
    )
    return f'<select name="{escape(control)}">{options}</select>'


def _results(answer: Answer) -> list[str]:
    shown = [(key, _shown(answer, key, value)) for key, value in answer.result.items()]
    return [
        f"<div><dt>{escape(result_label(answer.name, key), quote=False)}</dt><dd>{html}</dd></div>"
        for key, html in shown
        if html
    ]


def _shown(answer: Answer, key: str, value: object) -> str:
    """Return a result as HTML; empty where these inputs do not ask for it."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        return escape(value, quote=False)
    if isinstance(value, (list, tuple)) and all(isinstance(end, float) for end in value):
        return " to ".join(rounded(end) for end in value)
    if not isinstance(value, (int, float)):
        return "ask" if key == "allowed" else ""
    number = str(value) if isinstance(value, int) else rounded(value)
    return quantity(with_unit(number, _unit(answer, key)), ()).html


def _unit(answer: Answer, key: str) -> str:
    unit = answer.units.get(key, "")
    if unit == "as `to`":
        return str(answer.inputs["to"])
    return _printed(unit)


def _printed(unit: str) -> str:
    """Return the unit to print: none beside a count, or where the author's numbers say it."""
    if unit.startswith(("as ", "per side")) or unit in {"any", "points", "panels"}:
        return ""
    return unit.removeprefix("1") if unit == "1/min" else unit
