"""Which reading of the answers the stored heaters and acts follow.

Revision: 0012.
"""

import sqlalchemy as sa
from alembic import op

revision = "0012"
down_revision = "0011"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Apply the step: what is there was read by nobody knows which version, and is read again when it is opened."""
    op.add_column("community", sa.Column("reading_version", sa.Integer(), nullable=False, server_default="0"))


def downgrade() -> None:
    """Take the step back."""
    with op.batch_alter_table("community") as table:
        table.drop_column("reading_version")
