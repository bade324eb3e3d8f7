"""Service days: what was done at homes, plans of days, and the visits they hold.

Revision: 0002.
"""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Apply the step."""
    op.create_table(
        "event",
        sa.Column("event_id", sa.String(length=64), nullable=False),
        sa.Column("home_id", sa.String(length=100), nullable=False),
        sa.Column("kind", sa.String(length=20), nullable=False),
        sa.Column("on_date", sa.Date(), nullable=False),
        sa.Column("told_by", sa.String(length=120), nullable=False),
        sa.Column("acts", sa.JSON(), nullable=False),
        sa.Column("seen", sa.JSON(), nullable=False),
        sa.Column("findings", sa.Text(), nullable=False),
        sa.Column("kind_of_heater", sa.String(length=40), nullable=False),
        sa.Column("tank_gallons", sa.Float(), nullable=True),
        sa.Column("warranty_years", sa.Float(), nullable=True),
        sa.Column("end_cause", sa.String(length=40), nullable=True),
        sa.ForeignKeyConstraint(["home_id"], ["home.home_id"], name=op.f("fk_event_home_id")),
        sa.PrimaryKeyConstraint("event_id", name=op.f("pk_event")),
    )
    op.create_index(op.f("ix_event_home_id"), "event", ["home_id"], unique=False)
    op.create_table(
        "service_plan",
        sa.Column("plan_id", sa.String(length=64), nullable=False),
        sa.Column("job", sa.String(length=20), nullable=False),
        sa.Column("made_at", sa.DateTime(), nullable=False),
        sa.Column("made_by", sa.String(length=120), nullable=False),
        sa.Column("asked", sa.JSON(), nullable=False),
        sa.Column("planned", sa.JSON(), nullable=False),
        sa.PrimaryKeyConstraint("plan_id", name=op.f("pk_service_plan")),
    )
    op.create_table(
        "visit",
        sa.Column("plan_id", sa.String(length=64), nullable=False),
        sa.Column("home_id", sa.String(length=100), nullable=False),
        sa.Column("on_date", sa.Date(), nullable=True),
        sa.Column("confirmed", sa.Boolean(), nullable=False),
        sa.Column("outcome", sa.String(length=20), nullable=False),
        sa.Column("why", sa.Text(), nullable=False),
        sa.Column("findings", sa.JSON(), nullable=False),
        sa.Column("closed_by", sa.String(length=120), nullable=False),
        sa.ForeignKeyConstraint(["home_id"], ["home.home_id"], name=op.f("fk_visit_home_id")),
        sa.ForeignKeyConstraint(["plan_id"], ["service_plan.plan_id"], name=op.f("fk_visit_plan_id")),
        sa.PrimaryKeyConstraint("plan_id", "home_id", name=op.f("pk_visit")),
    )


def downgrade() -> None:
    """Take the step back."""
    op.drop_table("visit")
    op.drop_table("service_plan")
    op.drop_index(op.f("ix_event_home_id"), table_name="event")
    op.drop_table("event")
