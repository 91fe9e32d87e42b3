"""Front matter and YAML files, read with the line of every value."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import yaml

from academy.content.problems import Place, Problems
from academy.content.source import SourceFile

FENCE = "---"

# The C reader is about ten times as quick; both are safe loaders.
_Loader: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


@dataclass(frozen=True, slots=True)
class Located:
    """A value from YAML and the line of each part, by its path of keys and indices."""

    value: Any
    path: str
    lines: Mapping[tuple[str, ...], int]

    def place(self, keys: Sequence[object] = ()) -> Place:
        """Return where a part stands, or the nearest part around it that is known."""
        trail = tuple(map(str, keys))
        while trail not in self.lines and trail:
            trail = trail[:-1]
        return Place(self.path, self.lines.get(trail, 1))


@dataclass(frozen=True, slots=True)
class Page:
    """A file split into its front matter and its Markdown."""

    file: SourceFile
    matter: Located
    body: str
    body_line: int


def read_page(file: SourceFile, problems: Problems) -> Page | None:
    """Split a file that opens with front matter; None when that cannot be read."""
    lines = file.text.split("\n")
    if lines[0].rstrip() != FENCE:
        problems.error(file.at(1), "the file does not open with front matter, a line of ---")
        return None
    closing = next((i for i, line in enumerate(lines[1:], 1) if line.rstrip() == FENCE), None)
    if closing is None:
        problems.error(file.at(1), "the front matter is not closed by a second line of ---")
        return None
    matter = read_yaml("\n".join(lines[1:closing]), file.at(2), problems)
    if matter is None:
        return None
    return Page(file, matter, "\n".join(lines[closing + 1 :]), closing + 2)


def read_yaml(text: str, first: Place, problems: Problems) -> Located | None:
    """Read a mapping with the line of every key; ``first`` is the place of its first line."""
    loader = _Loader(text)
    try:
        node = loader.get_single_node()
        lines: dict[tuple[str, ...], int] = {(): first.line}
        if not _is_mapping(node, first, problems):
            return None
        if not _note_lines(node, (), first, lines, problems, set()):
            return None
        value = loader.construct_document(node)
    except yaml.YAMLError as fault:
        problems.error(_fault_place(fault, first), "%(fault)s", fault=_fault_sentence(fault))
        return None
    except ValueError as fault:
        problems.error(first, "this cannot be read: %(fault)s", fault=fault)
        return None
    finally:
        loader.dispose()
    return Located(value, first.path, lines)


def _is_mapping(node: yaml.Node | None, first: Place, problems: Problems) -> bool:
    if isinstance(node, yaml.MappingNode):
        return True
    problems.error(first, "lines of `name: value` are expected here")
    return False


def _note_lines(
    node: yaml.Node,
    trail: tuple[str, ...],
    first: Place,
    lines: dict[tuple[str, ...], int],
    problems: Problems,
    seen: set[int],
) -> bool:
    """Note the line of every part; False if a part is one this grammar does not have."""
    if id(node) in seen:
        place = Place(first.path, first.line + node.start_mark.line)
        problems.error(place, "write the value out; & and * are not used here")
        return False
    seen.add(id(node))
    lines.setdefault(trail, first.line + node.start_mark.line)
    if isinstance(node, yaml.MappingNode):
        return _note_mapping(node, trail, first, lines, problems, seen)
    if isinstance(node, yaml.SequenceNode):
        items = [
            _note_lines(item, (*trail, str(index)), first, lines, problems, seen)
            for index, item in enumerate(node.value)
        ]
        return all(items)
    return True


def _note_mapping(
    node: yaml.MappingNode,
    trail: tuple[str, ...],
    first: Place,
    lines: dict[tuple[str, ...], int],
    problems: Problems,
    seen: set[int],
) -> bool:
    good = True
    for key, value in node.value:
        place = Place(first.path, first.line + key.start_mark.line)
        if not isinstance(key, yaml.ScalarNode):
            problems.error(place, "a name is expected before the colon")
            return False
        here = (*trail, key.value)
        if here in lines:
            problems.error(place, "`%(key)s` is given twice", key=key.value)
            good = False
        lines[here] = place.line
        good &= _note_lines(value, here, first, lines, problems, seen)
    return good


def _fault_place(fault: yaml.YAMLError, first: Place) -> Place:
    mark = getattr(fault, "problem_mark", None)
    return Place(first.path, first.line + (mark.line if mark else 0))


def _fault_sentence(fault: yaml.YAMLError) -> str:
    problem = getattr(fault, "problem", None) or str(fault)
    if "mapping values are not allowed" in problem:
        return "a colon too many; put quotes around text that holds a colon"
    return f"this is not YAML: {problem}"
