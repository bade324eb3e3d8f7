"""Entering a paper form by keyboard alone: which home it is, then a field a question, a key an answer.

Every form gets fields of its own (their keys hold the turn), so that nothing of
the form before is left in them. Choosing the home changes no field: whoever
types on while the address is still coming loses nothing.
"""

from __future__ import annotations

import json
import uuid
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import streamlit as st

from geo.addresses import readable
from survey_app.intake import QUESTIONS, SECTIONS, Question, Section, one_key, short_codes
from survey_app.survey import Submission, Survey
from survey_app.survey.paper_forms import PaperForms
from survey_app.texts import ENGLISH
from survey_app.ui import session, widgets
from survey_app.ui.answer_form import Look, code_readings, must_pick
from survey_app.ui.literal import literal

__all__ = ["Named", "paper_form", "which_home"]

_NONE_OF_THESE = "None of these: store it as written, to be decided later"
_ASKED = tuple(q for q in QUESTIONS if q.of_resident and q.key != "address")


@dataclass(frozen=True, slots=True)
class Named:
    """The home of a form, or the address as it was written where no home is known."""

    home_id: str | None
    address: str


def which_home(survey: Survey, turn: int, *, after: str | None) -> Named | None:
    """Ask which home the form is for: the next sheet, unless a number, a code or an address is typed.

    Parameters
    ----------
    survey
        The survey as the volunteer may use it.
    turn
        How many forms were entered before.
    after
        The home of the form before.
    """
    # One place for all that is said of the home: whether a line of it comes or goes, the fields below stay where they
    # are. Else a field would be drawn anew under somebody who types on, and lose the focus.
    with st.container():
        return _which_home(survey.paper_forms(), turn, after)


def _which_home(forms: PaperForms, turn: int, after: str | None) -> Named | None:
    key = f"paper.{turn}.which"
    if key not in st.session_state:
        waiting = forms.waiting(after=after)
        # Kept, so that the sheet in hand does not change when somebody else enters forms as well.
        session.keep(key, waiting[0].sheet if waiting else "")
    typed = st.text_input(
        "Sheet number (or the letter's code, or the address)", session.kept(key), key=key, max_chars=200, width=420
    ).strip()
    if not typed:
        _focus(key, f"{turn}.which")
        st.markdown("Every home has answered. To enter a form all the same, say which home it is for.")
        return None
    found = forms.find(typed)
    if found.home is not None:
        # Without its anchor, which would be one more stop of the Tab key.
        st.subheader(f"Sheet {found.home.sheet} · {literal(found.home.address)}", anchor=False)
        if found.home.answered:
            st.info("This home has answered before. This form is kept beside that answer, as a later one.")
        return Named(found.home.home_id, found.home.address)
    st.warning(f"{found.why} Type it again, or choose.")
    names = {c.place_id: readable(c.address) for c in found.may_be}
    choice = st.radio(
        "Which home is it?",
        [*names, _NONE_OF_THESE],
        format_func=lambda k: names.get(k, k),
        index=None,
        key=f"paper.{turn}.pick.{typed}",
    )
    if choice is None:
        _focus(key, f"{turn}.again.{typed}")
        return None
    return Named(None, typed) if choice == _NONE_OF_THESE else Named(choice, names[choice])


def paper_form(survey: Survey, turn: int, named: Named) -> Submission | None:
    """A field for every question, as on the paper; the stored answer on the run in which Enter was pressed."""
    form = f"paper.{turn}"
    draft = session.draft(form)
    draft.setdefault("answer_id", uuid.uuid4().hex)
    if session.field(f"{form}.send"):
        result = _store(survey, form, named)
        if result is not None:
            session.clear_draft(form)
            return result
        draft["tries"] = draft.get("tries", 0) + 1
    last: Submission | Look | None = draft.get("last")
    with st.form(form, border=False):
        left, right = st.columns(2, gap="large")
        # About where the second column of the paper begins.
        at = SECTIONS.index(Section.TODAY)
        for place, sections in ((left, SECTIONS[:at]), (right, SECTIONS[at:])):
            with place.container(gap="xsmall"):
                _fields(form, sections)
        if last is not None:
            st.header("Before it can be stored", anchor=False)
            st.markdown("Mend the field, or say why it stands; then Enter.")
            code_readings(last, draft["given"], form, ENGLISH)
            widgets.problems(last.checked.blocking, form, draft.get("why", {}))
            _focus(f"{form}.{_in_question(last)}", f"{form}.wrong.{draft.get('tries')}")
        st.form_submit_button("Store, and go on to the next (Enter)", type="primary", key=f"{form}.send")
    # Last, when the new form's fields are there: whoever goes on at once must not land in a field of the form before.
    _focus(f"{form}.which", f"{turn}.which")
    _step_on({q.key: _keys(q) for q in _ASKED if one_key(q)})
    return None


def _store(survey: Survey, form: str, named: Named) -> Submission | None:
    """Take in what the fields hold; the stored answer, or None when something must be settled first."""
    draft, forms = session.draft(form), survey.paper_forms()
    last: Submission | Look | None = draft.get("last")
    typed = {q.key: session.field(f"{form}.{q.key}") or "" for q in _ASKED}
    draft["given"] = given = forms.read(typed, named.address)
    picked = session.field(f"{form}.reading")
    if picked and picked != ENGLISH("form-code-cannot-tell") and not given["installed"]:
        given["installed"], given["installed_evidence"] = picked, "date code"
    asked = last.checked.blocking if last is not None else ()
    why = {p.key: (session.field(f"{form}.why.{p.key}") or "").strip() for p in asked}
    draft["why"] = reasons = {key: text for key, text in why.items() if text}
    if not draft.get("code_asked") and must_pick(survey, given, named.home_id):
        draft["code_asked"] = True
        draft["last"] = Look(checked=survey.answers().check_answer(given, home_id=named.home_id, overruled=reasons))
        return None
    result = forms.store(given, home_id=named.home_id, overruled=reasons, answer_id=draft["answer_id"])
    draft["last"] = result
    return result if result.stored else None


def _in_question(last: Submission | Look) -> str:
    """The field to go to: the first that must be mended, else what the label's code may mean."""
    wrong = next(iter(last.checked.blocking), None)
    if wrong is None:
        return "reading"
    return wrong.field if wrong.field in {q.key for q in _ASKED} else f"why.{wrong.key}"


def _fields(form: str, sections: Sequence[Section]) -> None:
    for section in sections:
        some = [q for q in _ASKED if q.section is section]
        if some:
            st.markdown(f"**{section.head()}**")
        for asked in some:
            codes = {asked.label(value): code for value, code in short_codes(asked.key).items()}
            legend = [f"{code}\u00a0=\u00a0{label.split(' (')[0]}" for label, code in codes.items()]
            if asked.never:
                legend = ["a date, or n = never"]
            # Plain words: a screen reader would read the marks of a bold label aloud.
            st.text_input(f"{asked.text()} {' · '.join(legend)}".strip(), key=f"{form}.{asked.key}", max_chars=300)


def _keys(asked: Question) -> str:
    """The keys that answer a question; "/" is "?" without Shift."""
    letters = "".join(short_codes(asked.key).values())
    return letters + ("/" if "?" in letters else "")


# Streamlit has no way to say which field has the focus. These two scripts move it and do nothing else: what is typed
# reaches the server as from any field, and without them Tab does the same.
_FOCUS = """<script>
(function find(tries) {
  if (window.paperFocus === %(turn)s) return; // once, also when this element is drawn anew
  const field = document.querySelector(%(field)s);
  if (!field) { if (tries) setTimeout(find, 50, tries - 1); return; }
  window.paperFocus = %(turn)s;
  let typing = false;
  field.addEventListener("keydown", () => { typing = true; }, { once: true });
  field.focus();
  // The field's text may come after the field: mark it until it stands still or somebody types.
  (function mark(times) {
    if (typing || document.activeElement !== field) return;
    if (field.select) field.select();
    if (times) setTimeout(mark, 40, times - 1);
  })(12);
})(60);
</script>"""
_STEP_ON = """<script>
(() => {
  const keys = %(keys)s;
  if (window.paperStep) document.removeEventListener("input", window.paperStep);
  window.paperStep = (event) => {
    const box = event.target.closest("[class*='st-key-paper-']");
    // By the question alone, not the form's turn: who types the next form at once must not wait for a new script.
    const names = box ? [...box.classList].map((c) => c.replace(/^st-key-paper-\\d+-/, "")) : [];
    const name = names.find((c) => c in keys);
    const typed = event.target.value.toLowerCase();
    if (!name || typed.length !== 1 || !keys[name].includes(typed)) return;
    const fields = [...document.querySelectorAll("[data-testid='stForm'] input")];
    const next = fields[fields.indexOf(event.target) + 1];
    if (next) setTimeout(() => { next.focus(); next.select(); }, 0);
  };
  document.addEventListener("input", window.paperStep);
})();
</script>"""


def _focus(key: str, turn: str) -> None:
    """Put the focus on a field, once for each `turn`, with its text marked so that typing replaces it."""
    words = {"turn": json.dumps(turn).replace("/", "|").replace("<", ""), "field": json.dumps(f".{_css(key)} input")}
    st.html(_FOCUS % words, unsafe_allow_javascript=True)


def _step_on(letters: Mapping[str, str]) -> None:
    """Let one of a question's letters in its field move the focus to the next."""
    st.html(_STEP_ON % {"keys": json.dumps(dict(letters))}, unsafe_allow_javascript=True)


def _css(key: str) -> str:
    """The class that Streamlit gives the field of a key."""
    return "st-key-" + "".join(c if c.isalnum() or c in "_-" else "-" for c in key)
