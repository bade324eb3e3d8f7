"""How somebody becomes an actor: accounts, private codes, the open demo."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from typing import Any

from survey_app import credentials
from survey_app.access import Actor, Role
from survey_app.store import Store
from survey_app.survey.handed_back import SignInRefused

__all__ = ["Doors", "put_account"]


class Doors:
    """Where people sign in and become actors.

    Parameters
    ----------
    store
        The open records.
    """

    def __init__(self, store: Store) -> None:
        self._store = store

    def needs_first_account(self) -> bool:
        """Whether nobody can sign in yet, so that the first volunteer must be named."""
        return not self._store.account_names() and not self._store.state().open_doors

    def is_open_demo(self) -> bool:
        """Whether the doors stand open because the community is synthetic."""
        state = self._store.state()
        return state.open_doors and state.community.synthetic

    def create_first_account(self, name: str, password: str, *, now: datetime) -> Actor:
        """Name the first volunteer. Later accounts are made by a volunteer."""
        if not self.needs_first_account():
            raise SignInRefused("The first account exists already. Ask a volunteer to make yours.")
        put_account(self._store, name, password, Role.VOLUNTEER, by=name, now=now)
        return Actor(name=name.strip(), role=Role.VOLUNTEER)

    def sign_in(self, name: str, password: str, *, now: datetime) -> Actor:
        """Sign in a volunteer or a committee member.

        Raises
        ------
        SignInRefused
            For a wrong name or password, or while the account is locked.
        """
        account = self._store.account(name.strip())
        if account and account["locked_until"] and now < account["locked_until"]:
            raise SignInRefused("Too many wrong tries. Wait 15 minutes and try again.")
        good = credentials.is_secret(account["password_hash"] if account else None, password)
        if account is not None:
            self._count(account, good, now, who=account["name"], put=lambda w, row: w.put_account(row))
        if account is None or not good:
            raise SignInRefused("That name and password do not belong together.")
        return Actor(name=account["name"], role=Role(account["role"]))

    def open_home(self, typed_code: str, *, now: datetime) -> Actor:
        """Open one home with the private code from its letter.

        Raises
        ------
        SignInRefused
            For a wrong or revoked code, or while it is locked.
        """
        code = credentials.read_code(typed_code)
        if code is None:
            raise SignInRefused("A code has 14 letters and digits, like ABCD-EFGHJ-KMNPQ. Check it against the letter.")
        row = self._store.access_code(code.locator)
        if row and row["locked_until"] and now < row["locked_until"]:
            raise SignInRefused("Too many wrong tries. Wait 15 minutes and try again.")
        live = row is not None and row["revoked_at"] is None
        good = credentials.is_secret(row["code_hash"] if row and live else None, code.secret)
        if row is not None:
            self._count(row, good, now, who="resident", put=lambda w, changed: w.put_access_codes([changed]))
        if row is None or not good:
            raise SignInRefused(
                "That code is not known. Check it against the letter, or ask the volunteer for a new one."
            )
        return Actor(name="resident with code", role=Role.RESIDENT, home_id=row["home_id"])

    def change_password(self, actor: Actor, old: str, new: str, *, now: datetime) -> None:
        """Change one's own password; the old one is asked for, and wrong tries count toward the lock.

        Raises
        ------
        SignInRefused
            When the old one is wrong, or the new one is too weak (OWASP Authentication Cheat Sheet: the current
            password is verified before it is changed).
        """
        self.sign_in(actor.name, old, now=now)
        weak = credentials.weak_password(new)
        if weak:
            raise SignInRefused(weak)
        account = self._store.account(actor.name)
        if account is None:
            raise SignInRefused("That account is not there any more.")
        with self._store.writing(who=actor.name, action="change a password", at=now) as write:
            write.put_account({**account, "password_hash": credentials.hash_secret(new)})
            write.log("account", actor.name)

    def step_in(self, role: Role) -> Actor:
        """Enter the open demo without a password.

        Raises
        ------
        SignInRefused
            Everywhere but in the synthetic demo.
        """
        if not self.is_open_demo():
            raise SignInRefused("Only the synthetic demo can be entered without signing in.")
        return Actor(name=f"demo {role}", role=role)

    def step_into_a_home(self) -> Actor:
        """Enter a home of the open demo without its code: one whose heater's age and anode work are known.

        Raises
        ------
        SignInRefused
            Everywhere but in the synthetic demo, and where nobody has answered.
        """
        who = self.step_in(Role.RESIDENT)
        acts: dict[str, int] = {}
        for record in self._store.services():
            acts[record.heater_id] = acts.get(record.heater_id, 0) + 1
        known = [
            h for h in self._store.heaters() if h.in_service and h.installed and h.kind.has_tank and not h.symptoms
        ]
        if not known:
            raise SignInRefused("No home of this demo has answered yet.")
        best = max(known, key=lambda h: (acts.get(h.heater_id, 0), h.heater_id))
        return Actor(name=who.name, role=who.role, home_id=best.home_id)

    def _count(
        self, row: dict[str, Any], good: bool, now: datetime, *, who: str, put: Callable[[Any, dict[str, Any]], None]
    ) -> None:
        if good and row["failed_tries"] == 0 and row["locked_until"] is None:
            return
        tries, until = (0, None) if good else credentials.lock_state(row["failed_tries"], now)
        with self._store.writing(who=who, action="sign in" if good else "sign-in refused", at=now) as write:
            put(write, {**row, "failed_tries": tries, "locked_until": until})


def put_account(store: Store, name: str, password: str, role: Role, *, by: str, now: datetime) -> None:
    """Store a new account; refuses weak passwords and names that are taken."""
    name = name.strip()
    if not name:
        raise SignInRefused("Give the account a name.")
    weak = credentials.weak_password(password)
    if weak:
        raise SignInRefused(weak)
    if role not in (Role.VOLUNTEER, Role.COMMITTEE):
        raise SignInRefused("Accounts are for volunteers and the committee; residents use their private code.")
    if store.account(name) is not None:
        raise SignInRefused(f"There is an account named {name} already. Choose another name.")
    row = {
        "name": name,
        "role": str(role),
        "password_hash": credentials.hash_secret(password),
        "created_at": now,
        "failed_tries": 0,
        "locked_until": None,
    }
    with store.writing(who=by, action="make an account", at=now) as write:
        write.put_account(row)
        write.log("account", name, None, {"role": str(role)})
