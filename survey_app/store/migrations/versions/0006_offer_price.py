"""A reply to an offer keeps which forming of rounds, and which price, it was said to.

Revision: 0006.
"""

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Apply the step."""
    op.add_column("offer_reply", sa.Column("plan_id", sa.String(length=64), nullable=True))
    op.add_column("offer_reply", sa.Column("price_usd", sa.Float(), nullable=True))


def downgrade() -> None:
    """Take the step back."""
    with op.batch_alter_table("offer_reply") as table:
        table.drop_column("price_usd")
        table.drop_column("plan_id")
