"""What a translator is given holds every text a person reads."""

from __future__ import annotations

import catalogue
from academy.calculations.catalogue import CATALOGUE
from academy.domain.metrology.verdict import Within
from academy.domain.practical.refusals import SetUpIncomplete


def test_a_translator_is_given_pages_sentences_and_calculators() -> None:
    """Marked texts of Python and pages, templates of the domain, lines of the calculators."""
    texts = {str(message.id) for message in catalogue.catalogue() if message.id}
    assert "Sign the records ticked" in texts
    assert "What went well" in texts
    assert Within.template in texts
    assert SetUpIncomplete.template in texts
    assert CATALOGUE["removal"].says in texts


def test_every_error_and_verdict_has_a_sentence() -> None:
    """No sentence class is left without words, and each takes exactly its own fields."""
    for sentence in catalogue.sentences():
        names = set(getattr(sentence, "__dataclass_fields__", {}))
        asked = {part.split(")")[0] for part in sentence.template.split("%(")[1:]}
        assert asked <= names | {"lines"}, sentence
