"""Let an examination that nobody began be withdrawn"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

from academy.store import types

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None


def upgrade() -> None:
    # in place: SQLite would copy the table and lose its checks
    op.add_column("sittings", sa.Column("withdrawn_at", types.UtcDateTime(), nullable=True))


def downgrade() -> None:
    raise NotImplementedError("migrations go forward only; restore the backup instead")
