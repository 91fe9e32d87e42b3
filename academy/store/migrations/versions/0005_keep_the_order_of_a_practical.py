"""Keep the order of a practical, the stage of a photograph, and the width of a pad"""

from __future__ import annotations

import json
from typing import Any

import sqlalchemy as sa
from alembic import op

from academy.store import types

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None

STAGES = (
    "first-look",
    "gauge",
    "before",
    "set-up",
    "plan",
    "test-spot",
    "working",
    "between",
    "trainee-marks",
    "inspection",
    "cooled",
    "after",
    "criteria",
    "talk",
    "stopped",
)


def upgrade() -> None:
    with op.batch_alter_table("practical_steps", schema=None) as batch_op:
        if op.get_bind().dialect.name == "postgresql":
            batch_op.drop_constraint(batch_op.f("ck_practical_steps_stage"), type_="check")
        batch_op.create_check_constraint(batch_op.f("ck_practical_steps_stage"), _known_stage())
    with op.batch_alter_table("photographs", schema=None) as batch_op:
        batch_op.add_column(sa.Column("stage", sa.String(length=40), nullable=True))
        batch_op.create_check_constraint(batch_op.f("ck_photographs_stage"), _known_stage())
    # in place: SQLite would copy the table and lose its checks
    op.add_column(
        "practicals",
        sa.Column("stages", types.CanonicalJson(), server_default="[]", nullable=False),
    )
    _write_the_order_they_began_with()
    op.add_column(
        "set_ups",
        sa.Column(
            "pad_mm",
            sa.Integer(),
            sa.CheckConstraint("pad_mm BETWEEN 10 AND 300", name=op.f("ck_set_ups_pad")),
            nullable=True,
        ),
    )


def downgrade() -> None:
    raise NotImplementedError("migrations go forward only; restore the backup instead")


def _known_stage() -> str:
    return "stage IN (" + ", ".join(f"'{stage}'" for stage in STAGES) + ")"


def _write_the_order_they_began_with() -> None:
    """A practical opened by an earlier version goes on as it began."""
    practicals = sa.table(
        "practicals",
        sa.column("shop_id", sa.Uuid()),
        sa.column("id", sa.Uuid()),
        sa.column("task", sa.Text()),
        sa.column("stages", types.CanonicalJson()),
    )
    connection = op.get_bind()
    rows = connection.execute(sa.select(practicals.c.shop_id, practicals.c.id, practicals.c.task))
    for row in rows.all():
        connection.execute(
            sa.update(practicals)
            .where(practicals.c.shop_id == row.shop_id, practicals.c.id == row.id)
            .values(stages=_order_of(json.loads(row.task)["task"]))
        )


def _order_of(task: dict[str, Any]) -> list[str]:
    if task["limit_um"] is not None:
        return ["before", "set-up", "working", "inspection", "after", "criteria", "talk"]
    if task["spots"]:
        return ["set-up", "before", "criteria", "talk"]
    return ["set-up", "working", "inspection", "criteria", "talk"]
