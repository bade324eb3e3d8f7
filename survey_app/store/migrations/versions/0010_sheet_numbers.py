"""The number printed on each home's letter: its place in the one walking order of letters and paper forms.

Revision: 0010.
"""

import sqlalchemy as sa
from alembic import op

revision = "0010"
down_revision = "0009"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Apply the step."""
    op.create_table(
        "sheet",
        sa.Column("home_id", sa.String(), nullable=False),
        sa.Column("number", sa.String(), nullable=False),
        sa.ForeignKeyConstraint(["home_id"], ["home.home_id"], name=op.f("fk_sheet_home_id")),
        sa.PrimaryKeyConstraint("home_id", name=op.f("pk_sheet")),
    )


def downgrade() -> None:
    """Take the step back."""
    op.drop_table("sheet")
