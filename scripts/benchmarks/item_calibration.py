"""How fast the difficulty of a bank's questions is found, beside girth on the same responses.

Simulated trainees: ability and difficulty standard normal, slope 1.  Both
sides fit the same model, one slope for all and a free spread of ability.
"""

from __future__ import annotations

import statistics
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from benchmarks.benchmark import Benchmark, Finding, peer
from benchmarks.measuring import peak_memory_mb, times_in_turn

PERSONS = 10_000
AT_LEAST_TIMES_FASTER = 3.0
# Both sides stop at a tolerance; errors that differ by less than this share are equal.
EQUAL_ERROR = 0.005


@dataclass(frozen=True, slots=True)
class Simulated:
    """Responses one by one, and the difficulties behind them."""

    person: Any
    item: Any
    right: Any
    difficulty: Any

    @property
    def shape(self) -> tuple[int, int]:
        """Persons and questions."""
        return PERSONS, len(self.difficulty)

    def dense(self) -> Any:
        """Return the table girth reads: questions × persons, gaps tagged."""
        import numpy as np

        table = np.full(self.shape[::-1], peer("girth").INVALID_RESPONSE, dtype=np.int64)
        table[self.item, self.person] = self.right
        return table


def simulated(items: int, seen: int, seed: int = 20_26) -> Simulated:
    """Return responses of 10,000 trainees to `seen` of `items` questions each, drawn at random."""
    import numpy as np

    chance = np.random.default_rng(seed)
    ability, difficulty = chance.normal(size=PERSONS), chance.normal(size=items)
    item = np.argsort(chance.random((PERSONS, items)), axis=1)[:, :seen].ravel()
    person = np.repeat(np.arange(PERSONS), seen)
    logit = ability[person] - difficulty[item]
    right = chance.random(len(item)) < 1 / (1 + np.exp(-logit))
    return Simulated(person, item, right, difficulty)


def measured(items: int, seen: int, rounds: int) -> Finding:
    """Time both sides in turn, then take the error and the peak memory of each."""
    from academy.domain.assessment.one_parameter import fit_one_parameter
    from academy.domain.assessment.responses import responses_at

    girth, data = peer("girth"), simulated(items, seen)
    dense = data.dense()

    def ours() -> Any:
        table = responses_at(data.person, data.item, data.right, data.shape)
        return fit_one_parameter(table).parameters.b

    def theirs() -> Any:
        return girth.onepl_mml(dense)["Difficulty"]

    times = times_in_turn(ours, theirs, rounds)
    our_error, peer_error = error(ours(), data.difficulty), error(theirs(), data.difficulty)
    our_peak, peer_peak = peaks(data, dense)
    return Finding(
        value=times.ratio,
        unit="times as fast as girth onepl_mml",
        limit=AT_LEAST_TIMES_FASTER,
        direction="at least",
        detail={
            "our_seconds": statistics.median(times.ours),
            "peer_seconds": statistics.median(times.peer),
            "our_error_logit": our_error,
            "peer_error_logit": peer_error,
            "our_peak_mb": our_peak,
            "peer_peak_mb": peer_peak,
            "rounds": rounds,
        },
        conditions={
            "the error is no larger": our_error <= peer_error * (1 + EQUAL_ERROR),
            "the peak memory is no higher": our_peak is None or our_peak <= (peer_peak or 0),
        },
    )


def error(found: Any, true: Any) -> float:
    """Return the root mean square error of difficulties."""
    import numpy as np

    return float(np.sqrt(np.mean((found - true) ** 2)))


def peaks(data: Simulated, dense: Any) -> tuple[float | None, float | None]:
    """Return the peak memory of a process that reads the responses and fits them, ours and girth's."""
    import numpy as np

    with TemporaryDirectory() as folder:
        ours, theirs = Path(folder) / "ours.npz", Path(folder) / "theirs.npz"
        np.savez(
            ours, person=data.person, item=data.item, right=data.right, shape=np.array(data.shape)
        )
        np.savez(theirs, dense=dense)
        return (
            peak_memory_mb("benchmarks.one_fit", [str(ours)]),
            peak_memory_mb("benchmarks.one_fit", [str(theirs)]),
        )


BENCHMARKS = (
    Benchmark(
        "item-calibration-complete",
        "difficulties from 10,000 trainees who all answered 40 questions, beside girth",
        lambda: measured(items=40, seen=40, rounds=5),
    ),
    Benchmark(
        "item-calibration-sparse",
        "difficulties of 300 questions of which 10,000 trainees saw 30 each, beside girth",
        lambda: measured(items=300, seen=30, rounds=3),
    ),
)
