"""People try to get in where they do not belong; those who belong get in."""

from __future__ import annotations

import inspect
import sqlite3
import statistics
import time
from concurrent.futures import ThreadPoolExecutor
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from survey_app import credentials
from survey_app.access import Actor, NotAllowed, Role
from survey_app.records import AnswerChannel
from survey_app.store import sign_ins as kept
from survey_app.survey import Doors, SignInRefused, Survey, open_store

NOW = datetime(2026, 5, 2, 9, 30)
PASSWORD = "three unrelated words"
WRONG = "QQQQQ-QQQQQ"


def front(place: Path, role: Role = Role.VOLUNTEER, *, home_id: str | None = None, now: datetime = NOW) -> Survey:
    """The survey as somebody."""
    return Survey(open_store(place), Actor(name=str(role), role=role, home_id=home_id), now=now)


def refused(way: object) -> str:
    """What somebody who is refused is told."""
    with pytest.raises(SignInRefused) as told:
        way()  # type: ignore[operator]
    return str(told.value)


# ---- guessing ------------------------------------------------------------------------


def test_a_code_that_does_not_exist_is_refused_in_the_same_words_and_locked_alike(data: Path) -> None:
    """Nobody learns by guessing which first parts are real: same sentences in the same order."""
    ((_, code),) = front(data).sign_in_rights().issue_codes([open_store(data).homes()[0].home_id])
    real, unknown = code[:4], "ZZZZ" if code[:4] != "ZZZZ" else "YYYY"
    said = []
    for locator in (real, unknown):
        doors = Doors(open_store(data), source=f"for {locator}")
        said.append([refused(lambda at=f"{locator}-{WRONG}", d=doors: d.open_home(at, now=NOW)) for _ in range(7)])

    assert said[0] == said[1]
    assert "not known" in said[0][4]
    assert "Too many" in said[0][5]


def test_an_account_that_does_not_exist_is_refused_in_the_same_words_and_locked_alike(data: Path) -> None:
    """The same for names; a locked name is not told apart from one that never was."""
    front(data).sign_in_rights().create_account("carla", PASSWORD, Role.COMMITTEE)
    said = []
    for name in ("carla", "nobody at all"):
        doors = Doors(open_store(data), source=f"for {name}")
        said.append([refused(lambda n=name, d=doors: d.sign_in(n, "wrong", now=NOW)) for _ in range(7)])

    assert said[0] == said[1]


def test_an_unknown_name_takes_as_long_as_a_known_one(data: Path) -> None:
    """Medians of 15 tries each differ by less than a factor of two: the hash is computed either way."""
    front(data).sign_in_rights().create_account("carla", PASSWORD, Role.COMMITTEE)
    took: dict[str, list[float]] = {"carla": [], "nobody": []}
    for turn in range(15):
        for name, times in took.items():
            doors = Doors(open_store(data), source=f"place {turn}")
            moment = NOW + timedelta(hours=turn)
            began = time.perf_counter()
            refused(lambda n=name, d=doors, m=moment: d.sign_in(n, "wrong", now=m))
            times.append(time.perf_counter() - began)
    known, unknown = statistics.median(took["carla"]), statistics.median(took["nobody"])

    assert 0.5 < unknown / known < 2


def test_brute_force_from_one_place_is_stopped_whatever_is_tried(data: Path) -> None:
    """Two hundred different codes from one place: twenty are looked at, then even the right one is refused."""
    ((home, code),) = front(data).sign_in_rights().issue_codes([open_store(data).homes()[0].home_id])
    attacker, neighbor = (Doors(open_store(data), source=s) for s in ("198.51.100.7", "203.0.113.9"))
    guesses = [str(credentials.new_code(set())) for _ in range(200)]
    said = [refused(lambda c=guess: attacker.open_home(c, now=NOW)) for guess in guesses]

    assert sum("not known" in s for s in said) == 20
    assert "Too many" in refused(lambda: attacker.open_home(code, now=NOW))
    assert neighbor.open_home(code, now=NOW).home_id == home.home_id


def test_many_places_at_one_name_lock_it_and_many_names_leave_each_place_three(data: Path) -> None:
    """Fifteen tries at one name from anywhere; after five hundred in all, three a place: slower, never closed."""
    store = open_store(data)
    tried = [kept.begin_try(store, "account vera", f"place {n}", NOW) for n in range(20)]
    assert [t is not None for t in tried] == [True] * 15 + [False] * 5
    for n in range(485):
        assert kept.begin_try(store, f"account {n}", f"far {n}", NOW) is not None
    calm = [kept.begin_try(store, f"account x{n}", "fresh place", NOW) for n in range(5)]
    assert [t is not None for t in calm] == [True, True, True, False, False]


def test_a_lock_outlives_a_restart_and_runs_out(data: Path) -> None:
    """The tries are in the records; after a quarter of an hour the right code opens, and old tries are gone."""
    ((home, code),) = front(data).sign_in_rights().issue_codes([open_store(data).homes()[0].home_id])
    for _ in range(5):
        refused(lambda: Doors(open_store(data)).open_home(f"{code[:4]}-{WRONG}", now=NOW))
    assert "Too many" in refused(lambda: Doors(open_store(data)).open_home(code, now=NOW + timedelta(minutes=14)))
    assert Doors(open_store(data)).open_home(code, now=NOW + timedelta(minutes=16)).home_id == home.home_id
    refused(lambda: Doors(open_store(data)).sign_in("x", "y", now=NOW + timedelta(hours=3)))
    with sqlite3.connect(data / "survey.sqlite") as db:
        assert db.execute("SELECT count(*) FROM sign_in_try").fetchone() == (1,)


def test_tries_at_once_cannot_slip_through_the_count(data: Path) -> None:
    """Thirty threads at one code at the same moment: five are looked at."""
    ((_, code),) = front(data).sign_in_rights().issue_codes([open_store(data).homes()[0].home_id])
    store = open_store(data)

    def one(_: int) -> str:
        return refused(lambda: Doors(store, source="one").open_home(f"{code[:4]}-{WRONG}", now=NOW))

    with ThreadPoolExecutor(30) as pool:
        said = list(pool.map(one, range(30)))
    assert sum("not known" in s for s in said) == 5


def test_wrong_guesses_empty_no_cache_and_keep_no_words(data: Path) -> None:
    """The version of the data stays; neither what was typed nor where it came from stands in the records."""
    before = open_store(data).state().data_version
    refused(lambda: Doors(open_store(data), source="198.51.100.77").sign_in("my-secret-by-mistake", "x", now=NOW))

    assert open_store(data).state().data_version == before
    with sqlite3.connect(data / "survey.sqlite") as db:
        dump = "\n".join(db.iterdump())
    assert "my-secret-by-mistake" not in dump
    assert "198.51.100.77" not in dump


# ---- replay, and other homes ------------------------------------------------------------


def test_a_code_opens_one_home_and_nothing_after_it_is_revoked(data: Path) -> None:
    """Another home's id does not help; a revoked code is refused, and the screens it opened are signed out."""
    homes = open_store(data).homes()
    survey = front(data)
    issued = {h.home_id: c for h, c in survey.sign_in_rights().issue_codes([h.home_id for h in homes[:2]])}
    mine, other = homes[0].home_id, homes[1].home_id
    doors = Doors(open_store(data))
    who = doors.open_home(issued[mine], now=NOW)
    inside = Survey(open_store(data), who, now=NOW)
    for way in (inside.one_home, lambda h: inside.one_home(h).standing(), lambda h: inside.one_home(h).latest_given()):
        with pytest.raises(NotAllowed, match="no other"):
            way(other)
    given = {"address": homes[1].address, "kind": "gas storage", "consent": "yes"}
    sent = inside.answers().submit(given, channel=AnswerChannel.FORM, home_id=other)
    assert sent.join.home_id == mine, "what a code opens decides the home, not the id that was sent"

    mark = doors.stamp(who)
    assert survey.sign_in_rights().revoke_codes([mine]) == 1
    assert doors.stamp(who) != mark
    assert "not known" in refused(lambda: doors.open_home(issued[mine], now=NOW))
    assert mine in survey.sign_in_rights().without_code()
    assert doors.open_home(issued[other], now=NOW).home_id == other


def test_a_letter_printed_again_never_takes_over_a_neighbors_code(data: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """First parts of codes in use are not given out again, even when only one home gets a new one."""
    homes = [h.home_id for h in open_store(data).homes()]
    survey = front(data)
    ((_, code),) = survey.sign_in_rights().issue_codes([homes[0]])
    real, offered = credentials.new_code, []

    def stubborn(taken: set[str]) -> credentials.PrivateCode:
        offered.append(set(taken))
        return real(taken)

    monkeypatch.setattr(credentials, "new_code", stubborn)
    survey.sign_in_rights().issue_codes([homes[1]])
    assert code[:4] in offered[0]
    assert Doors(open_store(data)).open_home(code, now=NOW).home_id == homes[0]


# ---- accounts and invitations ------------------------------------------------------------


def test_an_invitation_makes_one_account_once_for_its_name(data: Path) -> None:
    """The right name and code, once, within seven days; the log tells who invited, and no secret."""
    survey = front(data)
    rights = survey.sign_in_rights()
    code = rights.invite("Carla", Role.COMMITTEE)
    doors = Doors(open_store(data))
    assert "run out" in refused(lambda: doors.accept_invitation(code, "Mallory", PASSWORD, now=NOW))
    assert "12 characters" in refused(lambda: doors.accept_invitation(code, "carla", "short", now=NOW))
    assert doors.accept_invitation(code, "carla", PASSWORD, now=NOW) == Actor(name="Carla", role=Role.COMMITTEE)
    assert "run out" in refused(lambda: doors.accept_invitation(code, "carla", PASSWORD, now=NOW))
    assert doors.sign_in("Carla", PASSWORD, now=NOW).role is Role.COMMITTEE
    assert rights.invitations() == []
    log = str(survey.change_log().entries())
    assert "accept an invitation" in log
    assert code not in log
    assert "argon2" not in log


def test_an_invitation_runs_out_is_withdrawn_and_replaced(data: Path) -> None:
    """After seven days, after a volunteer's word, after a newer one for the same name: refused."""
    rights = front(data).sign_in_rights()
    doors = Doors(open_store(data))
    first = rights.invite("carla", Role.COMMITTEE)
    second = rights.invite("carla", Role.COMMITTEE)
    assert "run out" in refused(lambda: doors.accept_invitation(first, "carla", PASSWORD, now=NOW))
    late = NOW + timedelta(days=7, minutes=1)
    assert "run out" in refused(lambda: doors.accept_invitation(second, "carla", PASSWORD, now=late))
    assert front(data, now=late).sign_in_rights().invitations() == []
    (waiting,) = rights.invitations()
    rights.withdraw(waiting.locator)
    assert "run out" in refused(lambda: doors.accept_invitation(second, "carla", PASSWORD, now=NOW))


def test_two_people_with_one_invitation_make_one_account(data: Path) -> None:
    """Eight threads accept the same invitation at the same moment."""
    code = front(data).sign_in_rights().invite("carla", Role.COMMITTEE)
    store = open_store(data)

    def one(n: int) -> bool:
        try:
            Doors(store, source=f"p{n}").accept_invitation(code, "carla", f"{PASSWORD} {n}", now=NOW)
        except SignInRefused:
            return False
        return True

    with ThreadPoolExecutor(8) as pool:
        assert sum(pool.map(one, range(8))) == 1
    assert store.account_names().count(("carla", "committee")) == 1


def test_nobody_but_a_volunteer_invites_and_residents_are_not_invited(data: Path) -> None:
    """The committee and residents are refused; a resident needs no account."""
    for role in (Role.COMMITTEE, Role.RESIDENT):
        with pytest.raises(NotAllowed):
            front(data, role).sign_in_rights()
    rights = front(data).sign_in_rights()
    assert "private code" in refused(lambda: rights.invite("x", Role.RESIDENT))
    assert "whom" in refused(lambda: rights.invite("  ", Role.COMMITTEE))
    rights.create_account("Carla", PASSWORD, Role.COMMITTEE)
    assert "already" in refused(lambda: rights.invite("carla", Role.VOLUNTEER))
    assert "already" in refused(lambda: rights.create_account("CARLA", PASSWORD, Role.VOLUNTEER))


def test_the_first_account_is_forced_and_made_once_even_by_two_at_once(tmp_path: Path) -> None:
    """A folder of one's own has no way in but naming the first volunteer; of eight at once one succeeds."""
    store = open_store(tmp_path / "own")
    assert Doors(store).needs_first_account()
    assert "Only the synthetic demo" in refused(lambda: Doors(store).step_in(Role.VOLUNTEER))
    code = str(Doors(store).set_up_code(now=NOW))

    def one(n: int) -> bool:
        try:
            Doors(store, source=f"p{n}").create_first_account(code, f"vera {n}", PASSWORD, now=NOW)
        except SignInRefused:
            return False
        return True

    with ThreadPoolExecutor(8) as pool:
        assert sum(pool.map(one, range(8))) == 1
    assert not Doors(store).needs_first_account()
    assert len(store.account_names()) == 1


def test_a_stranger_who_comes_first_names_nobody_without_the_code_of_the_terminal(tmp_path: Path) -> None:
    """Guesses, none, the code before and one that ran out are refused, and guessing is locked; the right one serves."""
    store = open_store(tmp_path / "own")
    doors = Doors(store)
    old = str(doors.set_up_code(now=NOW))
    code = str(doors.set_up_code(now=NOW))
    late = NOW + timedelta(days=7, minutes=1)

    def named(typed: str, at: datetime = NOW, source: str = "x", name: str = "mallory") -> str:
        return refused(lambda: Doors(store, source=source).create_first_account(typed, name, PASSWORD, now=at))

    assert "14 letters" in named("")
    assert "not known" in named(old)
    assert "run out" in named(code, late)
    said = [named(f"{code[:4]}-{WRONG}", source="guesser") for _ in range(7)]
    assert "not known" in said[4]
    assert "Too many" in said[5]
    assert "Too many" in named(code, source="guesser")
    assert "run out" in refused(lambda: doors.accept_invitation(code, "", PASSWORD, now=NOW)), "no other door takes it"
    assert store.account_names() == []
    assert "12 characters" in refused(lambda: doors.create_first_account(code, "vera", "short", now=NOW))
    assert doors.create_first_account(code, "vera", PASSWORD, now=NOW).role is Role.VOLUNTEER
    assert store.invitations() == []
    assert code[:4] not in str(store.changes())


def test_an_invitation_from_the_command_line_names_the_first_volunteer_too(tmp_path: Path) -> None:
    """For its own name and a volunteer's; a committee's invitation does not, and the set-up code is void afterwards."""
    survey = front(tmp_path / "own")
    doors = Doors(survey._context.store)
    spare = str(doors.set_up_code(now=NOW))
    rights = survey.sign_in_rights()
    carla, vera = rights.invite("carla", Role.COMMITTEE), rights.invite("vera", Role.VOLUNTEER)
    assert {i.name for i in rights.invitations()} == {"carla", "vera"}, "the set-up code is in no list"
    assert "not known" in refused(lambda: doors.create_first_account(carla, "carla", PASSWORD, now=NOW))
    assert "not known" in refused(lambda: doors.create_first_account(vera, "mallory", PASSWORD, now=NOW))
    assert doors.create_first_account(vera, "vera", PASSWORD, now=NOW).name == "vera"
    assert "exists already" in refused(lambda: doors.create_first_account(spare, "mallory", PASSWORD, now=NOW))
    assert "run out" in refused(lambda: doors.accept_invitation(spare, "mallory", PASSWORD, now=NOW))
    assert doors.accept_invitation(carla, "carla", PASSWORD, now=NOW).role is Role.COMMITTEE


def test_a_removed_account_or_changed_password_ends_every_screen(data: Path) -> None:
    """The mark a screen keeps differs at once; the last volunteer and one's own account stay."""
    rights = front(data).sign_in_rights()
    rights.create_account("vera", PASSWORD, Role.VOLUNTEER)
    rights.create_account("carla", PASSWORD, Role.COMMITTEE)
    doors = Doors(open_store(data))
    carla = doors.sign_in("carla", PASSWORD, now=NOW)
    mark = doors.stamp(carla)
    doors.change_password(carla, PASSWORD, "four other unrelated words", now=NOW)
    changed = doors.stamp(carla)
    assert changed != mark
    rights.remove_account("carla")
    assert doors.stamp(carla) not in (mark, changed)
    assert "last volunteer" in refused(lambda: rights.remove_account("vera"))
    assert "last volunteer" in refused(lambda: rights.remove_account("never was"))
    assert "their own" in refused(lambda: rights.remove_account("volunteer"))


def test_the_organizations_word_opens_an_account_only_for_a_verified_invited_email(data: Path) -> None:
    """Unverified, unknown and malformed are refused; an invitation becomes the account; a password never opens it."""
    rights = front(data).sign_in_rights()
    doors = Doors(open_store(data))
    rights.invite("carla@example.org", Role.COMMITTEE)
    assert "vouch" in refused(lambda: doors.enter_by_email("carla@example.org", verified=False, now=NOW))
    assert "no account" in refused(lambda: doors.enter_by_email("mallory@example.org", verified=True, now=NOW))
    assert "vouch" in refused(lambda: doors.enter_by_email("carla", verified=True, now=NOW))
    who = doors.enter_by_email("Carla@Example.org", verified=True, now=NOW)
    assert who == Actor(name="carla@example.org", role=Role.COMMITTEE)
    assert doors.enter_by_email("carla@example.org", verified=True, now=NOW + timedelta(days=30)) == who
    assert "belong together" in refused(lambda: doors.sign_in("carla@example.org", "", now=NOW))


# ---- what the committee never gets ----------------------------------------------------------


def test_no_way_of_the_committee_or_a_visitor_gives_a_contact_or_a_resident_word(data: Path) -> None:
    """Every method of the survey and its parts that needs nothing is called: what opens holds no contact, no remark."""
    home = open_store(data).homes()[0]
    words = {"contact": "zebra-4711@example.org", "remarks": "quagga-0815 remark"}
    given = {"address": home.address, "kind": "gas storage", "consent": "yes", "flush_day": "yes", **words}
    assert front(data).answers().submit(given, channel=AnswerChannel.PAPER, home_id=home.home_id).stored

    def ways(of: object) -> list[str]:
        """The methods of something that can be called with nothing."""
        return [
            name
            for name, method in inspect.getmembers(of, inspect.ismethod)
            if not name.startswith("_")
            and all(p.default is not p.empty for p in inspect.signature(method).parameters.values())
        ]

    opened, tried = set(), 0
    for role in (Role.COMMITTEE, Role.RESIDENT):
        survey = front(data, role)
        called: list[tuple[str, object]] = [("", survey)]
        for path, of in called:
            for name in ways(of):
                tried += 1
                try:
                    told = getattr(of, name)()
                except (NotAllowed, LookupError):
                    continue
                if of is survey and type(told).__module__.startswith("survey_app.survey."):
                    called.append((f"{name}.", told))  # a part, whose own ways are tried in turn
                opened.add(f"{path}{name}")
                assert "zebra-4711" not in repr(told), name
                assert "quagga-0815" not in repr(told), name
    assert {"figures.published", "figures.public_map", "state", "service_rounds.plans"} <= opened
    assert tried > 60
    for name in ("standings", "change_log", "responses", "sign_in_rights", "sheets", "set_up"):
        with pytest.raises(NotAllowed):
            getattr(front(data, Role.COMMITTEE), name)()


# ---- answers without a code ------------------------------------------------------------------


def test_an_answer_without_a_code_sent_twice_stays_joined(data: Path) -> None:
    """The same submission again is the same answer: it does not wait behind itself."""
    home = next(s.home for s in front(data).standings() if not s.answered)
    given = {"address": home.address, "kind": "gas storage", "installed": "2012", "consent": "yes"}
    for _ in range(2):
        sent = (
            front(data, Role.RESIDENT)
            .answers()
            .submit(given, channel=AnswerChannel.FORM, home_id=home.home_id, answer_id="twice")
        )
        assert sent.join.home_id == home.home_id
    assert [s.answer.answer_id for s in open_store(data).answers(home_ids=[home.home_id])] == ["twice"]
    assert front(data).one_home(home.home_id).standing().answered


def test_of_many_answers_without_a_code_at_once_one_joins_and_the_others_wait(data: Path) -> None:
    """Eight strangers answer for the same home at the same moment: nobody changes what another one told."""
    home = next(s.home for s in front(data).standings() if not s.answered)
    store = open_store(data)

    def one(n: int) -> bool:
        given = {"address": home.address, "kind": "gas storage", "installed": str(2005 + n), "consent": "yes"}
        who = Survey(store, Actor(name=f"stranger {n}", role=Role.RESIDENT), now=NOW)
        sent = who.answers().submit(given, channel=AnswerChannel.FORM, home_id=home.home_id, answer_id=f"s{n}")
        assert sent.stored
        return sent.join.home_id == home.home_id

    with ThreadPoolExecutor(8) as pool:
        assert sum(pool.map(one, range(8))) == 1
    assert len(store.answers(home_ids=[home.home_id])) == 1
    waiting = [d for d in front(data).answers().doubtful() if d.answer.answer_id.startswith("s")]
    assert len([d for d in waiting if d.candidates and d.candidates[0].place_id == home.home_id]) == 7
