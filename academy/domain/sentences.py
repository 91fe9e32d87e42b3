"""Sentences that carry their own values.

An error, a verdict and a reason each hold their fields and one message
template.  ``str()`` gives the English sentence; the web page and the command
line translate the template and fill in the same fields.
"""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from typing import ClassVar


class Sentence:
    """A dataclass whose fields fill its ``template`` (percent style, named)."""

    __slots__ = ()
    template: ClassVar[str] = ""

    def fields(self) -> dict[str, object]:
        """Return the values that fill the template."""
        if not is_dataclass(self):
            return {}
        return {field.name: getattr(self, field.name) for field in fields(self)}

    def __str__(self) -> str:
        return self.template % self.fields()


class TradeError(Sentence, Exception):
    """Something the trade's rules refuse; subclasses are dataclasses with a template.

    Subclasses are declared ``@dataclass(eq=False)`` and not frozen: Python sets
    ``__traceback__`` on an exception that crosses a context manager, which a
    frozen dataclass refuses.
    """

    def __str__(self) -> str:
        return Sentence.__str__(self)
