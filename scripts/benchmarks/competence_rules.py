"""Whether a rule for 'competent' stops those it should, and how many panels it costs the others.

Every rule judges the same invented trainees: spoil rates from one in fifty to
four in ten, steady (removal lognormal, log sd 0.35, limit 4 µm) and two-mode
(spoiled by chance, else far inside the limit), read at 4 spots with 5 readings
a side by gauges of three repeatabilities.
"""

from __future__ import annotations

from typing import Any

from benchmarks.benchmark import Benchmark, Finding

RATES = (0.02, 0.05, 0.10, 0.20, 0.30, 0.40)
REPEATABILITIES_UM = (0.5, 1.0, 1.5)
TRAINEES, SECTIONS, SEED = 50_000, 20, 20_26
LIMIT_UM, SPOTS, READINGS = 4.0, 4, 5
UNWANTED, WANTED = 0.30, 0.02


def measured() -> Finding:
    """Return the table, and whether the rule by readings keeps to what is asked of it."""
    lines = table()
    print_table(lines)
    found = {(line["rule"], line["kind"], line["rate"], line["gauge_um"]): line for line in lines}

    def within(rule: str, kind: str, rate: float, gauge_um: float | None = None) -> dict[str, Any]:
        return found[rule, kind, rate, gauge_um]

    read = "by readings, careful"
    steady = [within(read, "steady", UNWANTED, um)["passed"] for um in REPEATABILITIES_UM[:2]]
    two_mode = [within(read, "two-mode", UNWANTED, um)["passed"] for um in REPEATABILITIES_UM]
    good = [
        within(read, kind, WANTED, um)
        for kind in ("steady", "two-mode")
        for um in REPEATABILITIES_UM[:2]
    ]
    run = within("3 in a row", "any", UNWANTED)
    outcomes = within("by outcomes, careful", "any", WANTED)
    return Finding(
        max(steady),
        "share",
        0.05,
        "at most",
        {"trainees": TRAINEES, "sections": SECTIONS, "table": lines},
        {
            "two-mode at .30: at most 10 % within twenty": max(two_mode) <= 0.10,
            "at .02: a median of 7 sections": all(line["median"] == 7 for line in good),
            "at .02: at least 96 % within twenty": all(line["passed"] >= 0.96 for line in good),
            "by outcomes at .02: a median of about 10": 9 <= outcomes["median"] <= 11,
            "three in a row at .30: about 86 % within ten": abs(run["within_ten"] - 0.86) <= 0.01,
        },
    )


def table() -> list[dict[str, Any]]:
    """Return a line for each rule, kind of trainee, spoil rate and gauge."""
    from academy.domain.curriculum.evidence_rules import (
        EvidenceRule,
        RuleKind,
        Strictness,
        in_a_row,
    )

    lines = [line_of("3 in a row", in_a_row(3), rate) for rate in RATES]
    for strictness in Strictness:
        for kind in RuleKind:
            name, rule = f"{kind}, {strictness}", EvidenceRule(kind, strictness)
            if kind is not RuleKind.BY_READINGS:
                lines += [line_of(name, rule, rate) for rate in RATES]
                continue
            lines += [
                line_of(name, rule, rate, trainee, um)
                for trainee in ("steady", "two-mode")
                for rate in RATES
                for um in REPEATABILITIES_UM
            ]
    return lines


def line_of(
    name: str, rule: Any, rate: float, trainee: str = "any", gauge_um: float | None = None
) -> dict[str, Any]:
    """Return one line; the same seed gives every rule the same trainees."""
    import numpy as np

    from academy.domain.certification.rules.risk import median_of, passed_by
    from academy.domain.certification.rules.trainees import ReadingPlan, Trainee

    plan = ReadingPlan(LIMIT_UM, SPOTS, READINGS, gauge_um) if gauge_um else None
    model = Trainee.STEADY if trainee == "any" else Trainee(trainee)
    chance = np.random.default_rng(SEED)
    passed = passed_by(rule, model, rate, plan, chance, SECTIONS, TRAINEES)
    share = float(passed[-1])
    return {
        "rule": name,
        "kind": trainee,
        "rate": rate,
        "gauge_um": gauge_um,
        "within_ten": round(float(passed[9]), 4),
        "passed": round(share, 4),
        "error": round((share * (1 - share) / TRAINEES) ** 0.5, 4) if gauge_um else 0.0,
        "median": median_of(passed),
    }


def print_table(lines: list[dict[str, Any]]) -> None:
    """Print the shares passed within twenty sections, a spoil rate a column."""
    print(f"{'passed within 20 of 100 who spoil':<46}" + "".join(f"{rate:>7.2f}" for rate in RATES))
    rows: dict[str, dict[float, dict[str, Any]]] = {}
    for line in lines:
        gauge = f", gauge {line['gauge_um']} µm" if line["gauge_um"] else ""
        kind = "" if line["kind"] == "any" else f", {line['kind']}"
        rows.setdefault(f"{line['rule']}{kind}{gauge}", {})[line["rate"]] = line
    for name, by_rate in rows.items():
        shares = "".join(f"{100 * by_rate[rate]['passed']:>7.1f}" for rate in RATES)
        median = by_rate[WANTED]["median"]
        print(f"{name:<46}{shares}   median at {WANTED}: {median or 'more than 20'}")


BENCHMARKS = (
    Benchmark(
        "competence-rules",
        "how many of 100 trainees each rule passes who spoil too much, and what it costs the others",
        measured,
    ),
)
