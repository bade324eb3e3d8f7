"""Invitations, and tries to sign in counted apart from accounts and codes.

Revision: 0005.
"""

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Apply the step."""
    op.create_table(
        "invitation",
        sa.Column("locator", sa.String(length=12), nullable=False),
        sa.Column("code_hash", sa.String(length=200), nullable=False),
        sa.Column("name", sa.String(length=120), nullable=False),
        sa.Column("role", sa.String(length=20), nullable=False),
        sa.Column("made_at", sa.DateTime(), nullable=False),
        sa.Column("made_by", sa.String(length=120), nullable=False),
        sa.Column("expires_at", sa.DateTime(), nullable=False),
        sa.PrimaryKeyConstraint("locator", name=op.f("pk_invitation")),
    )
    op.create_table(
        "sign_in_try",
        sa.Column("try_id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("at", sa.DateTime(), nullable=False),
        sa.Column("subject", sa.String(length=64), nullable=False),
        sa.Column("source", sa.String(length=64), nullable=False),
        sa.PrimaryKeyConstraint("try_id", name=op.f("pk_sign_in_try")),
    )
    op.create_index(op.f("ix_sign_in_try_at"), "sign_in_try", ["at"], unique=False)
    for table in ("account", "access_code"):
        with op.batch_alter_table(table) as batch:
            batch.drop_column("failed_tries")
            batch.drop_column("locked_until")


def downgrade() -> None:
    """Take the step back."""
    for table in ("access_code", "account"):
        with op.batch_alter_table(table) as batch:
            batch.add_column(sa.Column("locked_until", sa.DateTime(), nullable=True))
            batch.add_column(sa.Column("failed_tries", sa.Integer(), nullable=False, server_default="0"))
    op.drop_index(op.f("ix_sign_in_try_at"), table_name="sign_in_try")
    op.drop_table("sign_in_try")
    op.drop_table("invitation")
