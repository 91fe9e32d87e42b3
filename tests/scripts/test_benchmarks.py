"""Benchmarks: their names, their verdicts and what they say when a peer is missing."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from benchmarks import running
from benchmarks.benchmark import Benchmark, Finding, PeerMissing, peer
from benchmarks.measuring import peak_memory_mb, times_in_turn


def finding(value: float, limit: float | None = 3.0, holds: bool = True) -> Finding:
    return Finding(value, "times", limit, "at least", {}, {"the error is no larger": holds})


def test_each_benchmark_has_a_name_and_says_what_it_measures() -> None:
    known = running.all_benchmarks()
    assert {"quiz-fairness", "item-calibration-complete", "item-calibration-sparse"} <= set(known)
    assert all(name == benchmark.name and benchmark.says for name, benchmark in known.items())


@pytest.mark.parametrize(
    ("found", "ok"),
    [
        (finding(3.0), True),
        (finding(2.9), False),
        (finding(9.0, holds=False), False),
        (finding(0.1, limit=None), True),
        (Finding(0.6, "share", 0.5, "at most", {}), False),
    ],
)
def test_a_finding_is_ok_within_its_limit_and_conditions(found: Finding, ok: bool) -> None:
    assert found.ok is ok
    assert found.as_json_object("x")["ok"] is ok
    assert ("ok" in running.told(found)) is ok


def test_a_missing_peer_is_named_in_a_sentence() -> None:
    with pytest.raises(PeerMissing, match="no_such_library, which this is measured against"):
        peer("no_such_library")


def test_an_unknown_name_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    assert running.run_them(["nonsense"], None) == 2
    assert "There is no benchmark named nonsense" in capsys.readouterr().err


def test_results_are_written_and_a_missed_limit_ends_with_1(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def without_peer() -> Finding:
        raise PeerMissing("it is not installed")

    chosen = [
        Benchmark("fast", "is fast", lambda: finding(4.0)),
        Benchmark("slow", "is slow", lambda: finding(2.0)),
        Benchmark("alone", "has no peer", without_peer),
    ]
    monkeypatch.setattr(running, "all_benchmarks", lambda: {b.name: b for b in chosen})
    results = tmp_path / "results.json"
    assert running.run_them(["fast"], results) == 0
    assert running.run_them(["fast", "slow"], results) == 1
    kept = json.loads(results.read_text(encoding="utf-8"))["benchmarks"]
    assert [(one["name"], one["ok"]) for one in kept] == [("fast", True), ("slow", False)]
    assert set(kept[0]) == {"name", "value", "unit", "limit", "direction", "ok", "detail"}
    assert running.run_them(["alone"], None) == 2


def test_both_sides_are_timed_in_turn() -> None:
    order: list[str] = []
    times = times_in_turn(lambda: order.append("ours"), lambda: order.append("peer"), rounds=3)
    assert order == ["ours", "peer"] * 4
    assert len(times.ours) == len(times.peer) == 3
    assert times.ratio > 0


def test_peak_memory_is_that_of_the_process_itself() -> None:
    large = bytearray(200_000_000)
    peak = peak_memory_mb("this", [])
    assert len(large) == 200_000_000
    assert peak is None or 1 < peak < 100
