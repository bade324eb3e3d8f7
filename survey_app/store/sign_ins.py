"""What signing in stores: tries by whom and from where, invitations, accounts that are made or removed.

A try is counted before the password is looked at, so that many at once cannot
slip through between the look and the count, and it is taken back when it was
right. The version of the data stays as it is: a stranger's wrong guesses empty
no cache.
"""

from __future__ import annotations

import hashlib
from datetime import datetime

import sqlalchemy as sa

from survey_app.credentials import KEEP_TRIES, TRY_WINDOW, Tries, too_many
from survey_app.store import Account, Changes, KeptInvitation, Store, tables

__all__ = [
    "add_account",
    "begin_try",
    "drop_invitations",
    "put_invitation",
    "remove_account",
    "right_try",
    "take_invitation",
]

_TRY = tables.SIGN_IN_TRY.table


def begin_try(store: Store, subject: str, source: str, at: datetime) -> int | None:
    """Count one more try, unless there were too many lately.

    Parameters
    ----------
    store
        The open records.
    subject
        What is tried: the name or the first part of a code, whether or not it exists.
    source
        Where the try comes from.
    at
        The moment.

    Returns
    -------
    int or None
        The try, to be taken back by :func:`right_try` when it was right; None when nothing is accepted for now.
    """
    what, where = _digest(subject), _digest(source)
    with store.writing_apart() as connection:
        connection.execute(sa.delete(_TRY).where(_TRY.c.at < at - KEEP_TRIES))
        lately = _TRY.c.at > at - TRY_WINDOW

        def count(*also: sa.ColumnElement[bool]) -> int:
            return int(connection.execute(sa.select(sa.func.count()).where(lately, *also)).scalar_one())

        tries = Tries(
            of_subject_from_here=count(_TRY.c.subject == what, _TRY.c.source == where),
            of_subject=count(_TRY.c.subject == what),
            from_here=count(_TRY.c.source == where),
            in_all=count(),
        )
        if too_many(tries):
            return None
        made = connection.execute(sa.insert(_TRY).values(at=at, subject=what, source=where))
        return int(made.inserted_primary_key[0])  # type: ignore[index]


def right_try(store: Store, subject: str, source: str) -> None:
    """A try was right: forget this one and the wrong ones for the same subject from the same place."""
    mine = (_TRY.c.subject == _digest(subject)) & (_TRY.c.source == _digest(source))
    with store.writing_apart() as connection:
        connection.execute(sa.delete(_TRY).where(mine))


def put_invitation(write: Changes, made: KeptInvitation) -> None:
    """Store an invitation; the log says that there is one, never its code."""
    write.put([made])
    write.log("invitation", made.name, None, {"role": made.role})


def drop_invitations(write: Changes, name: str) -> None:
    """Take back every invitation for this name, whatever its case."""
    c = tables.INVITATION.c
    found = write._connection.execute(sa.select(c.locator, c.name)).all()
    write.drop(KeptInvitation, "locator", [r.locator for r in found if r.name.casefold() == name.casefold()])


def take_invitation(write: Changes, locator: str) -> bool:
    """Use an invitation up; False when somebody was faster."""
    gone = write._connection.execute(sa.delete(tables.INVITATION.table).where(tables.INVITATION.c.locator == locator))
    return gone.rowcount == 1


def add_account(write: Changes, account: Account, *, only_first: bool = False) -> bool:
    """Store a new account; False when the name is taken, or any account exists though this should be the first."""
    there = sa.select(sa.func.count()).select_from(tables.ACCOUNT.table)
    if not only_first:
        there = there.where(sa.func.lower(tables.ACCOUNT.c.name) == account.name.lower())
    if write._connection.execute(there).scalar_one():
        return False
    write.put([account])
    write.log("account", account.name, None, {"role": account.role})
    return True


def remove_account(write: Changes, name: str, role: str) -> bool:
    """Remove an account; False when it is not there, or the last one of the role that must not be without any."""
    others = sa.select(sa.func.count()).where(tables.ACCOUNT.c.role == role, tables.ACCOUNT.c.name != name)
    if not write._connection.execute(others).scalar_one():
        mine = sa.select(tables.ACCOUNT.c.role).where(tables.ACCOUNT.c.name == name)
        if write._connection.execute(mine).scalar_one_or_none() == role:
            return False
    return write.drop(Account, "name", [name]) == 1


def _digest(text: str) -> str:
    """What is typed into a name field may be a password by mistake, and an address is personal: neither is kept."""
    return hashlib.sha256(text.encode()).hexdigest()
