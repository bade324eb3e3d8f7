"""How somebody becomes an actor: accounts, invitations, private codes, the open demo."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from datetime import datetime

from survey_app import credentials
from survey_app.access import Actor, Role
from survey_app.store import Account, KeptInvitation, Reading, Store
from survey_app.store import sign_ins as kept
from survey_app.survey.handed_back import SignInRefused

__all__ = ["Doors", "new_account"]

_NOBODY_YET = ""
"""The name of the set-up code's invitation: it is for whoever comes first. No other invitation can have it."""

_TOO_MANY = "Too many wrong tries. Wait 15 minutes and try again."
_BAD_PASSWORD = "That name and password do not belong together."
_NOT_THE_OLD = "The password now is another one. Type it again; nothing was changed."
_BAD_CODE = "That code is not known. Check it against the letter, or ask the volunteer for a new one."
_BAD_INVITATION = "That invitation is not known, was used, or has run out. Ask a volunteer for a new one."
_BAD_SET_UP = (
    "That code is not known, was used, or has run out. The terminal shows a new one each time the app is started."
)
_SHAPE = "A code has 14 letters and digits, like ABCD-EFGHJ-KMNPQ. Check it against the letter."


class Doors:
    """Where people sign in and become actors.

    Every refusal says the same whether or not the name or code exists, and takes
    as long (OWASP Authentication Cheat Sheet, "Authentication and Error
    Messages"). Tries are counted by what is tried and where it comes from, in the
    records, so that neither a restart nor many at once forget them.

    Parameters
    ----------
    store
        The open records.
    source
        Where the person comes from: the address of their connection.
    """

    def __init__(self, store: Store, *, source: str = "this machine") -> None:
        self._store, self._source = store, source

    def needs_first_account(self) -> bool:
        """Whether nobody can sign in yet, so that the first volunteer must be named."""
        with self._store.read() as records:
            return not records.account_names() and not records.state().open_doors

    def is_open_demo(self) -> bool:
        """Whether the doors stand open because the community is synthetic."""
        with self._store.read() as records:
            return _is_open_demo(records)

    def set_up_code(self, *, now: datetime) -> str | None:
        """A fresh code that lets one person name the first volunteer; None where somebody can sign in already.

        It is for whoever starts the app, who holds the data folder anyway, and is shown this once. The one before
        stops working.
        """
        if not self.needs_first_account():
            return None
        code = credentials.new_code(self._store.taken_locators(but_of=set()))
        made = KeptInvitation(
            locator=code.locator,
            code_hash=credentials.hash_secret(code.secret),
            name=_NOBODY_YET,
            role=str(Role.VOLUNTEER),
            made_at=now,
            made_by="set-up code",
            expires_at=now + credentials.INVITATION_LASTS,
        )
        with self._store.writing(who="set-up code", action="make a set-up code", at=now) as write:
            kept.drop_invitations(write, _NOBODY_YET)
            kept.put_invitation(write, made)
        return str(code)

    def create_first_account(self, typed_code: str, name: str, password: str, *, now: datetime) -> Actor:
        """Name the first volunteer, with the code that the terminal showed at the start.

        A volunteer's invitation made by the command line serves as well, for the name it was made for. Later
        accounts are made by a volunteer's invitation alone.

        Raises
        ------
        SignInRefused
            For a wrong, used or outdated code, a weak password, after too many wrong tries, or when somebody was first.
        """
        late = "The first account exists already. Ask a volunteer for an invitation."
        if not self.needs_first_account():
            raise SignInRefused(late)
        code = credentials.read_code(typed_code)
        if code is None:
            raise SignInRefused(_SHAPE.replace("letter.", "terminal."))
        subject = f"invitation {code.locator}"
        self._count(subject, now)
        made = self._store.invitation(code.locator)
        good = credentials.is_secret(made.code_hash if made else None, code.secret)
        if made is None or not good or not _opens_first(made, name, now):
            raise SignInRefused(_BAD_SET_UP)
        kept.right_try(self._store, subject, self._source)
        account = new_account(name, password, Role.VOLUNTEER, now=now)
        with self._store.writing(who=account.name, action="make an account", at=now) as write:
            if not kept.take_invitation(write, code.locator):
                raise SignInRefused(_BAD_SET_UP)
            if not kept.add_account(write, account, only_first=True):
                raise SignInRefused(late)
            kept.drop_invitations(write, _NOBODY_YET)
        return Actor(name=account.name, role=Role.VOLUNTEER)

    def sign_in(self, name: str, password: str, *, now: datetime) -> Actor:
        """Sign in a volunteer or a committee member.

        Raises
        ------
        SignInRefused
            For a wrong name or password, or after too many wrong tries.
        """
        subject = f"account {name.strip().casefold()}"
        self._count(subject, now)
        account = self._store.account(name.strip())
        good = credentials.is_secret(account.password_hash if account else None, password)
        if account is None or not good:
            raise SignInRefused(_BAD_PASSWORD)
        kept.right_try(self._store, subject, self._source)
        return Actor(name=account.name, role=Role(account.role))

    def open_home(self, typed_code: str, *, now: datetime) -> Actor:
        """Open one home with the private code from its letter.

        Raises
        ------
        SignInRefused
            For a wrong or revoked code, or after too many wrong tries.
        """
        code = credentials.read_code(typed_code)
        if code is None:
            raise SignInRefused(_SHAPE, "door-code-shape")
        subject = f"code {code.locator}"
        self._count(subject, now)
        known = self._store.access_code(code.locator)
        live = known is not None and known.revoked_at is None
        good = credentials.is_secret(known.code_hash if known and live else None, code.secret)
        if known is None or not good:
            raise SignInRefused(_BAD_CODE, "door-code-unknown")
        kept.right_try(self._store, subject, self._source)
        return Actor(name="resident with code", role=Role.RESIDENT, home_id=known.home_id)

    def accept_invitation(self, typed_code: str, name: str, password: str, *, now: datetime) -> Actor:
        """Make one's own account with an invitation, which is used up by it.

        Parameters
        ----------
        typed_code
            The invitation's code.
        name
            The name it was made for, which only the invited person and the volunteer know.
        password
            The person's own choice; nobody else has ever known it.
        now
            The moment.

        Raises
        ------
        SignInRefused
            For a wrong, used or outdated invitation, a weak password, or after too many wrong tries.
        """
        code = credentials.read_code(typed_code)
        if code is None:
            raise SignInRefused(_SHAPE.replace("letter.", "invitation."))
        subject = f"invitation {code.locator}"
        self._count(subject, now)
        made = self._store.invitation(code.locator)
        good = credentials.is_secret(made.code_hash if made else None, code.secret)
        named = made is not None and made.name != _NOBODY_YET and made.name.casefold() == name.strip().casefold()
        if made is None or not good or made.expires_at <= now or not named:
            raise SignInRefused(_BAD_INVITATION)
        kept.right_try(self._store, subject, self._source)
        account = new_account(made.name, password, Role(made.role), now=now)
        with self._store.writing(who=made.made_by, action="accept an invitation", at=now) as write:
            if not kept.take_invitation(write, code.locator):
                raise SignInRefused(_BAD_INVITATION)
            if not kept.add_account(write, account):
                raise SignInRefused(_taken(made.name))
        return Actor(name=made.name, role=Role(made.role))

    def enter_by_email(self, email: str, *, verified: bool, now: datetime) -> Actor:
        """Let in whom the organization's own sign-in (OpenID Connect) has vouched for, where the e-mail is an account.

        An invitation made for the e-mail becomes the account at the first time.

        Raises
        ------
        SignInRefused
            When the provider has not verified the e-mail, or nobody has invited it.
        """
        wanted = email.strip().casefold()
        if not verified or "@" not in wanted:
            raise SignInRefused("Your organization's sign-in does not vouch for your e-mail. Use a password here.")
        with self._store.read() as records:
            accounts, invitations = records.account_names(), records.invitations()
        for name, role in accounts:
            if name.casefold() == wanted:
                return Actor(name=name, role=Role(role))
        for made in invitations:
            if made.name.casefold() == wanted and made.expires_at > now:
                account = Account(
                    name=made.name, role=made.role, password_hash=credentials.unusable_hash(), created_at=now
                )
                with self._store.writing(who=made.made_by, action="accept an invitation", at=now) as write:
                    if kept.take_invitation(write, made.locator) and kept.add_account(write, account):
                        return Actor(name=made.name, role=Role(made.role))
        raise SignInRefused(f"{email.strip()} has no account here. Ask a volunteer to invite that e-mail.")

    def change_password(self, actor: Actor, old: str, new: str, *, now: datetime) -> None:
        """Change one's own password; the old one is asked for, and wrong tries count toward the lock.

        Every other screen where the account is signed in is signed out by it.

        Raises
        ------
        SignInRefused
            When the old one is wrong, or the new one is too weak (OWASP Authentication Cheat Sheet: the current
            password is verified before it is changed).
        """
        if self._store.account(actor.name) is None:
            raise SignInRefused("You came in without a password of your own, so there is none to change here.")
        try:
            self.sign_in(actor.name, old, now=now)
        except SignInRefused as refused:
            # Who is signed in knows that the name exists: say which of the fields is wrong.
            raise SignInRefused(_NOT_THE_OLD) if refused.args[0] == _BAD_PASSWORD else refused from None
        weak = credentials.weak_password(new)
        if weak:
            raise SignInRefused(weak)
        account = self._store.account(actor.name)
        if account is None:
            raise SignInRefused("That account is not there any more.")
        with self._store.writing(who=actor.name, action="change a password", at=now) as write:
            write.put([replace(account, password_hash=credentials.hash_secret(new))])
            write.log("account", actor.name)

    def stamp(self, actor: Actor) -> str:
        """A mark of what lets this actor in now.

        A screen keeps it from its sign-in on and is signed out when it differs:
        the account was removed, given another door or password, the home's code
        was revoked or made anew, the demo's doors were closed (OWASP Session
        Management Cheat Sheet: sessions end on the server).
        """
        with self._store.read() as records:
            if actor.home_id is not None and (codes := records.live_codes(actor.home_id)):
                return credentials.stamp("home", actor.home_id, *(c.code_hash for c in codes))
            account = records.account(actor.name) if actor.role is not Role.RESIDENT else None
            if account is not None:
                return credentials.stamp("account", account.role, account.password_hash)
            return credentials.stamp("demo") if _is_open_demo(records) else ""

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
        with self._store.read() as records:
            services, heaters = records.services(), records.heaters()
        acts = Counter(record.heater_id for record in services)
        known = [h for h in heaters if h.in_service and h.installed and h.kind.has_tank and not h.symptoms]
        if not known:
            raise SignInRefused("No home of this demo has answered yet.")
        best = max(known, key=lambda h: (acts[h.heater_id], h.heater_id))
        return Actor(name=who.name, role=who.role, home_id=best.home_id)

    def _count(self, subject: str, now: datetime) -> None:
        if kept.begin_try(self._store, subject, self._source, now) is None:
            raise SignInRefused(_TOO_MANY, "door-too-many")


def _is_open_demo(records: Reading) -> bool:
    state = records.state()
    return state.open_doors and state.community.synthetic


def _opens_first(made: KeptInvitation, name: str, now: datetime) -> bool:
    """Whether an invitation lets this person name the first volunteer."""
    named = made.name == _NOBODY_YET or made.name.casefold() == name.strip().casefold()
    return bool(named and made.role == Role.VOLUNTEER and made.expires_at > now)


def new_account(name: str, password: str, role: Role, *, now: datetime) -> Account:
    """A new account.

    Raises
    ------
    SignInRefused
        For an empty name, a weak password, or a role that has no accounts.
    """
    name = name.strip()
    if not name:
        raise SignInRefused("Give the account a name.")
    weak = credentials.weak_password(password)
    if weak:
        raise SignInRefused(weak)
    if role not in (Role.VOLUNTEER, Role.COMMITTEE):
        raise SignInRefused("Accounts are for volunteers and the committee; residents use their private code.")
    return Account(name=name, role=str(role), password_hash=credentials.hash_secret(password), created_at=now)


def _taken(name: str) -> str:
    return f"There is an account named {name} already. Choose another name."
