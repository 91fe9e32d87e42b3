"""A pasted column put into the boxes that are still empty, to be looked at before it is saved."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from werkzeug.datastructures import MultiDict

from academy.domain.metrology.columns import Column, ReadingUnit, column_of
from academy.web.formats import sentence_text
from academy.web.language import gettext as _
from academy.web.language import ngettext
from academy.web.practicals.readings import ReadingField


@dataclass(frozen=True, slots=True)
class Pasted:
    """The form with the column in it, or as it was with the sentence that refuses the column."""

    sent: MultiDict[str, str]
    says: str
    understood: bool


def pasted_into(fields: Sequence[ReadingField], sent: MultiDict[str, str]) -> Pasted:
    """Put the column of ``sent`` into the empty boxes: first those each spot needs, in order."""
    free = [field.name for field in fields if field.required and not field.typed]
    if not free:
        free = [field.name for field in fields if not field.typed]
    unit = ReadingUnit.MIL if sent.get("column_unit") == ReadingUnit.MIL else ReadingUnit.UM
    column = column_of(sent.get("column", ""), unit, len(free))
    filled = MultiDict(sent)
    if not isinstance(column, Column):
        return Pasted(filled, sentence_text(column), False)
    filled.setlist("column", [""])
    for name, reading in zip(free, column.readings, strict=False):
        filled[name] = reading
    return Pasted(filled, _filled_in(len(column.readings)), True)


def _filled_in(count: int) -> str:
    done = ngettext("One reading is filled in.", "%(num)s readings are filled in.", count)
    return done + " " + _("Look them over, then save.")
