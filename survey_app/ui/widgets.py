"""Pieces that several pages share: the head of the page, the questions, a standing, the cautions."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

import streamlit as st

from survey_app.access import Actor, Role
from survey_app.advice.cautions import CAUTIONS, first_things
from survey_app.intake import Problem, Question, Severity, Widget
from survey_app.records import Symptom, WarrantyClass
from survey_app.standing import CareState, Standing
from survey_app.survey import Survey
from survey_app.ui import session

__all__ = [
    "cautions",
    "page_head",
    "problems",
    "question_field",
    "show_first_things",
    "show_rows",
    "show_standing",
    "style",
    "wide",
]

_CSS = """
<style>
html { font-size: 112.5%; }
.block-container { max-width: 46rem; padding-top: 4.2rem; }
h1 { font-size: 1.9rem !important; line-height: 1.2 !important; }
h2 { font-size: 1.35rem !important; line-height: 1.25 !important; padding-top: 1.2rem !important; }
[data-testid="stPageLink"] a p { white-space: normal !important; overflow: visible !important; }
.synthetic { border: 2px dashed #6b400a; background: #fff7e6; color: #3f2703;
  padding: .45rem .8rem; border-radius: .5rem; }
[data-testid="stCaptionContainer"], [data-testid="stWidgetLabelHelp"] { color: #3b4650; }
button, [role="radiogroup"] label, [data-testid="stPageLink"] a { min-height: 2.75rem; }
[data-testid="stPageLink"] a { border: 2px solid #1d4865; border-radius: .5rem; padding: .6rem .9rem; }
.first { border: 4px solid #7a1420; background: #fff4f2; color: #1f2a33; padding: .9rem 1rem; border-radius: .5rem; }
.first b { color: #7a1420; font-size: 1.15em; }
@media print { [data-testid="stSidebar"], [data-testid="stHeader"], button { display: none !important; } }
</style>
"""


def style() -> None:
    """Larger type, targets a thumb can hit, and a print style."""
    st.html(_CSS)


def wide() -> None:
    """Let this page use the whole width of a desk's screen, for maps and long tables."""
    st.html("<style>.block-container { max-width: 84rem; }</style>")


def page_head(survey: Survey, who: Actor) -> None:
    """The line every page carries: whose data, how fresh, how many answered, and that it is synthetic when it is."""
    state = survey.state()
    homes, answered = survey.how_many()
    if state.community.synthetic:
        doors = " Its doors stand open: anyone may try every page." if state.open_doors else ""
        st.html(
            '<div class="synthetic"><b>Synthetic demo.</b> This community is invented: no home, person or heater in it '
            f"is real.{doors}</div>"
        )
    fresh = (
        f"data of {state.changed_at:%d %B %Y} · {answered} of {homes} homes have answered" if homes else "no homes yet"
    )
    st.markdown(f"**{state.community.name}** · {fresh}")
    if who.role is not Role.RESIDENT or who.home_id:
        left, right = st.columns([3, 1])
        left.markdown(f"Signed in: {who.name}")
        if right.button("Sign out", key="head.sign_out"):
            session.leave()
            st.rerun()


def cautions() -> None:
    """The usual cautions, in full."""
    st.markdown("**Before anyone touches a heater**\n\n" + "\n".join(f"- {line}" for line in CAUTIONS))


def show_first_things(symptoms: Iterable[Symptom]) -> bool:
    """What comes before everything else; returns whether there was any."""
    sentences = first_things(symptoms)
    for sentence in sentences:
        st.html(f'<div class="first" role="alert"><b>First of all</b><br>{sentence}</div>')
    return bool(sentences)


def question_field(question: Question, form: str, given: Mapping[str, str]) -> str:
    """One question as a field; returns the text it stands for ("" when left open)."""
    key, value = f"{form}.{question.key}", given.get(question.key, "")
    st.markdown(f"**{question.text}**" + (f"  \n{question.help}" if question.help else ""))
    if question.widget is Widget.CHOICE:
        values = question.values
        picked = st.radio(
            question.text,
            values,
            index=values.index(value) if value in values else None,
            format_func=question.label,
            key=key,
            horizontal=sum(len(question.label(v)) for v in values) < 30,
            label_visibility="collapsed",
        )
        return picked or ""
    if question.widget is Widget.CHOICES:
        chosen = [v for v in (part.strip() for part in value.split(";")) if v in question.values]
        several = st.multiselect(
            question.text,
            question.values,
            chosen,
            format_func=question.label,
            key=key,
            placeholder="Any that apply",
            label_visibility="collapsed",
        )
        return ";".join(several)
    return st.text_input(question.text, value, key=key, max_chars=300, label_visibility="collapsed")


def problems(found: Iterable[Problem], form: str, overruled: Mapping[str, str]) -> dict[str, str]:
    """Problems that must be settled, each with a place for the reason to let it stand."""
    reasons: dict[str, str] = {}
    for problem in found:
        if problem.severity is Severity.NOTE:
            continue
        st.warning(f"**{problem.what}** {problem.remedy}")
        if problem.overrulable:
            text = st.text_input(
                "If it is right as it stands, say why",
                overruled.get(problem.key, ""),
                key=f"{form}.why.{problem.key}",
                max_chars=300,
            )
            if text.strip():
                reasons[problem.key] = text.strip()
    return reasons


_CLASS_WORDS = {
    WarrantyClass.IN_WARRANTY: "in warranty",
    WarrantyClass.PAST_WARRANTY: "past its warranty",
    WarrantyClass.PAST_TWICE: "past twice its warranty",
    WarrantyClass.UNKNOWN: "of unknown age",
}
_MARKS = {
    CareState.FINE: "✓ Not due",
    CareState.CLOSING: "◔ Window closing",
    CareState.DUE: "● Due",
    CareState.LATE: "✕ Window passed",
    CareState.ASK: "! Ask a contractor first",
    CareState.UNKNOWN: "? Not known",
    CareState.NONE: "– Does not apply",
}


def show_standing(found: Standing) -> None:
    """One home's standing in words."""
    show_first_things(found.comes_first)
    if found.heater is None:
        st.info(found.rests_on)
        return
    st.header(f"This heater is {_CLASS_WORDS[found.warranty_class]}.")
    lines = []
    if found.age_years:
        low, best, high = found.age_years
        span = f" (between {low:.0f} and {high:.0f})" if high - low >= 1.5 else ""
        lines.append(f"It is about **{best:.0f} years old**{span}.")
    if found.warranty_end:
        day = found.warranty_end.best
        verb = "ends" if day >= found.as_of else "ended"
        lines.append(f"Its warranty {verb} around **{day:%B %Y}**.")
        if 0 <= (day - found.as_of).days <= 365:
            lines.append("**That is within a year: have it looked at, and claim what is wrong, before then.**")
    if found.warranty_multiple:
        lines.append(f"Its age is {found.warranty_multiple[1]:.1f} times its warranty term.")
    if not found.class_settled and found.warranty_class is not WarrantyClass.UNKNOWN:
        lines.append("The date is not known well enough to be sure of this class.")
    st.markdown(" ".join(lines))
    st.markdown(found.rests_on)
    st.markdown("**Care**")
    for care in found.cares:
        st.markdown(f"- **{care.what.capitalize()}: {_MARKS[care.state]}.** {care.sentence}")
    cautions()


def show_rows(rows: list[dict[str, Any]]) -> None:
    """Rows as a table that can be sorted."""
    st.dataframe(rows, hide_index=True, width="stretch")
