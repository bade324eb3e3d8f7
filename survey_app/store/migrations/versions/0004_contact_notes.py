"""Attempts to reach homes.

Revision: 0004.
"""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Apply the step."""
    op.create_table(
        "contact_note",
        sa.Column("note_id", sa.String(length=64), nullable=False),
        sa.Column("home_id", sa.String(length=100), nullable=False),
        sa.Column("on_date", sa.Date(), nullable=False),
        sa.Column("outcome", sa.String(length=40), nullable=False),
        sa.Column("told_by", sa.String(length=120), nullable=False),
        sa.Column("words", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["home_id"], ["home.home_id"], name=op.f("fk_contact_note_home_id")),
        sa.PrimaryKeyConstraint("note_id", name=op.f("pk_contact_note")),
    )
    op.create_index(op.f("ix_contact_note_home_id"), "contact_note", ["home_id"], unique=False)


def downgrade() -> None:
    """Take the step back."""
    op.drop_index(op.f("ix_contact_note_home_id"), table_name="contact_note")
    op.drop_table("contact_note")
