"""Which pipe takes a heater's burnt gas outside; nobody was asked before.

Revision: 0011.
"""

import sqlalchemy as sa
from alembic import op

revision = "0011"
down_revision = "0010"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Apply the step."""
    op.add_column("heater", sa.Column("venting", sa.String(), nullable=False, server_default="unknown"))


def downgrade() -> None:
    """Take the step back."""
    op.drop_column("heater", "venting")  # not as a table made anew: acts on a heater refer to it
