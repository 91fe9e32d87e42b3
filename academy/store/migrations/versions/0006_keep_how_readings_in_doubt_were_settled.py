"""Keep how readings in doubt were settled"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

from academy.store import types

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "doubt_settlements",
        sa.Column("shop_id", sa.Uuid(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.Column("practical_id", sa.Uuid(), nullable=False),
        sa.Column(
            "way",
            sa.Enum(
                "measured again",
                "accepted",
                "refused",
                name="settled",
                native_enum=False,
                create_constraint=True,
                length=40,
            ),
            nullable=False,
        ),
        sa.Column("stands", sa.Boolean(), nullable=False),
        sa.Column("gauge_id", sa.Uuid(), nullable=True),
        sa.Column("readings", types.CanonicalJson(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("salt", sa.String(length=32), nullable=False),
        sa.Column("settled_at", types.UtcDateTime(), nullable=False),
        sa.Column("settled_by", sa.Uuid(), nullable=False),
        sa.CheckConstraint(
            "(gauge_id IS NOT NULL) = (way = 'measured again')",
            name=op.f("ck_doubt_settlements_gauge_where_measured"),
        ),
        sa.ForeignKeyConstraint(
            ["settled_by"], ["people.id"], name=op.f("fk_doubt_settlements_settled_by")
        ),
        sa.ForeignKeyConstraint(
            ["shop_id", "gauge_id"],
            ["gauges.shop_id", "gauges.id"],
            name=op.f("fk_doubt_settlements_shop_id_gauge_id"),
        ),
        sa.ForeignKeyConstraint(
            ["shop_id", "practical_id"],
            ["practicals.shop_id", "practicals.id"],
            name=op.f("fk_doubt_settlements_shop_id_practical_id"),
        ),
        sa.ForeignKeyConstraint(
            ["shop_id"], ["shops.id"], name=op.f("fk_doubt_settlements_shop_id")
        ),
        sa.PrimaryKeyConstraint("shop_id", "id", name=op.f("pk_doubt_settlements")),
    )
    with op.batch_alter_table("doubt_settlements", schema=None) as batch_op:
        batch_op.create_index(
            batch_op.f("ix_doubt_settlements_shop_id_practical_id_settled_at"),
            ["shop_id", "practical_id", "settled_at"],
            unique=False,
        )


def downgrade() -> None:
    raise NotImplementedError("migrations go forward only; restore the backup instead")
