"""The command that invites: for the first day, and for the day when every volunteer has lost the password."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

import typer

from survey_app.cli.base import Data, app, opened, tell

__all__ = ["invite"]


class Door(StrEnum):
    """The doors that have accounts."""

    VOLUNTEER = "volunteer"
    COMMITTEE = "committee"


@app.command(epilog="Example: heater-survey invite vera --door volunteer")
def invite(
    name: Annotated[str, typer.Argument(help="Whom it is for; the account gets this name.")],
    door: Annotated[Door, typer.Option(help="Which door it opens.")] = Door.COMMITTEE,
    data: Data = None,
) -> None:
    """Make a one-time invitation: with its code somebody chooses a password of their own, within seven days."""
    from survey_app.access import Role

    print(opened(data).sign_in_rights().invite(name, Role(str(door))))
    tell(f"For {name.strip()}, once, within seven days: at the {door} door, under 'I have an invitation'.")
