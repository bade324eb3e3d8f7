"""A reply to an offer keeps which kind of heater the home asked for instead of its own.

Revision: 0007.
"""

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Apply the step."""
    op.add_column("offer_reply", sa.Column("wants_kind", sa.String(length=20), nullable=True))


def downgrade() -> None:
    """Take the step back."""
    with op.batch_alter_table("offer_reply") as table:
        table.drop_column("wants_kind")
