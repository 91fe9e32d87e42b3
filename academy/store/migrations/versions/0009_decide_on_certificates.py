"""Decide on certificates"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

from academy.store import types

revision = "0009"
down_revision = "0008"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "certificate_decisions",
        sa.Column("shop_id", sa.Uuid(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.Column("person_id", sa.Uuid(), nullable=False),
        sa.Column("scheme_id", sa.String(length=100), nullable=False),
        sa.Column("scheme_digest", sa.String(length=64), nullable=False),
        sa.Column(
            "level",
            sa.Enum(
                "not yet",
                "supervisor beside",
                "supervisor on site",
                "alone",
                name="level",
                native_enum=False,
                create_constraint=True,
                length=40,
            ),
            nullable=False,
        ),
        sa.Column("valid_until", sa.Date(), nullable=True),
        sa.Column("evidence", types.CanonicalJson(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("salt", sa.String(length=64), nullable=False),
        sa.Column("decided_by", sa.Uuid(), nullable=False),
        sa.Column("decided_at", types.UtcDateTime(), nullable=False),
        sa.Column("proved_by", sa.String(length=40), nullable=False),
        sa.CheckConstraint("level <> 'not yet'", name=op.f("ck_certificate_decisions_some_level")),
        sa.ForeignKeyConstraint(
            ["decided_by"], ["people.id"], name=op.f("fk_certificate_decisions_decided_by")
        ),
        sa.ForeignKeyConstraint(
            ["person_id"], ["people.id"], name=op.f("fk_certificate_decisions_person_id")
        ),
        sa.ForeignKeyConstraint(
            ["shop_id"], ["shops.id"], name=op.f("fk_certificate_decisions_shop_id")
        ),
        sa.PrimaryKeyConstraint("shop_id", "id", name=op.f("pk_certificate_decisions")),
    )
    with op.batch_alter_table("certificate_decisions", schema=None) as batch_op:
        batch_op.create_index(
            batch_op.f("ix_certificate_decisions_shop_id_person_id_scheme_id"),
            ["shop_id", "person_id", "scheme_id"],
            unique=False,
        )

    op.create_table(
        "certificate_withdrawals",
        sa.Column("shop_id", sa.Uuid(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.Column("person_id", sa.Uuid(), nullable=False),
        sa.Column("scheme_id", sa.String(length=100), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("salt", sa.String(length=64), nullable=False),
        sa.Column("withdrawn_by", sa.Uuid(), nullable=False),
        sa.Column("withdrawn_at", types.UtcDateTime(), nullable=False),
        sa.Column("proved_by", sa.String(length=40), nullable=False),
        sa.ForeignKeyConstraint(
            ["person_id"], ["people.id"], name=op.f("fk_certificate_withdrawals_person_id")
        ),
        sa.ForeignKeyConstraint(
            ["shop_id"], ["shops.id"], name=op.f("fk_certificate_withdrawals_shop_id")
        ),
        sa.ForeignKeyConstraint(
            ["withdrawn_by"], ["people.id"], name=op.f("fk_certificate_withdrawals_withdrawn_by")
        ),
        sa.PrimaryKeyConstraint("shop_id", "id", name=op.f("pk_certificate_withdrawals")),
    )
    with op.batch_alter_table("certificate_withdrawals", schema=None) as batch_op:
        batch_op.create_index(
            batch_op.f("ix_certificate_withdrawals_shop_id_person_id"),
            ["shop_id", "person_id"],
            unique=False,
        )

    op.create_table(
        "return_checks",
        sa.Column("shop_id", sa.Uuid(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.Column("person_id", sa.Uuid(), nullable=False),
        sa.Column("scheme_id", sa.String(length=100), nullable=False),
        sa.Column("saw", sa.Text(), nullable=False),
        sa.Column("salt", sa.String(length=64), nullable=False),
        sa.Column("checked_by", sa.Uuid(), nullable=False),
        sa.Column("checked_at", types.UtcDateTime(), nullable=False),
        sa.Column("proved_by", sa.String(length=40), nullable=False),
        sa.ForeignKeyConstraint(
            ["checked_by"], ["people.id"], name=op.f("fk_return_checks_checked_by")
        ),
        sa.ForeignKeyConstraint(
            ["person_id"], ["people.id"], name=op.f("fk_return_checks_person_id")
        ),
        sa.ForeignKeyConstraint(["shop_id"], ["shops.id"], name=op.f("fk_return_checks_shop_id")),
        sa.PrimaryKeyConstraint("shop_id", "id", name=op.f("pk_return_checks")),
    )
    with op.batch_alter_table("return_checks", schema=None) as batch_op:
        batch_op.create_index(
            batch_op.f("ix_return_checks_shop_id_person_id"), ["shop_id", "person_id"], unique=False
        )

    op.create_table(
        "scheme_adoptions",
        sa.Column("shop_id", sa.Uuid(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.Column("scheme_id", sa.String(length=100), nullable=False),
        sa.Column("digest", sa.String(length=64), nullable=False),
        sa.Column("applies_from", sa.Date(), nullable=False),
        sa.Column("adopted_by", sa.Uuid(), nullable=True),
        sa.Column("adopted_at", types.UtcDateTime(), nullable=False),
        sa.ForeignKeyConstraint(
            ["adopted_by"], ["people.id"], name=op.f("fk_scheme_adoptions_adopted_by")
        ),
        sa.ForeignKeyConstraint(
            ["digest"], ["frozen_documents.digest"], name=op.f("fk_scheme_adoptions_digest")
        ),
        sa.ForeignKeyConstraint(
            ["shop_id"], ["shops.id"], name=op.f("fk_scheme_adoptions_shop_id")
        ),
        sa.PrimaryKeyConstraint("shop_id", "id", name=op.f("pk_scheme_adoptions")),
    )
    with op.batch_alter_table("scheme_adoptions", schema=None) as batch_op:
        batch_op.create_index(
            batch_op.f("ix_scheme_adoptions_shop_id_scheme_id_applies_from"),
            ["shop_id", "scheme_id", "applies_from"],
            unique=False,
        )

    op.create_table(
        "work_restrictions",
        sa.Column("shop_id", sa.Uuid(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.Column("person_id", sa.Uuid(), nullable=True),
        sa.Column("scheme_id", sa.String(length=100), nullable=True),
        sa.Column(
            "level",
            sa.Enum(
                "not yet",
                "supervisor beside",
                "supervisor on site",
                "alone",
                name="level",
                native_enum=False,
                create_constraint=True,
                length=40,
            ),
            nullable=False,
        ),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("salt", sa.String(length=64), nullable=False),
        sa.Column("review_on", sa.Date(), nullable=False),
        sa.Column("restricted_by", sa.Uuid(), nullable=False),
        sa.Column("since", types.UtcDateTime(), nullable=False),
        sa.Column("proved_by", sa.String(length=40), nullable=False),
        sa.Column("lifted_by", sa.Uuid(), nullable=True),
        sa.Column("lifted_at", types.UtcDateTime(), nullable=True),
        sa.CheckConstraint("level <> 'alone'", name=op.f("ck_work_restrictions_lowers")),
        sa.CheckConstraint(
            "(lifted_by IS NULL) = (lifted_at IS NULL)", name=op.f("ck_work_restrictions_lifted")
        ),
        sa.CheckConstraint(
            "person_id IS NOT NULL OR scheme_id IS NOT NULL",
            name=op.f("ck_work_restrictions_somebody"),
        ),
        sa.ForeignKeyConstraint(
            ["lifted_by"], ["people.id"], name=op.f("fk_work_restrictions_lifted_by")
        ),
        sa.ForeignKeyConstraint(
            ["person_id"], ["people.id"], name=op.f("fk_work_restrictions_person_id")
        ),
        sa.ForeignKeyConstraint(
            ["restricted_by"], ["people.id"], name=op.f("fk_work_restrictions_restricted_by")
        ),
        sa.ForeignKeyConstraint(
            ["shop_id"], ["shops.id"], name=op.f("fk_work_restrictions_shop_id")
        ),
        sa.PrimaryKeyConstraint("shop_id", "id", name=op.f("pk_work_restrictions")),
    )
    with op.batch_alter_table("work_restrictions", schema=None) as batch_op:
        batch_op.create_index(
            batch_op.f("ix_work_restrictions_shop_id_person_id"),
            ["shop_id", "person_id"],
            unique=False,
        )

    # the rows are computed: the board computes again those that are not there
    op.drop_table("standings")
    op.create_table(
        "standings",
        sa.Column("shop_id", sa.Uuid(), nullable=False),
        sa.Column("person_id", sa.Uuid(), nullable=False),
        sa.Column("scheme_id", sa.String(length=100), nullable=False),
        sa.Column("scheme_digest", sa.String(length=64), nullable=False),
        sa.Column(
            "level",
            sa.Enum(
                "not yet",
                "supervisor beside",
                "supervisor on site",
                "alone",
                name="level",
                native_enum=False,
                create_constraint=True,
                length=40,
            ),
            nullable=False,
        ),
        sa.Column(
            "next_level",
            sa.Enum(
                "not yet",
                "supervisor beside",
                "supervisor on site",
                "alone",
                name="next_level",
                native_enum=False,
                create_constraint=True,
                length=40,
            ),
            nullable=True,
        ),
        sa.Column("missing", types.CanonicalJson(), nullable=False),
        sa.Column("valid_until", sa.Date(), nullable=True),
        sa.Column(
            "status",
            sa.Enum(
                "not yet",
                "ready for decision",
                "certified",
                "expired",
                "suspended",
                "withdrawn",
                name="statusword",
                native_enum=False,
                create_constraint=True,
                length=40,
            ),
            nullable=False,
        ),
        sa.Column(
            "certified",
            sa.Enum(
                "not yet",
                "supervisor beside",
                "supervisor on site",
                "alone",
                name="certified",
                native_enum=False,
                create_constraint=True,
                length=40,
            ),
            nullable=False,
        ),
        sa.Column(
            "ready_for",
            sa.Enum(
                "not yet",
                "supervisor beside",
                "supervisor on site",
                "alone",
                name="ready_for",
                native_enum=False,
                create_constraint=True,
                length=40,
            ),
            nullable=True,
        ),
        sa.Column("to_renew", types.CanonicalJson(), nullable=True),
        sa.Column("held_back", types.CanonicalJson(), nullable=False),
        sa.Column("sure_until", sa.Date(), nullable=True),
        sa.Column("by_trainer", sa.Boolean(), nullable=False),
        sa.Column("computed_at", types.UtcDateTime(), nullable=False),
        sa.ForeignKeyConstraint(["person_id"], ["people.id"], name=op.f("fk_standings_person_id")),
        sa.ForeignKeyConstraint(["shop_id"], ["shops.id"], name=op.f("fk_standings_shop_id")),
        sa.PrimaryKeyConstraint("shop_id", "person_id", "scheme_id", name=op.f("pk_standings")),
    )
    with op.batch_alter_table("standings", schema=None) as batch_op:
        batch_op.create_index(
            batch_op.f("ix_standings_shop_id_scheme_id_level"),
            ["shop_id", "scheme_id", "level"],
            unique=False,
        )


def downgrade() -> None:
    raise NotImplementedError("migrations go forward only; restore the backup instead")
