"""Run by Alembic: migrate the connection that was handed over."""

from __future__ import annotations

from typing import Any, Literal

from alembic import context
from alembic.autogenerate.api import AutogenContext

from academy.store.tables import Base
from academy.store.types import CanonicalJson, Thousandths, UtcDateTime


def _render_item(kind: str, item: Any, autogen: AutogenContext) -> str | Literal[False]:
    """Name our own column types in a new migration."""
    if kind == "type" and isinstance(item, UtcDateTime | CanonicalJson | Thousandths):
        autogen.imports.add("from academy.store import types")
        return f"types.{type(item).__name__}()"
    return False


context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=Base.metadata,
    render_as_batch=True,
    render_item=_render_item,
    compare_type=True,
)
with context.begin_transaction():
    context.run_migrations()
