"""A reply to an offer keeps which kind of heater the home asked for instead of its own.

Revision: 0009.
"""

import sqlalchemy as sa
from alembic import op

revision = "0009"
down_revision = "0008"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Apply the step."""
    op.add_column("offer_reply", sa.Column("wants_kind", sa.String(), nullable=True))


def downgrade() -> None:
    """Take the step back."""
    with op.batch_alter_table("offer_reply") as table:
        table.drop_column("wants_kind")
