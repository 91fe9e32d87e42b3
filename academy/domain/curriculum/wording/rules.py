"""The table of lint rules, and reading one question by all of them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from academy.domain.curriculum.findings import Finding, Severity, Subject
from academy.domain.curriculum.wording import options, stems
from academy.domain.curriculum.wording.texts import Flaw, Wording

Check = Callable[[Wording], Iterator[Flaw]]


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule of wording: its number, how grave it is, and how it is found."""

    id: str
    severity: Severity
    find: Check


_ERROR, _WARNING = Severity.ERROR, Severity.WARNING

RULES = (
    Rule("L01", _ERROR, options.all_of_the_above),
    Rule("L02", _WARNING, options.none_of_the_above),
    Rule("L03", _ERROR, options.longest_key),
    Rule("L04", _WARNING, options.uneven_lengths),
    Rule("L06", _WARNING, options.unordered_numbers),
    Rule("L07", _ERROR, options.overlapping_ranges),
    Rule("L09", _ERROR, options.duplicates),
    Rule("L10", _WARNING, stems.negative_stem),
    Rule("L10", _ERROR, stems.double_negative),
    Rule("L11", _WARNING, options.absolute_words),
    Rule("L13", _WARNING, stems.grammar_cue),
    Rule("L14", _WARNING, stems.stem_asks),
    Rule("L15", _WARNING, options.common_opening),
    Rule("L16", _ERROR, options.too_few_options),
    Rule("L16", _WARNING, options.many_options),
    Rule("L18", _ERROR, options.combined_options),
    Rule("L19", _WARNING, options.vague_frequency),
)

LINT_RULES: Mapping[str, str] = MappingProxyType(
    {
        "L01": "no 'all of the above'",
        "L02": "no 'none of the above'",
        "L03": "the key is not the longest option",
        "L04": "options are of similar length",
        "L05": "keys are spread evenly over the places",
        "L06": "numbers stand in order and are not shuffled",
        "L07": "ranges do not overlap",
        "L08": "the key names options that exist",
        "L09": "no option twice",
        "L10": "no hidden negative",
        "L11": "absolute words give nothing away",
        "L12": "no rare word of the stem in the key alone",
        "L13": "grammar gives nothing away",
        "L14": "the stem asks",
        "L15": "no shared opening words",
        "L16": "three or four options",
        "L17": "a reason under every option",
        "L18": "no combined options",
        "L19": "no vague frequency words",
        "L21": "no question answers another",
    }
)


def wording_findings(wording: Wording) -> Iterator[Finding]:
    """Yield what the rules find in one question; warnings the author accepted are left out."""
    part = f"decision {wording.decision_id}" if wording.decision_id else "stem"
    subject = Subject("question", wording.question_id, part)
    for rule in RULES:
        if rule.severity is Severity.WARNING and rule.id in wording.accepted:
            continue
        for flaw in rule.find(wording):
            yield Finding(subject, rule.severity, f"{rule.id}: {flaw.template}", flaw.values)
