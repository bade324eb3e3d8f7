"""A photo of the label: sent by the home, read by the volunteer, told back to the home."""

from __future__ import annotations

import io
from datetime import datetime
from pathlib import Path

from PIL import Image
from streamlit.testing.v1 import AppTest

import survey_app.ui
from geo.addresses import readable
from survey_app.access import Actor, Role
from survey_app.survey import Survey, open_store

APP = Path(survey_app.ui.__file__).with_name("app.py")


def front(place: Path) -> Survey:
    """The records as the volunteer sees them."""
    return Survey(open_store(place), Actor(name="vera", role=Role.VOLUNTEER), now=datetime.now())


def a_photo() -> bytes:
    """A picture file."""
    out = io.BytesIO()
    Image.new("RGB", (900, 600), "orange").save(out, "JPEG")
    return out.getvalue()


def errors(at: AppTest) -> list[str]:
    """What went wrong on the page."""
    return [str(e.value) for e in at.error] + [e.message for e in at.exception]


def at_home(place: Path, home_id: str, *, spanish: bool = False) -> AppTest:
    """The page My record of a home opened by its private code."""
    ((_, code),) = front(place).sign_in_rights().issue_codes([home_id])
    at = AppTest.from_file(str(APP), default_timeout=60).run()
    if spanish:
        at.button(key="head.language.es").click().run()
    at.switch_page("resident/my_heater.py").run()
    at.text_input(key="code.text").input(code)
    at.button[-1].click().run()
    at.switch_page("resident/my_record.py").run()
    return at


def volunteers() -> AppTest:
    """The volunteer's page of photos."""
    at = AppTest.from_file(str(APP), default_timeout=60).run()
    at.button(key="welcome.volunteer").click().run()
    at.switch_page("volunteer/read_plates.py").run()
    return at


def test_a_photo_is_sent_read_and_told_back(place: Path) -> None:
    """The volunteer types the year from the picture; the home's record then says it rests on the label."""
    home = next(s.home for s in front(place).standings() if not s.answered)
    at = at_home(place, home.home_id)
    at.file_uploader(key="plate.file.0").upload("label.jpg", a_photo(), "image/jpeg").run()
    at.button(key="plate.send").click().run()
    assert errors(at) == []
    assert any("Nobody has read it yet" in m.value for m in at.markdown)

    desk = volunteers()
    assert desk.selectbox(key="plates.home").value == readable(home.address)
    form = f"plates.{home.home_id}"
    desk.text_input(key=f"{form}.installed").set_value("2016").run()
    desk.button(key=f"{form}.put").click().run()
    assert errors(desk) == []
    assert any("Nothing waits" in s.value for s in desk.success)

    assert front(place).one_home(home.home_id).standing().answered
    at.run()
    assert any("A volunteer has read it" in m.value for m in at.markdown)


def test_a_code_with_several_meanings_is_chosen_by_the_volunteer(place: Path) -> None:
    """The tool guesses no date: the meanings stand there, and the one that was picked goes on file."""
    home = next(s.home for s in front(place).standings() if not s.answered and s.home.built_year)
    front(place).one_home(home.home_id).add_photo(a_photo())
    desk = volunteers()
    form = f"plates.{home.home_id}"
    desk.text_input(key=f"{form}.date_code").set_value("0610").run()
    meanings = desk.radio(key=f"{form}.meaning")
    assert len(meanings.options) > 2
    assert meanings.value is None
    assert any("October 2006 (year, then month)" in one for one in meanings.options)
    meanings.set_value("March 2006 to October 2006").run()
    desk.button(key=f"{form}.put").click().run()
    assert errors(desk) == []
    heater = front(place).one_home(home.home_id).standing().heater
    assert heater is not None
    assert heater.installed is not None
    assert (heater.installed.earliest.year, heater.installed.evidence) == (2006, "date code")


def test_a_photo_that_cannot_be_read_asks_the_home_for_another_in_its_language(place: Path) -> None:
    """Spanish at the home, the volunteer's word in between."""
    home = next(s.home for s in front(place).standings() if not s.answered)
    front(place).one_home(home.home_id).add_photo(a_photo())
    desk = volunteers()
    desk.button(key=f"plates.{home.home_id}.cannot").click().run()
    at = at_home(place, home.home_id, spanish=True)
    assert any("No se pudo leer" in m.value for m in at.markdown)


def test_a_file_that_is_no_photo_is_refused_in_a_sentence_and_the_page_stays(place: Path) -> None:
    """Called .jpg and not a picture: one sentence, and the rest of the page below it."""
    home = next(s.home for s in front(place).standings() if s.answered)
    at = at_home(place, home.home_id)
    at.file_uploader(key="plate.file.0").upload("label.jpg", b"<svg onload='x'/>", "image/jpeg").run()
    at.button(key="plate.send").click().run()
    assert errors(at) == ["This file is not a photo that can be opened. Send a JPEG, PNG or WebP picture."]
    assert at.button(key="record.delete") is not None
    assert front(place).one_home(home.home_id).photos() == []


def test_three_photos_are_enough_and_one_can_be_deleted(place: Path) -> None:
    """The field gives way to a sentence; after a deletion it is back."""
    home = next(s.home for s in front(place).standings() if s.answered)
    for _ in range(3):
        front(place).one_home(home.home_id).add_photo(a_photo())
    at = at_home(place, home.home_id)
    assert not at.file_uploader
    (first, *_) = front(place).one_home(home.home_id).photos()
    at.button(key=f"plate.remove.{first.photo_id}").click().run()
    assert len(front(place).one_home(home.home_id).photos()) == 2
    assert at.file_uploader(key="plate.file.0") is not None
