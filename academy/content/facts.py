"""Reading the files of trade facts."""

from __future__ import annotations

import re

from academy.content.matter import Located, read_yaml
from academy.content.problems import Place, Problems
from academy.content.references import References
from academy.content.schema import FactMatter
from academy.content.source import Source, SourceFile
from academy.content.validated import validated
from academy.domain.curriculum.lessons import Fact

_NAME = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


def read_facts(source: Source, references: References, problems: Problems) -> None:
    """Read every file below ``facts/`` into the references."""
    for file in source.below("facts"):
        located = read_yaml(file.text, file.at(1), problems) if file.text.strip() else None
        for name in located.value if located else ():
            assert located is not None
            _read_fact(file, located, str(name), references, problems)


def unused_facts(references: References, problems: Problems) -> None:
    """Note every fact no text links to."""
    for name, place in references.fact_lines.items():
        if name not in references.fact_places:
            problems.warning(place, "no text uses the fact %(name)s", name=name)


def _read_fact(
    file: SourceFile, located: Located, name: str, references: References, problems: Problems
) -> None:
    place = located.place([name])
    if not _NAME.fullmatch(name):
        problems.error(
            place, "the fact '%(name)s' is not named in small letters and hyphens", name=name
        )
    if name in references.facts:
        first = references.fact_lines[name]
        problems.error(
            place, "the fact %(name)s stands already in %(first)s", name=name, first=first
        )
        return
    matter = validated(FactMatter, _part(located, name), problems)
    if matter is None:
        return
    if matter.high is not None and matter.high <= matter.low:
        problems.error(located.place([name, "high"]), "%(name)s: high is not above low", name=name)
    references.facts[name] = Fact(id=name, **matter.model_dump())
    references.fact_lines[name] = Place(file.path, place.line)


def _part(located: Located, name: str) -> Located:
    lines = {key[1:]: line for key, line in located.lines.items() if key and key[0] == name}
    return Located(located.value[name], located.path, lines)
