"""How often one operation asks the database: a page is one snapshot, an answer one reading and one writing."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from functools import lru_cache
from pathlib import Path

import pytest
import sqlalchemy as sa

from survey_app.access import Actor, Role
from survey_app.csv_import import read_rows
from survey_app.intake import reading
from survey_app.purchase.bid_sheet import read_bids
from survey_app.purchase.households import PurchaseRound
from survey_app.purchase.plan import AskedRounds
from survey_app.records import AnswerChannel
from survey_app.survey import Survey, open_store

NOW = datetime(2026, 5, 2, 9, 30)
VOLUNTEER = Actor(name="vera", role=Role.VOLUNTEER)


@dataclass
class Asked:
    """What was asked of the database: transactions, and the statements in them."""

    transactions: int = 0
    statements: list[str] = field(default_factory=list)


@contextmanager
def counted(survey: Survey) -> Iterator[Asked]:
    """Counts what is asked of one survey's database."""
    asked, engine = Asked(), survey._context.store._engine

    def began(connection: sa.Connection) -> None:
        asked.transactions += 1

    def ran(connection: object, cursor: object, statement: str, *_: object) -> None:
        if not statement.startswith("BEGIN"):
            asked.statements.append(statement)

    sa.event.listen(engine, "begin", began)
    sa.event.listen(engine, "before_cursor_execute", ran)
    try:
        yield asked
    finally:
        sa.event.remove(engine, "begin", began)
        sa.event.remove(engine, "before_cursor_execute", ran)


@pytest.fixture
def survey(data: Path, invented: Path) -> Survey:
    """The synthetic community with rounds of the group purchase formed."""
    found = Survey(open_store(data), VOLUNTEER, now=NOW)
    purchase = found.purchase_rounds()
    purchase.put_bids(read_bids(invented / "bids.csv", as_of=NOW.date()).bids)
    begins = NOW.date() + timedelta(days=40)
    purchase.form(AskedRounds(rounds=(PurchaseRound(name="R0", begins=begins, weeks=4),), needed=5))
    return found


def of_home(survey: Survey, home_id: str) -> Survey:
    """The same survey as the people of one home see it."""
    return Survey(survey._context.store, Actor(name="resident with code", role=Role.RESIDENT, home_id=home_id), now=NOW)


def given(address: str) -> dict[str, str]:
    """A usual answer: a heater, when it was flushed, since when the people live there."""
    return {
        "address": address,
        "kind": "gas storage",
        "installed": "2014",
        "installed_evidence": "data plate",
        "last_flush": "2024",
        "moved_in": "2010",
        "softener": "yes",
        "consent": "yes",
    }


def a_silent_home(survey: Survey) -> str:
    """A home that nobody has answered for."""
    return next(s.home.home_id for s in survey.standings() if not s.answered)


def test_the_standings_of_all_homes_are_one_reading(survey: Survey) -> None:
    """Homes, what is known of each, who answered, the settings: a question to each table, not to each home."""
    with counted(survey) as asked:
        assert survey.standings()

    assert asked.transactions == 1
    assert len(asked.statements) == len(set(asked.statements)) <= 10


@pytest.mark.parametrize("page", ["offer", "standing", "record", "visits", "export", "photos", "taken_back"])
def test_a_page_of_one_home_is_one_reading(survey: Survey, page: str) -> None:
    """What the people of a home are shown is of one state, however many things it is made of."""
    rounds = survey.purchase_rounds().latest()
    assert rounds is not None
    home_id = rounds.rounds.purchases[0].home_id
    home = of_home(survey, home_id).one_home(home_id)
    with counted(survey) as asked:
        getattr(home, page)()

    assert asked.transactions == 1
    assert len(asked.statements) <= 24


def test_what_all_pages_ask_first_is_one_reading(survey: Survey) -> None:
    """The version that names what is kept, the community and how many answered are of one state."""
    with counted(survey) as asked:
        now = survey.at_a_glance()

    assert (asked.transactions, len(asked.statements)) == (1, 2)
    assert (now.state, (now.homes, now.answered)) == (survey.state(), survey.how_many())


@pytest.mark.parametrize("part", ["whole_map", "published", "coverage", "board_report"])
def test_figures_of_the_community_are_one_reading(survey: Survey, part: str) -> None:
    """What is told of all homes together is of one state."""
    with counted(survey) as asked:
        getattr(survey.figures(), part)()

    assert asked.transactions == 1


@pytest.mark.parametrize("with_code", [True, False])
def test_a_submission_is_one_reading_and_one_writing(survey: Survey, with_code: bool) -> None:
    """The home is looked up once; answer, home, heater, act and log are written at once; nothing is asked twice."""
    home_id = a_silent_home(survey)
    address = survey.home_address(home_id)
    visitor = Survey(survey._context.store, Actor(name="a visitor", role=Role.RESIDENT), now=NOW)
    visitor.answers().suggest("1")  # the addresses are read once for an open store
    with counted(survey) as asked:
        sent = (of_home(survey, home_id) if with_code else visitor).answers()
        found = sent.submit(given(address), channel=AnswerChannel.FORM, home_id=home_id)

    assert found.stored
    assert found.standing is not None
    assert found.standing.heater is not None
    assert asked.transactions == 2
    assert len(asked.statements) <= (12 if with_code else 13)
    assert len(asked.statements) == len(set(asked.statements))


def test_nothing_is_written_in_the_middle_of_a_reading(survey: Survey) -> None:
    """It would be decided by what is no longer so: said to whoever writes such a thing, and nothing is stored."""
    context = survey._context
    with context.read() as records:
        before = records.state()
        with pytest.raises(RuntimeError, match="Read first"):
            context.write("change it").__enter__()
    with context.write("change it") as write, context.read() as inside:
        assert inside is write
    assert survey.state().data_version == before.data_version + 1


def test_an_answer_is_read_once_on_its_way_in(survey: Survey, monkeypatch: pytest.MonkeyPatch) -> None:
    """Checked, joined, stored, read into the home's history and told of: its words are taken apart one time."""
    taken_apart: list[str] = []
    original = reading._understood.__wrapped__

    def watched(texts: tuple[tuple[str, str], ...], today: date, house_year: int | None) -> object:
        taken_apart.append(dict(texts).get("installed", ""))
        return original(texts, today, house_year)

    home_id = a_silent_home(survey)
    monkeypatch.setattr(reading, "_understood", lru_cache(maxsize=reading.REMEMBERED)(watched))
    told = {**given(survey.home_address(home_id)), "installed": "around 2011"}
    assert of_home(survey, home_id).answers().submit(told, channel=AnswerChannel.FORM).standing is not None
    assert taken_apart == ["around 2011"]


def test_a_row_is_read_once_however_many_there_are(
    survey: Survey, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """An import longer than what is remembered of answers reads no row again to put it into its home's history."""
    silent = [s.home for s in survey.standings() if not s.answered][:12]
    rows = "".join(f'"{home.address}",gas storage,{2010 + n},yes\n' for n, home in enumerate(silent))
    taken_apart: list[str] = []
    original = reading._understood.__wrapped__

    def watched(texts: tuple[tuple[str, str], ...], today: date, house_year: int | None) -> object:
        taken_apart.append(dict(texts)["installed"])
        return original(texts, today, house_year)

    monkeypatch.setattr(reading, "_understood", lru_cache(maxsize=1)(watched))
    (tmp_path / "rows.csv").write_text("address,kind,installed,consent\n" + rows, encoding="utf-8")
    report = survey.answers().import_answers(read_rows(tmp_path / "rows.csv"))

    assert report.new == 12
    assert report.joined == report.homes > 6  # the others wait: two homes have their address
    assert taken_apart == [str(2010 + n) for n in range(12)]
