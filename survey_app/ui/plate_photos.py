"""Photographs of data plates on a page.

A picture goes over the connection of the one screen that shows it, inside the page: it never gets an address of its
own, under which somebody else could ask the server for it.
"""

from __future__ import annotations

import uuid
from base64 import b64encode
from html import escape

import streamlit as st

from survey_app.intake import QUESTIONS
from survey_app.plate_photos import LARGEST_BYTES, MOST_OF_A_HOME, UnusablePhoto
from survey_app.records import PlatePhoto
from survey_app.survey.one_home import OneHome
from survey_app.survey.plates import Plates
from survey_app.ui import session, widgets

__all__ = ["picture", "reading", "show"]

_ON_A_PLATE = ("installed", "date_code", "warranty_years", "tank_gallons")


def picture(photo: PlatePhoto) -> None:
    """Draw one photograph."""
    say = session.say()
    alt = escape(say("plate-alt", day=say.day(photo.at.date())), quote=True)
    source = f"data:image/jpeg;base64,{b64encode(photo.jpeg).decode()}"
    st.html(f'<img src="{source}" alt="{alt}" style="max-width: 100%; height: auto; border: 1px solid #1d4865">')


def show(home: OneHome) -> None:
    """The home's photographs, and a place to send one."""
    say = session.say()
    st.header(say("plate-title"))
    st.markdown(say("plate-help"))
    st.markdown(say("plate-kept"))
    photos = home.photos()
    for photo in photos:
        picture(photo)
        st.markdown(say(f"plate-state-{photo.state}", day=say.day(photo.at.date())))
        if st.button(say("plate-remove"), key=f"plate.remove.{photo.photo_id}"):
            home.remove_photo(photo.photo_id)
            st.rerun()
    if len(photos) >= MOST_OF_A_HOME:
        st.markdown(say("plate-enough"))
        return
    # A new key after each sent photo empties the field, so that it is not sent again.
    turn = session.kept("plate.turn") or 0
    if turn:
        st.success(say("plate-sent"))
    taken = st.file_uploader(
        say("plate-pick"), type=["jpg", "jpeg", "png", "webp"], key=f"plate.file.{turn}", max_upload_size=10
    )
    if taken is None or not st.button(say("plate-send"), type="primary", key="plate.send", width="stretch"):
        return
    try:
        home.add_photo(taken.read(LARGEST_BYTES + 1))
    except UnusablePhoto as problem:
        st.error(say(problem.key))
        return
    session.keep("plate.turn", turn + 1)
    st.rerun()


def reading(plates: Plates, form: str, home_id: str) -> dict[str, str]:
    """What a volunteer reads from a plate, by question: fields, and the meanings of a code to choose from."""
    session.draft(form).setdefault("answer_id", uuid.uuid4().hex)
    given: dict[str, str] = {}
    for question in QUESTIONS:
        if question.key in _ON_A_PLATE:
            given[question.key] = widgets.question_field(question, form, {})
    if given["installed"]:
        return {**given, "installed_evidence": "data plate"}
    meanings = plates.meanings(home_id, given["date_code"]) if given["date_code"] else {}
    if meanings:
        chosen = st.radio(
            "That code can be read like this, the likeliest first. Which one is it?",
            [*meanings, ""],
            format_func=lambda k: meanings.get(k, "It cannot be told"),
            index=None,
            key=f"{form}.meaning",
        )
        if chosen:
            return {**given, "installed": chosen, "installed_evidence": "date code"}
    return given
