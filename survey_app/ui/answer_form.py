"""The form of a resident.

Nothing is sent until everything that contradicts itself is settled; what was
typed stays on the screen all the while.
"""

from __future__ import annotations

import uuid
from dataclasses import dataclass

import streamlit as st

from geo.addresses import readable
from survey_app.intake import QUESTIONS, SECTIONS, Checked
from survey_app.records import AnswerChannel
from survey_app.survey import Submission, Survey
from survey_app.texts import Texts
from survey_app.ui import session, widgets
from survey_app.ui.literal import literal

__all__ = ["Look", "answer_form", "code_readings", "must_pick"]


@dataclass(frozen=True, slots=True)
class Look:
    """An answer looked at but not yet sent."""

    checked: Checked


_SKIPPED = ("address", "answered_on")


def answer_form(survey: Survey, form: str, *, home_id: str | None = None) -> Submission | None:
    """The whole form for one home.

    Parameters
    ----------
    survey
        The survey as this person may use it.
    form
        A name for this form's fields.
    home_id
        The home, where a private code has opened it.

    Returns
    -------
    Submission or None
        The stored answer on the run in which it was sent, else None.
    """
    say = session.say()
    draft = session.draft(form)
    draft.setdefault("answer_id", uuid.uuid4().hex)
    given: dict[str, str] = draft.setdefault("given", survey.one_home(home_id).latest_given() if home_id else {})
    if session.field(f"{form}.send") and (home_id is not None or draft.get("address")):
        # Taken in before anything is drawn: what is stored needs no form any more, and many may send at once.
        given["address"] = survey.home_address(home_id) if home_id is not None else draft["address"]
        result = _send(survey, form, given, home_id or draft.get("home_id"), say)
        if result is not None:
            session.clear_draft(form)
            return result
    if home_id is None:
        _address_step(survey, form, draft, say)
        if not draft.get("address"):
            return None
        given["address"] = draft["address"]
    else:
        given["address"] = survey.home_address(home_id)
    last: Submission | Look | None = draft.get("last")
    if last is not None and draft.get("told_in") != say.language:
        # The language was changed: what was found is told again in the new one.
        picked, reasons = home_id or draft.get("home_id"), draft.get("why", {})
        looked = survey.answers().check_answer(given, home_id=picked, overruled=reasons, say=say)
        draft["last"] = last = Look(checked=looked)
        draft["told_in"] = say.language
    with st.form(form, border=False):
        for section in SECTIONS:
            questions = [q for q in QUESTIONS if q.section is section and q.key not in _SKIPPED and q.of_resident]
            if questions:
                st.header(section.head(say))
            for question in questions:
                given[question.key] = widgets.question_field(question, form, given, say)
        if last is not None:
            st.header(say("form-before-sent"))
            code_readings(last, given, form, say)
            widgets.problems(last.checked.blocking, form, draft.get("why", {}), say)
        st.form_submit_button(say("form-send"), type="primary", width="stretch", key=f"{form}.send")
        st.markdown(say("form-stay"))
    return None


def _send(survey: Survey, form: str, given: dict[str, str], picked: str | None, say: Texts) -> Submission | None:
    """Take in what the fields hold; the stored answer, or None when something must be settled first."""
    draft = session.draft(form)
    last: Submission | Look | None = draft.get("last")
    for question in QUESTIONS:
        if question.key not in _SKIPPED and question.of_resident:
            held = session.field(f"{form}.{question.key}")
            given[question.key] = ";".join(held) if isinstance(held, list) else held or ""
    picked_date = session.field(f"{form}.reading")
    if picked_date and picked_date != say("form-code-cannot-tell") and not given.get("installed"):
        given["installed"], given["installed_evidence"] = picked_date, "date code"
    found = last.checked.blocking if last is not None else ()
    typed = {p.key: (session.field(f"{form}.why.{p.key}") or "").strip() for p in found}
    draft["why"] = reasons = {key: why for key, why in typed.items() if why}
    if not draft.get("code_asked") and must_pick(survey, given, picked):
        draft["code_asked"] = True
        looked = survey.answers().check_answer(given, home_id=picked, overruled=reasons, say=say)
        draft["last"], draft["told_in"] = Look(checked=looked), say.language
        return None
    result = survey.answers().submit(
        given,
        channel=AnswerChannel.FORM,
        home_id=picked,
        overruled=reasons,
        answer_id=str(draft["answer_id"]),
        say=say,
    )
    draft["last"], draft["told_in"] = result, say.language
    return result if result.stored else None


def must_pick(survey: Survey, given: dict[str, str], picked: str | None) -> bool:
    """Whether the label's code may mean another year and nothing else gives the date: the person picks."""
    if not given.get("date_code") or given.get("installed"):
        return False
    content = survey.answers().check_answer(given, home_id=picked).content
    return content is not None and bool(content.code_meanings)


def _address_step(survey: Survey, form: str, draft: dict[str, object], say: Texts) -> None:
    """Which home: type, then pick from what fits, or go on as typed and let the volunteer decide."""
    typed = st.text_input(
        say("form-address"),
        key=f"{form}.address_typed",
        placeholder=say("form-address-example"),
        max_chars=200,
        autocomplete="street-address",
    ).strip()
    # A tap on it is what takes the typed line in: a phone's keyboard may have no Enter.
    st.button(say("form-address-find"), key=f"{form}.find", width="stretch")
    if not typed:
        st.markdown(say("form-address-type"))
        draft.pop("address", None)
        return
    found = {c.place_id: readable(c.address) for c in survey.answers().suggest(typed)[:6]}
    other = say("form-address-none")
    choice = st.radio(
        say("form-address-pick"),
        [*found, other],
        format_func=lambda k: literal(found[k]) if k in found else k,
        index=None,
        key=f"{form}.address_pick",
    )
    if choice is None:
        draft.pop("address", None)
    elif choice == other:
        draft["address"], draft["home_id"] = typed, None
        st.info(say("form-address-by-hand"))
    else:
        draft["address"], draft["home_id"] = found[choice], choice


def code_readings(last: Submission | Look, given: dict[str, str], form: str, say: Texts) -> None:
    """What the code on the data plate may mean; the person picks, nobody guesses."""
    content = last.checked.content
    if content is None or not content.code_readings or given.get("installed"):
        return
    if not any(r.fits for r in content.code_readings):
        st.info(say("form-code-no-date"))
    if not content.code_meanings:
        return
    meanings = {one.as_typed: f"**{one.year}:** {literal(one.how_in(say))}" for one in content.code_meanings}
    none = say("form-code-cannot-tell")
    choice = st.radio(
        say("form-code-which"),
        [*meanings, none],
        format_func=lambda k: meanings.get(k, k),
        index=None,
        key=f"{form}.reading",
    )
    if choice and choice != none:
        given["installed"], given["installed_evidence"] = choice, "date code"
