"""Bringing a database to the present schema."""

from __future__ import annotations

from pathlib import Path

from academy.store.database import Database

MIGRATIONS = Path(__file__).parent / "migrations"


def upgrade(database: Database, revision: str = "head") -> None:
    """Run the migrations that have not run yet, in one transaction.

    Alembic is imported here: a start that only reads settings does not need it.
    """
    from alembic import command
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(MIGRATIONS).replace("%", "%%"))
    with database.writing() as session:
        config.attributes["connection"] = session.connection()
        command.upgrade(config, revision)
