#!/usr/bin/env python3
"""Gather every text a person reads into academy/locale/messages.pot (for maintainers, run in .venv-test).

Pages and Python mark theirs with ``_``; the sentences of the domain are the
templates of its dataclasses, which no marker could find.
"""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Iterator
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.extract import extract_from_dir
from babel.messages.pofile import write_po

import academy
from academy.calculations.catalogue import CATALOGUE
from academy.domain.sentences import Sentence

ROOT = Path(__file__).resolve().parent.parent
TARGET = ROOT / "academy" / "locale" / "messages.pot"
METHODS = [("**.py", "python"), ("web/templates/**.html", "jinja2")]


def main() -> None:
    """Write the catalogue of texts to be translated."""
    TARGET.parent.mkdir(exist_ok=True)
    with TARGET.open("wb") as handle:
        write_po(handle, catalogue(), width=100, omit_header=False, sort_output=True)
    print(f"wrote {TARGET}")


def catalogue() -> Catalog:
    """Return every marked text, every domain sentence and every calculator's line."""
    texts = Catalog(project="academy", charset="utf-8", fuzzy=False)
    for path, line, message, comments, context in extract_from_dir(
        str(ROOT / "academy"), METHODS, keywords=_keywords(), options_map={}
    ):
        texts.add(
            message, locations=[(f"academy/{path}", line)], auto_comments=comments, context=context
        )
    for sentence in sentences():
        texts.add(sentence.template, locations=[(sentence.__module__, 0)])
    for name, entry in CATALOGUE.items():
        texts.add(entry.says, auto_comments=[f"calculation {name}"])
    return texts


def sentences() -> Iterator[type[Sentence]]:
    """Yield every sentence class of the program that has a template."""
    for module in pkgutil.walk_packages(academy.__path__, "academy."):
        if not module.name.startswith(("academy.store.migrations", "academy.__main__")):
            importlib.import_module(module.name)
    yield from (kind for kind in _below(Sentence) if kind.template)


def _below(kind: type[Sentence]) -> Iterator[type[Sentence]]:
    for below in kind.__subclasses__():
        yield below
        yield from _below(below)


def _keywords() -> dict[str, tuple[int, ...] | None]:
    return {"_": None, "gettext": None, "lazy_gettext": None, "ngettext": (1, 2)}


if __name__ == "__main__":
    main()
