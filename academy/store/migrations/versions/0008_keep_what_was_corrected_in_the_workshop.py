"""Keep what was corrected in the workshop"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

from academy.store import types

revision = "0008"
down_revision = "0007"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "workshop_corrections",
        sa.Column("shop_id", sa.Uuid(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.Column(
            "thing",
            sa.Enum(
                "gauge",
                "foil",
                "machine",
                "panel",
                name="corrected",
                native_enum=False,
                create_constraint=True,
                length=40,
            ),
            nullable=False,
        ),
        sa.Column("thing_id", sa.Uuid(), nullable=False),
        sa.Column("field", sa.String(length=40), nullable=False),
        sa.Column("before", sa.Text(), nullable=False),
        sa.Column("after", sa.Text(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("salt", sa.String(length=32), nullable=False),
        sa.Column("corrected_at", types.UtcDateTime(), nullable=False),
        sa.Column("corrected_by", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(
            ["corrected_by"], ["people.id"], name=op.f("fk_workshop_corrections_corrected_by")
        ),
        sa.ForeignKeyConstraint(
            ["shop_id"], ["shops.id"], name=op.f("fk_workshop_corrections_shop_id")
        ),
        sa.PrimaryKeyConstraint("shop_id", "id", name=op.f("pk_workshop_corrections")),
    )
    with op.batch_alter_table("workshop_corrections", schema=None) as batch_op:
        batch_op.create_index(
            batch_op.f("ix_workshop_corrections_shop_id_thing_id_corrected_at"),
            ["shop_id", "thing_id", "corrected_at"],
            unique=False,
        )


def downgrade() -> None:
    raise NotImplementedError("migrations go forward only; restore the backup instead")
