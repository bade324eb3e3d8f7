"""The steps that bring the tables up to date: which there are, which a database stands at, and those it lacks.

Alembic is loaded only where a step is to be taken: opening records that are up to date, which nearly every opening
is, needs the names of the steps and one look into the database.
"""

from __future__ import annotations

import re
from pathlib import Path

import sqlalchemy as sa

__all__ = ["STEPS", "step_of", "take_steps"]

_FOLDER = Path(__file__).parent / "migrations"
STEPS: tuple[str, ...] = tuple(
    sorted(found[1] for path in (_FOLDER / "versions").iterdir() if (found := re.match(r"(\d{4})_\w+\.py$", path.name)))
)
"""Every step by its number, the first first: the files are named by it, and a test holds this to Alembic's own list."""
_VERSION = sa.table("alembic_version", sa.column("version_num", sa.String))


def step_of(connection: sa.Connection) -> str | None:
    """The newest step that this database has taken; None for an empty one."""
    if not sa.inspect(connection).has_table(_VERSION.name):
        return None
    return connection.execute(sa.select(_VERSION.c.version_num)).scalar_one_or_none()


def take_steps(connection: sa.Connection) -> None:
    """Take every step that the database lacks, inside the transaction of `connection`."""
    from alembic import command
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(_FOLDER))
    config.attributes["connection"] = connection
    command.upgrade(config, "head")
