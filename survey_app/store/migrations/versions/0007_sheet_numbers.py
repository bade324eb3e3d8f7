"""The number printed on each home's letter: its place in the one walking order of letters and paper forms.

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
    op.create_table(
        "sheet",
        sa.Column("home_id", sa.String(length=100), nullable=False),
        sa.Column("number", sa.String(length=20), nullable=False),
        sa.ForeignKeyConstraint(["home_id"], ["home.home_id"], name=op.f("fk_sheet_home_id")),
        sa.PrimaryKeyConstraint("home_id", name=op.f("pk_sheet")),
    )


def downgrade() -> None:
    """Take the step back."""
    op.drop_table("sheet")
