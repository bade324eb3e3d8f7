"""Text of any length, on databases that hold columns to one.

SQLite never did; a server refused an outcome of 41 letters. What may be how long
is decided where it comes in, with a sentence, not by a column.

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
    connection = op.get_bind()
    if connection.dialect.name == "sqlite":
        return
    tables = sa.inspect(connection)
    for table in tables.get_table_names():
        for column in tables.get_columns(table):
            if isinstance(column["type"], sa.String) and column["type"].length and table != "alembic_version":
                op.alter_column(table, str(column["name"]), type_=sa.String())


def downgrade() -> None:
    """Take the step back: nothing to do, since what is stored may be longer than the old columns."""
