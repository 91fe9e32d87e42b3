"""The frozen record of a practical: what is signed.

The record holds random ids, readings as the decimals that were typed, and the
verdict.  Free text stands in it as a salted digest; the text itself and its
salt lie beside it, so that a text can be erased and the signature still holds.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID, uuid4

from academy.domain.metrology.removal import Removal
from academy.domain.practical.frozen import frozen_body
from academy.domain.practical.outcome import Judged, Measured
from academy.domain.practical.record import Practical
from academy.domain.practical.signatures import Presence
from academy.domain.practical.steps import Step
from academy.keys.digests import digest_of, new_salt, salted_digest
from academy.store.queries.practicals import StoredPractical, StoredRecord

FORMAT = 1
FREE_TEXT = frozenset(
    {
        "machine",
        "pad",
        "abrasive",
        "dial",
        "dropped_reason",
        "trainee_sees",
        "supervisor_sees",
        "went_well",
        "change_next",
        "light",
        "sees",
        "says",
        "shows",
        "absence_reason",
        "amendment_reason",
    }
)
REASONS = frozenset({"not_applying"})  # by the name of what each is for

FrozenRecord = StoredRecord


@dataclass(slots=True)
class _Sealer:
    """Puts salted digests in the place of texts and keeps the salts."""

    salts: dict[str, str]

    def seal(self, where: str, value: Any) -> Any:
        """Return the value with every free text replaced by its salted digest."""
        if isinstance(value, dict):
            return {
                key: self._sealed_item(f"{where}/{key}", key, item) for key, item in value.items()
            }
        if isinstance(value, list):
            return [self.seal(f"{where}/{number}", item) for number, item in enumerate(value)]
        return value

    def _sealed_item(self, where: str, key: str, item: Any) -> Any:
        if key in FREE_TEXT and isinstance(item, str):
            return self._sealed_text(where, item)
        if key in REASONS:
            return {name: self._sealed_text(f"{where}/{name}", why) for name, why in item.items()}
        return self.seal(where, item)

    def _sealed_text(self, where: str, text: str) -> str:
        self.salts[where] = new_salt()
        return salted_digest(self.salts[where], text)


@dataclass(frozen=True, slots=True)
class Superseding:
    """What an amendment takes the place of, who makes it and why."""

    record: StoredRecord
    amended_by: UUID
    reason: str


def freeze(
    stored: StoredPractical,
    closed: Practical,
    outcome: Judged,
    at: datetime,
    *,
    presence: Presence | None = None,
    superseding: Superseding | None = None,
) -> FrozenRecord:
    """Return the frozen record of a practical that has just been closed, or amended."""
    sealer = _Sealer({})
    record = {
        "format": FORMAT,
        "practical": str(closed.id),
        "trainee": str(closed.trainee_id),
        "supervisor": str(closed.supervisor_id),
        "section": str(stored.section_id),
        "gauge": _gauge(stored),
        "task": {"id": closed.task.id, "digest": closed.task.digest},
        "kind": closed.kind.value,
        "opened_at": _utc(closed.opened_at),
        "closed_at": _utc(closed.closed_at),
        "steps": [_step(step, number, sealer) for number, step in enumerate(closed.steps, 1)],
        "photographs": [photograph.digest for photograph in stored.photographs],
        "taken_over": closed.taken_over,
        "criteria": {item.criterion.id: item.met for item in outcome.criteria},
        "measured": _measured(outcome.measured),
        "outcome": outcome.outcome.value,
    }
    record |= _closing(presence, sealer) | _supersedes(superseding, at, sealer)
    return StoredRecord(uuid4(), record, digest_of(record), dict(sealer.salts), at)


def _closing(presence: Presence | None, sealer: _Sealer) -> dict[str, Any]:
    """Return who was there at the closing; nothing for a record that nobody closed."""
    if presence is None:
        return {}
    return {
        "trainee_present": presence.present,
        "closing": sealer.seal("closing", {"absence_reason": presence.reason}),
    }


def _supersedes(superseding: Superseding | None, at: datetime, sealer: _Sealer) -> dict[str, Any]:
    """Return the link of an amendment to the record it takes the place of."""
    if superseding is None:
        return {}
    return {
        "supersedes": superseding.record.digest,
        "amended_by": str(superseding.amended_by),
        "amended_at": _utc(at),
        "amendment": sealer.seal("amendment", {"amendment_reason": superseding.reason}),
    }


def text_unchanged(record: StoredRecord, step_number: int, key: str, text: str) -> bool:
    """Return whether a text lying beside the record is the one that was signed."""
    where = f"steps/{step_number}/{key}"
    signed = record.record["steps"][step_number - 1]["body"].get(key)
    return where in record.salts and salted_digest(record.salts[where], text) == signed


def unchanged(record: StoredRecord) -> bool:
    """Return whether a record still has the digest that was signed."""
    return digest_of(record.record) == record.digest


def _step(step: Step, number: int, sealer: _Sealer) -> dict[str, Any]:
    return {
        "id": str(step.id),
        "stage": step.stage.value,
        "at": _utc(step.recorded_at),
        "by": str(step.recorded_by),
        "body": sealer.seal(f"steps/{number}", frozen_body(step.body)),
    }


def _gauge(stored: StoredPractical) -> dict[str, str] | None:
    if stored.gauge is None:
        return None
    return {
        "id": str(stored.gauge_id),
        "resolution_um": str(stored.gauge.resolution_um),
        "repeatability_um": str(stored.gauge.repeatability_um),
    }


def _measured(measured: Measured | None) -> dict[str, Any] | None:
    if measured is None:
        return None
    return {
        "verdict": measured.verdict.outcome.value,
        "removal": _removal(measured.removal),
    }


def _removal(removal: Removal) -> dict[str, Any]:
    """Return the removal in micrometres as decimal text of four places."""
    return {
        "removed_um": _um(removal.removed_um),
        "expanded_um": _um(removal.expanded_um),
        "max_removed_um": _um(removal.max_removed_um),
        "per_spot": [
            [_um(spot.removed_um), _um(spot.lower_um), _um(spot.upper_um)]
            for spot in removal.per_spot
        ],
    }


def _um(value: float | None) -> str | None:
    return None if value is None else f"{value:.4f}"


def _utc(at: datetime | None) -> str | None:
    return None if at is None else at.isoformat(timespec="microseconds")
