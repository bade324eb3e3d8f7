"""Photographs of data plates.

Revision: 0008.
"""

import sqlalchemy as sa
from alembic import op

revision = "0008"
down_revision = "0007"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Apply the step."""
    op.create_table(
        "plate_photo",
        sa.Column("photo_id", sa.String(), nullable=False),
        sa.Column("home_id", sa.String(), nullable=False),
        sa.Column("at", sa.DateTime(), nullable=False),
        sa.Column("state", sa.String(), nullable=False),
        sa.Column("jpeg", sa.LargeBinary(), nullable=False),
        sa.ForeignKeyConstraint(["home_id"], ["home.home_id"], name=op.f("fk_plate_photo_home_id_home")),
        sa.PrimaryKeyConstraint("photo_id", name=op.f("pk_plate_photo")),
    )
    op.create_index(op.f("ix_plate_photo_home_id"), "plate_photo", ["home_id"], unique=False)


def downgrade() -> None:
    """Take the step back."""
    op.drop_index(op.f("ix_plate_photo_home_id"), table_name="plate_photo")
    op.drop_table("plate_photo")
