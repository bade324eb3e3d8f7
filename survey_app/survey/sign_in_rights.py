"""Who may sign in: accounts, invitations, private codes that are taken back; for the volunteer."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from datetime import datetime

from survey_app import credentials
from survey_app.access import Action, Role
from survey_app.records import Home
from survey_app.store import AccessCode, KeptInvitation
from survey_app.store import sign_ins as kept
from survey_app.survey.context import Context
from survey_app.survey.doors import new_account
from survey_app.survey.handed_back import SignInRefused
from survey_app.survey.sheets import PRINTED

__all__ = ["Invitation", "SignInRights"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Invitation:
    """An invitation that waits: for whom, to which door, by whom, until when. Its code was shown once."""

    locator: str
    name: str
    role: Role
    made_by: str
    expires_at: datetime


class SignInRights:
    """Who may sign in to one survey. Refused to everybody else."""

    def __init__(self, context: Context) -> None:
        context.require(Action.MANAGE_SIGN_IN)
        self._context = context

    def accounts(self) -> list[tuple[str, Role]]:
        """Every account's name and door."""
        with self._context.read() as records:
            return [(name, Role(role)) for name, role in records.account_names()]

    def invitations(self) -> list[Invitation]:
        """Invitations that can still be accepted, the next to run out first."""
        with self._context.read() as records:
            found = records.invitations()
        return [
            Invitation(
                locator=one.locator,
                name=one.name,
                role=Role(one.role),
                made_by=one.made_by,
                expires_at=one.expires_at,
            )
            for one in found
            if one.expires_at > self._context.now and one.name  # the set-up code's is for no name
        ]

    def invite(self, name: str, role: Role) -> str:
        """Invite somebody to make an account of their own, for seven days and once.

        Parameters
        ----------
        name
            The account's name, or the e-mail where the organization's own sign-in is used.
        role
            Volunteer or committee.

        Returns
        -------
        str
            The code, shown this once; hand it over in person or by a way that others do not read.

        Raises
        ------
        SignInRefused
            When there is such an account, or residents are invited.
        """
        name = name.strip()
        if not name:
            raise SignInRefused("Say whom the invitation is for.")
        if role not in (Role.VOLUNTEER, Role.COMMITTEE):
            raise SignInRefused("Invitations are for volunteers and the committee; residents use their private code.")
        if name.casefold() in {n.casefold() for n, _ in self.accounts()}:
            raise SignInRefused(f"There is an account named {name} already. Choose another name.")
        with self._context.read() as records:
            taken = records.taken_locators(but_of=set())
        code = credentials.new_code(taken)
        made = KeptInvitation(
            locator=code.locator,
            code_hash=credentials.hash_secret(code.secret),
            name=name,
            role=str(role),
            made_at=self._context.now,
            made_by=self._context.actor.name,
            expires_at=self._context.now + credentials.INVITATION_LASTS,
        )
        with self._context.write("invite") as write:
            kept.drop_invitations(write, name)
            kept.put_invitation(write, made)
        return str(code)

    def withdraw(self, locator: str) -> None:
        """Take an invitation back."""
        with self._context.write("withdraw an invitation") as write:
            if write.drop(KeptInvitation, "locator", [locator]):
                write.log("invitation", locator)

    def create_account(self, name: str, password: str, role: Role) -> None:
        """Make an account with a first password that two people then know; :meth:`invite` is the better way."""
        account = new_account(name, password, role, now=self._context.now)
        with self._context.write("make an account") as write:
            if not kept.add_account(write, account):
                raise SignInRefused(f"There is an account named {account.name} already. Choose another name.")

    def remove_account(self, name: str) -> None:
        """Remove an account and sign it out everywhere.

        Raises
        ------
        SignInRefused
            For one's own account, and for the last volunteer's: somebody must be able to run the survey.
        """
        if name == self._context.actor.name:
            raise SignInRefused("Nobody removes their own account. Another volunteer can.")
        with self._context.write("remove an account") as write:
            if not kept.remove_account(write, name, str(Role.VOLUNTEER)):
                raise SignInRefused(f"{name} is the last volunteer or not there any more. Nothing was removed.")
            write.log("account", name)

    def home_addresses(self) -> dict[str, str]:
        """Every home's address by its id, for whoever manages the private codes."""
        with self._context.read() as records:
            return {h.home_id: h.address for h in records.homes()}

    def issue_codes(
        self, home_ids: Iterable[str] | None = None, *, progress: Callable[[int, int], object] | None = None
    ) -> list[tuple[Home, str]]:
        """Make new private codes; the old ones of these homes stop working.

        Returns
        -------
        list of (Home, str)
            The codes in plain text, shown this once: only their hashes are stored.
        """
        wanted = None if home_ids is None else set(home_ids)
        with self._context.read() as records:
            homes = [h for h in records.homes() if wanted is None or h.home_id in wanted]
            taken = records.taken_locators(but_of={h.home_id for h in homes})
        issued: list[tuple[Home, credentials.PrivateCode]] = []
        for home in homes:
            code = credentials.new_code(taken)
            taken.add(code.locator)
            issued.append((home, code))
        codes: list[AccessCode] = []
        with ThreadPoolExecutor(os.cpu_count()) as pool:  # Argon2 works outside Python's lock
            hashes = pool.map(credentials.hash_secret, [code.secret for _, code in issued])
            for (home, code), code_hash in zip(issued, hashes, strict=True):
                codes.append(
                    AccessCode(
                        locator=code.locator, home_id=home.home_id, code_hash=code_hash, issued_at=self._context.now
                    )
                )
                if progress:
                    progress(len(codes), len(homes))
        with self._context.write(PRINTED) as write:
            write.drop_access_codes([h.home_id for h in homes])
            write.put(codes)
            write.log("access_code", f"{len(codes)} homes")
        return [(home, str(code)) for home, code in issued]

    def revoke_codes(self, home_ids: Iterable[str]) -> int:
        """Make the private codes of homes useless without making new ones; returns how many."""
        wanted = set(home_ids)
        with self._context.read() as records:
            mine = [replace(c, revoked_at=self._context.now) for c in records.live_codes() if c.home_id in wanted]
        with self._context.write("revoke private codes") as write:
            write.put(mine)
            write.log("access_code", f"{len(mine)} homes")
        return len(mine)

    def without_code(self) -> list[str]:
        """Homes that no private code opens: no letter was made for them, or it was revoked."""
        with self._context.read() as records:
            live = {code.home_id for code in records.live_codes()}
            return [h.home_id for h in records.homes() if h.home_id not in live]
