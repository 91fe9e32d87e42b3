"""Flaws that only show when a module's questions are read together."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from math import sqrt

from academy.domain.curriculum.findings import Finding, Subject, warning
from academy.domain.curriculum.wording.texts import Wording, words

COMMON_WORDS = 200
RARE_WORD_LETTERS = 5
SHARED_WORDS = 4
TELLING_LETTERS, TELLING_WORDS = 4, 3
FEWEST_EXPECTED = 5
FEWEST_FOR_SHARE = 10
UNEVEN_P = 0.01


def bank_findings(wordings: Sequence[Wording]) -> Iterator[Finding]:
    """Yield what shows across the course: L03 and L05 over the bank, L05, L12, L21 by module."""
    course = Subject("course", "")
    yield from _key_places(wordings, course)
    yield from _longest_key_share(wordings, course)
    by_module: dict[str, list[Wording]] = defaultdict(list)
    for wording in wordings:
        by_module[wording.module_id].append(wording)
    for module_id, own in by_module.items():
        yield from _key_places(own, Subject("module", module_id))
        yield from _clang(own)
        yield from _answers_another(own)


def _single_keyed(wordings: Sequence[Wording]) -> Mapping[int, list[Wording]]:
    by_options: dict[int, list[Wording]] = defaultdict(list)
    for wording in wordings:
        if wording.picks_one and len(wording.keys) == 1:
            by_options[len(wording.options)].append(wording)
    return by_options


def _key_places(wordings: Sequence[Wording], subject: Subject) -> Iterator[Finding]:
    """L05: chi-square of the keys' places against an even spread, p below 0.01."""
    from scipy.special import chdtrc

    for count, group in _single_keyed(wordings).items():
        expected = len(group) / count if count else 0
        if count < 2 or expected < FEWEST_EXPECTED:
            continue
        places = Counter(next(iter(wording.keys)) for wording in group)
        observed = [places[number] for number in range(1, count + 1)]
        square = sum((seen - expected) ** 2 / expected for seen in observed)
        if chdtrc(count - 1, square) < UNEVEN_P:
            yield warning(
                subject,
                "L05: the keys of the questions with %(count)s options stand unevenly: "
                "%(observed)s at places 1 to %(count)s",
                count=count,
                observed=", ".join(map(str, observed)),
            )


def _longest_key_share(wordings: Sequence[Wording], subject: Subject) -> Iterator[Finding]:
    """L03 over the bank: the key is the longest more often than chance, by two errors."""
    for count, group in _single_keyed(wordings).items():
        if len(group) < FEWEST_FOR_SHARE:
            continue
        longest = sum(_key_is_longest(wording) for wording in group)
        chance = 1 / count
        bound = chance + 2 * sqrt(chance * (1 - chance) / len(group))
        if longest / len(group) > bound:
            yield warning(
                subject,
                "L03: in %(longest)s of %(all)s questions with %(count)s options the key is "
                "the longest; up to %(bound)s would be chance",
                longest=longest,
                all=len(group),
                count=count,
                bound=int(bound * len(group)),
            )


def _key_is_longest(wording: Wording) -> bool:
    longest_wrong = max((len(option.text) for option in wording.wrong), default=0)
    return len(wording.right[0].text) > longest_wrong if wording.right else False


def _clang(wordings: Sequence[Wording]) -> Iterator[Finding]:
    """L12: a word of the stem, rare in the module, that only the key repeats."""
    counts: Counter[str] = Counter()
    for wording in wordings:
        texts = [wording.stem, *(option.text for option in wording.options)]
        counts.update(word for text in texts for word in words(text))
    common = {word for word, _ in counts.most_common(COMMON_WORDS)}
    for wording in wordings:
        if "L12" in wording.accepted or not wording.picks:
            continue
        right = {word for option in wording.right for word in words(option.text)}
        wrong = {word for option in wording.wrong for word in words(option.text)}
        echoed = (set(words(wording.stem)) & right) - wrong - common
        for word in sorted(word for word in echoed if len(word) >= RARE_WORD_LETTERS):
            yield warning(
                _subject(wording), "L12: only the key repeats '%(word)s' of the stem", word=word
            )


def _answers_another(wordings: Sequence[Wording]) -> Iterator[Finding]:
    """L21: four words of one question's key in a row in another question's stem."""
    stems: dict[tuple[str, ...], list[Wording]] = defaultdict(list)
    for wording in wordings:
        for run in _runs(wording.stem):
            stems[run].append(wording)
    told: set[tuple[str, str]] = set()
    for wording in wordings:
        for run in (run for option in wording.right for run in _runs(option.text)):
            for other in stems.get(run, ()):
                pair = (wording.question_id, other.question_id)
                if _may_meet(wording, other) and pair not in told:
                    told.add(pair)
                    yield warning(
                        _subject(wording),
                        "L21: the stem of %(other)s holds '%(run)s' of this key; "
                        "name it under apart-from",
                        other=other.question_id,
                        run=" ".join(run),
                    )


def _may_meet(one: Wording, other: Wording) -> bool:
    kept_apart = other.question_id in one.apart_from or one.question_id in other.apart_from
    accepted = "L21" in one.accepted
    return one.question_id != other.question_id and not kept_apart and not accepted


def _runs(text: str) -> Iterator[tuple[str, ...]]:
    """Yield each four words in a row that say something: 'the pad lies on' does not."""
    tokens = words(text)
    for start in range(len(tokens) - SHARED_WORDS + 1):
        run = tokens[start : start + SHARED_WORDS]
        if sum(len(word) >= TELLING_LETTERS for word in run) >= TELLING_WORDS:
            yield run


def _subject(wording: Wording) -> Subject:
    part = f"decision {wording.decision_id}" if wording.decision_id else "stem"
    return Subject("question", wording.question_id, part)
