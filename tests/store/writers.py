"""A second process that appends to a journal: ``python -m tests.store.writers URL SHOP COUNT``.

It says 'ready', waits for a line, and then writes as fast as it can.
"""

from __future__ import annotations

import sys
from uuid import UUID

from academy.services import journal
from academy.store.database import Database, open_database
from tests.support.clock import NOW


def append_many(database: Database, shop_id: UUID, count: int) -> None:
    """Append so many entries, each in a unit of work of its own."""
    for _ in range(count):
        with database.writing() as session:
            journal.append(session, shop_id=shop_id, actor_id=None, kind="tick", body={}, at=NOW)


def main(url: str, shop: str, count: str) -> None:
    """Append to a shop's journal when told to."""
    database = open_database(url)
    print("ready", flush=True)  # noqa: T201
    sys.stdin.readline()
    append_many(database, UUID(shop), int(count))
    database.close()


if __name__ == "__main__":
    main(*sys.argv[1:])
