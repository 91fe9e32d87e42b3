"""Linking the words of the glossary in a lesson: each once, where it is first used.

Works on set HTML, after sanitising.  What it adds is a plain link for every
browser, and for those that know popovers a button with the meaning beside it;
the site's style sheet shows one of the two.  Nothing here needs a script.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from html import escape, unescape

import nh3

from academy.content.references import Addresses
from academy.domain.curriculum.lessons import GlossaryTerm

# A tag with its quoted values whole, so that a '>' inside one does not end it.
_TAG = re.compile(r"""(<(?:[^<>"']|"[^"]*"|'[^']*')*>)""")
_NAME = re.compile(r"</?([a-zA-Z][a-zA-Z0-9]*)")
_SKIPPED = frozenset(
    [
        "a",
        "button",
        "form",
        "code",
        "figure",
        "pre",
        "summary",
        "svg",
        "h1",
        "h2",
        "h3",
        "h4",
        "h5",
        "h6",
    ]
)
_QUANTITY = re.compile(r'<span\b[^>]*\bclass="quantity\b')
# Before a noun and hardly ever before a verb: 'the run', 'two passes', but not 'you run', 'to pass'.
_BEFORE_A_NOUN = [
    "a",
    "an",
    "the",
    "this",
    "each",
    "every",
    "one",
    "two",
    "three",
    "four",
    "no",
    "per",
    "more",
    "marked",
]
_TERM_LINK = re.compile(r'<a\b[^>]*\bclass="term"[^>]*>')
# A hyphen belongs to the word: 'clear-coat' and 'back-plate' are other words.
_WORD = re.compile(r"[\w-]+")
_HREF = re.compile(r'\bhref="([^"]*)"')

# What with_meanings adds; nothing else in a text ends with a bdi.
_DEFINED = re.compile(
    r'<span class="defined"><a [^>]*>(.*?)</a><button .*?</bdi></span></span>', re.DOTALL
)

# In a line of text a meaning is words; a figure or table stays in the glossary.
_WORDS_ONLY = nh3.Cleaner(
    tags={"em", "strong", "span"},
    clean_content_tags={"details", "figure", "svg", "table"},
    attributes={"span": {"class"}},
    link_rel=None,
)


def word_of(title: str) -> str:
    """Return the word itself of a term whose heading says in brackets which sense is meant.

    ``Run (in a film)`` is the word ``Run``.  Such a word has an everyday sense as
    well, so it is linked only after a word that announces a noun, or by the author.
    """
    return title.partition(" (")[0].strip()


def with_meanings(html: str, glossary: Sequence[GlossaryTerm], addresses: Addresses) -> str:
    """Return a lesson's HTML with each word of the glossary linked at its first use.

    Whole words, longest term first, with simple plurals; not inside headings,
    links, code and figures.  A term the author links somewhere in the lesson is
    left to the author, and that link carries its meaning.
    """
    if not glossary:
        return html
    work = _Linking(_words(tuple(glossary)), addresses, frozenset(_linked(html, addresses)))
    return "".join(work.pieces(html))


def without_meanings(html: str) -> str:
    """Return the HTML as it was before its words were linked, for a sheet of several lessons."""
    return _DEFINED.sub(r"\1", html)


@dataclass(frozen=True, slots=True)
class _Words:
    """The forms to look for, by the word each begins with, and the term of each."""

    by_first_word: dict[str, re.Pattern[str]]
    by_form: dict[str, GlossaryTerm]
    by_id: dict[str, GlossaryTerm]


@lru_cache(maxsize=4)
def _words(glossary: tuple[GlossaryTerm, ...]) -> _Words:
    by_form = {form: term for term in glossary for form in _forms(word_of(term.term))}
    beginning: dict[str, list[str]] = defaultdict(list)
    for form in sorted(by_form, key=lambda form: (-len(form), form)):
        first_word = _WORD.match(form)
        if first_word:
            beginning[first_word[0]].append(_looked_for(form, by_form[form]))
    by_first_word = {
        word: re.compile(rf"(?:{'|'.join(forms)})(?![\w-])", re.IGNORECASE)
        for word, forms in beginning.items()
    }
    return _Words(by_first_word, by_form, {term.id: term for term in glossary})


def _looked_for(form: str, term: GlossaryTerm) -> str:
    words = r"\s+".join(map(re.escape, form.split(" ")))
    if word_of(term.term) == term.term:
        return words
    announced = "|".join(rf"(?<=\b{before}\s)" for before in _BEFORE_A_NOUN)
    return rf"(?:{announced}){words}"


def _forms(word: str) -> Iterator[str]:
    word = " ".join(escape(word, quote=False).lower().split())
    yield word
    if word.endswith("s") and not word.endswith(("ss", "us", "is")):
        yield word[:-1]  # the term itself is a plural
    elif word.endswith(("s", "x", "z", "ch", "sh")):
        yield f"{word}es"
    elif re.search(r"[^aeiou]y$", word):
        yield f"{word[:-1]}ies"
    else:
        yield f"{word}s"


def _linked(html: str, addresses: Addresses) -> Iterator[str]:
    """Yield the ids of the terms the author links."""
    before, _, after = addresses.term.partition("{term}")
    for tag in _TERM_LINK.findall(html):
        href = _href(tag)
        if href.startswith(before) and href.endswith(after):
            yield href[len(before) : len(href) - len(after)]


def _href(tag: str) -> str:
    found = _HREF.search(tag)
    return unescape(found[1]) if found else ""


@dataclass(slots=True)
class _Linking:
    """One lesson being linked; ``met`` are the terms that have their meaning already."""

    words: _Words
    addresses: Addresses
    authors: frozenset[str]
    met: set[str] = field(default_factory=set)
    inside: list[str] = field(default_factory=list)

    def pieces(self, html: str) -> Iterator[str]:
        """Yield the HTML with its words linked."""
        parts = iter(_TAG.split(html))
        for part in parts:
            if not part.startswith("<"):
                yield part if self.inside else self._text(part)
            elif not self.inside and _TERM_LINK.fullmatch(part):
                yield self._link(part, _until_closed(parts))
            else:
                self._tag(part)
                yield part

    def _tag(self, tag: str) -> None:
        """Note whether the text that follows is still to be read."""
        named = _NAME.match(tag)
        name = named[1].lower() if named else ""
        if tag.startswith("</"):
            if self.inside and self.inside[-1] == name:
                self.inside.pop()
        elif not tag.endswith("/>"):
            again = bool(self.inside) and self.inside[-1] == name
            if again or name in _SKIPPED or _QUANTITY.match(tag):
                self.inside.append(name)

    def _link(self, tag: str, text: str) -> str:
        term = self.words.by_id.get(next(_linked(tag, self.addresses), ""))
        if term is None or term.id in self.met:
            return f"{tag}{text}</a>"
        return self._with_meaning(term, text)

    def _text(self, text: str) -> str:
        pieces, done = [], 0
        for word in _WORD.finditer(text):
            forms = self.words.by_first_word.get(word[0].lower())
            found = forms.match(text, word.start()) if forms and word.start() >= done else None
            if found:
                pieces += [text[done : found.start()], self._first_use(found)]
                done = found.end()
        return "".join([*pieces, text[done:]])

    def _first_use(self, match: re.Match[str]) -> str:
        term = self.words.by_form[" ".join(match[0].lower().split())]
        if term.id in self.met or term.id in self.authors:
            return match[0]
        return self._with_meaning(term, match[0])

    def _with_meaning(self, term: GlossaryTerm, text: str) -> str:
        self.met.add(term.id)
        address = escape(self.addresses.term.format(term=term.id))
        # No anchor an author can write holds an underscore.
        name = f"meaning_{term.id}"
        return (
            f'<span class="defined"><a class="term" href="{address}">{text}</a>'
            f'<button class="term" type="button" popovertarget="{name}" aria-describedby="{name}"'
            f" hidden>{text}</button>"
            f'<span class="meaning" id="{name}" popover>'
            f'<a href="{address}">{escape(word_of(term.term), quote=False)}</a> '
            f"<bdi>{_meaning(term.definition_html)}</bdi></span></span>"
        )


def _until_closed(parts: Iterable[str]) -> str:
    """Return what stands up to the end of a link; links do not nest."""
    held = []
    for part in parts:
        if part == "</a>":
            break
        held.append(part)
    return "".join(held)


def _meaning(definition_html: str) -> str:
    return " ".join(_WORDS_ONLY.clean(definition_html).split())
