"""Group purchase: bids, the rounds that were formed, and what each home said to its offer.

Revision: 0003.
"""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Apply the step."""
    op.create_table(
        "bid",
        sa.Column("contractor", sa.String(length=200), nullable=False),
        sa.Column("content", sa.JSON(), nullable=False),
        sa.Column("put_at", sa.DateTime(), nullable=False),
        sa.Column("put_by", sa.String(length=120), nullable=False),
        sa.PrimaryKeyConstraint("contractor", name=op.f("pk_bid")),
    )
    op.create_table(
        "purchase_plan",
        sa.Column("plan_id", sa.String(length=64), nullable=False),
        sa.Column("made_at", sa.DateTime(), nullable=False),
        sa.Column("made_by", sa.String(length=120), nullable=False),
        sa.Column("asked", sa.JSON(), nullable=False),
        sa.Column("formed", sa.JSON(), nullable=False),
        sa.PrimaryKeyConstraint("plan_id", name=op.f("pk_purchase_plan")),
    )
    op.create_table(
        "offer_reply",
        sa.Column("home_id", sa.String(length=100), nullable=False),
        sa.Column("says", sa.String(length=20), nullable=False),
        sa.Column("limit_usd", sa.Float(), nullable=True),
        sa.Column("latest", sa.Date(), nullable=True),
        sa.Column("at", sa.DateTime(), nullable=False),
        sa.ForeignKeyConstraint(["home_id"], ["home.home_id"], name=op.f("fk_offer_reply_home_id")),
        sa.PrimaryKeyConstraint("home_id", name=op.f("pk_offer_reply")),
    )


def downgrade() -> None:
    """Take the step back."""
    op.drop_table("offer_reply")
    op.drop_table("purchase_plan")
    op.drop_table("bid")
