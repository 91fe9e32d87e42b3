"""Finding the benchmarks, running them one after another, telling and keeping the results."""

from __future__ import annotations

import json
import pkgutil
import sys
from collections.abc import Mapping, Sequence
from importlib import import_module
from pathlib import Path

import benchmarks
from benchmarks.benchmark import Benchmark, Finding, PeerMissing
from sentences import CannotGoOn


def all_benchmarks() -> Mapping[str, Benchmark]:
    """Return every benchmark of every module of this package, by name."""
    modules = [
        import_module(f"benchmarks.{module.name}")
        for module in pkgutil.iter_modules(benchmarks.__path__)
    ]
    found: dict[str, Benchmark] = {}
    for module in modules:
        for benchmark in getattr(module, "BENCHMARKS", ()):
            if benchmark.name in found:
                raise CannotGoOn(f"Two benchmarks are named {benchmark.name}.")
            found[benchmark.name] = benchmark
    return found


def list_them() -> int:
    """Print the names, one line each."""
    for benchmark in all_benchmarks().values():
        print(f"{benchmark.name:<28} {benchmark.says}")
    return 0


def run_them(names: Sequence[str], results: Path | None) -> int:
    """Run the named benchmarks, or all; return 0 where every limit is met."""
    known = all_benchmarks()
    unknown = [name for name in names if name not in known]
    if unknown:
        print(
            f"There is no benchmark named {unknown[0]}; --list prints the names.", file=sys.stderr
        )
        return 2
    findings, missing = _findings([known[name] for name in names or known])
    if results:
        kept = [finding.as_json_object(name) for name, finding in findings.items()]
        results.write_text(json.dumps({"benchmarks": kept}, indent=2) + "\n", encoding="utf-8")
    if missing:
        return 2
    return 0 if all(finding.ok for finding in findings.values()) else 1


def _findings(chosen: Sequence[Benchmark]) -> tuple[dict[str, Finding], bool]:
    findings: dict[str, Finding] = {}
    missing = False
    for benchmark in chosen:
        try:
            findings[benchmark.name] = finding = benchmark.measure()
        except PeerMissing as sentence:
            print(f"{benchmark.name}: {sentence}", file=sys.stderr)
            missing = True
        else:
            print(f"{benchmark.name}: {told(finding)}", flush=True)
    return findings, missing


def told(finding: Finding) -> str:
    """Return a finding in one line."""
    asked = "" if finding.limit is None else f", {finding.direction} {finding.limit:g} asked"
    failed = [name for name, holds in finding.conditions.items() if not holds]
    verdict = "ok" if finding.ok else "MISSED"
    without = f" ({'; '.join(f'not so: {name}' for name in failed)})" if failed else ""
    return f"{finding.value:.3g} {finding.unit}{asked}: {verdict}{without}"
