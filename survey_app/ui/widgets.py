"""Pieces that several pages share: the head of the page, the questions, a standing, the cautions."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any

import streamlit as st

from geo.addresses import readable
from survey_app.access import Actor, Role
from survey_app.advice.cautions import cautions as usual_cautions
from survey_app.advice.cautions import first_things
from survey_app.intake import Problem, Question, Severity
from survey_app.records import Symptom
from survey_app.texts import ENGLISH, LANGUAGES, NEEDS_REVIEW, Texts
from survey_app.ui import session
from survey_app.ui.literal import literal
from survey_app.ui.vent_pictures import vent_pictures

if TYPE_CHECKING:
    from survey_app.forecast import Odds
    from survey_app.standing import Standing
    from survey_app.survey import Survey
    from survey_app.survey.one_home import OneHome

__all__ = [
    "asked_first",
    "caution_line",
    "cautions",
    "language_choice",
    "need_homes",
    "page_head",
    "problems",
    "question_field",
    "show_first_things",
    "show_odds",
    "show_rows",
    "show_standing",
    "show_visits",
    "style",
    "sure_of_new_codes",
    "tell",
    "to_top",
    "told",
    "translation_note",
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
button, summary, [role="radiogroup"] label, [data-testid="stCheckbox"] label, [data-testid="stPageLink"] a,
[data-testid="stSidebarNavLink"], .stMain input:not([type="checkbox"], [type="radio"]) {
  min-height: 2.75rem !important; min-width: 2.75rem; }
[data-testid="stCheckbox"] label { align-items: center; }
[data-testid="stExpandSidebarButton"]::after { content: var(--menu); padding: 0 .4rem; font-size: 1rem; }
html, body, [data-testid="stMain"] { overscroll-behavior-y: contain; }
.calls { list-style: none; padding: 0; margin: 0; }
.calls li { padding: .3rem 0; margin: 0; }
.calls a { display: inline-flex; align-items: center; min-height: 2.75rem; min-width: 2.75rem; margin-right: 1rem;
  font-weight: bold; color: #1d4865; overflow-wrap: anywhere; }
@media (max-width: 40rem) {
  [data-testid="stMarkdownContainer"] :is(th, td) { padding: .3rem .35rem; font-size: .85rem; hyphens: auto;
    overflow-wrap: anywhere; }
  .st-key-head :is(p, .synthetic) { font-size: .85rem; line-height: 1.35; }
  .st-key-head .synthetic { padding: .3rem .6rem; }
}
[data-testid="stPageLink"] a { border: 2px solid #1d4865; border-radius: .5rem; padding: .6rem .9rem; }
.first { border: 4px solid #7a1420; background: #fff4f2; color: #1f2a33; padding: .9rem 1rem; border-radius: .5rem; }
.vents { display: flex; gap: .5rem; } .vents figure { flex: 1; margin: 0; font-size: .85rem; line-height: 1.3; }
.vents img { max-width: 100%; height: auto; }
.odds { margin: .5rem 0; } .odds b { display: block; }
.odds span { display: block; font-size: min(.8rem, 4.2vw); letter-spacing: .12em; line-height: 1.3; }
.ways { list-style: none; padding: 0 !important; margin: .3rem 0; }
.ways li { margin: 0 0 .9rem !important; } .ways b, .ways span { display: block; line-height: 1.35; }
.ways div { position: relative; height: 1.3rem; margin-top: .2rem; border-left: 2px solid #1f2a33; }
.ways i, .ways u { position: absolute; display: block; }
.ways i { height: 100%; background: #b9cbd8; border: 1px solid #1d4865; border-left: 0; box-sizing: border-box; }
.ways u { top: 25%; height: 50%; min-width: 2px; box-sizing: border-box; border: solid #1f2a33; border-width: 0 2px;
  background: linear-gradient(#1f2a33, #1f2a33) center / 100% 2px no-repeat; }
.ways mark { background: none; color: #1d4865; border: 2px solid #1d4865; border-radius: .4rem; padding: 0 .4rem;
  font-weight: bold; display: inline-block; margin: .15rem 0; }
.st-key-leaking a { border: 3px solid #7a1420 !important; background: #fff4f2; }
.st-key-leaking a p { color: #7a1420; }
.first b { color: #7a1420; font-size: 1.15em; }
@media print { [data-testid="stSidebar"], [data-testid="stHeader"], button { display: none !important; } }
</style>
"""


# The language of the page is told to screen readers. When the server is out of reach Streamlit lays a window over the
# page, with words of its own in English, and makes the rest inert until it is closed: on "leaking now" the page itself
# is what counts, so the window is closed as soon as it opens; elsewhere it says what becomes of what was typed.
# On a phone the open menu covers the page that was chosen in it, so the choice closes it.
_WATCH = """<script>
(() => {
  document.documentElement.lang = LANGUAGE;
  window.surveyOffline = [HEAD, WORDS];
  if (window.surveyWatches) return;
  window.surveyWatches = true;
  document.addEventListener("click", event => {
    if (window.innerWidth > 767 || !event.target.closest?.('[data-testid="stSidebarNavLink"]')) return;
    setTimeout(() => document.querySelector('[data-testid="stSidebarCollapseButton"] button')?.click(), 100);
  });
  new MutationObserver(() => {
    const dialog = document.querySelector('[data-testid="stDialog"] [role="dialog"]');
    if (!dialog || !document.querySelector('[data-testid="stStatusWidget"]')) return;
    if (location.pathname.includes("leaking_now")) {
      dialog.querySelector('button[aria-label="Close"]')?.click();
      return;
    }
    const walk = document.createTreeWalker(dialog, NodeFilter.SHOW_TEXT);
    for (let node; (node = walk.nextNode()); ) {
      if (node.data.startsWith("Connection error")) node.data = window.surveyOffline[0];
      if (node.data.includes("server is not responding")) node.data = window.surveyOffline[1];
    }
  }).observe(document.body, { childList: true, subtree: true });
})();
</script>"""


def style() -> None:
    """Larger type, targets a thumb can hit, a word on the menu's button, and a print style."""
    menu = _in_script(session.say()("head-menu"))
    st.html(f"{_CSS}<style>:root {{ --menu: {menu}; }}</style>")


def _in_script(words: str) -> str:
    """A string of a script or a style sheet; nothing in it can end the element it stands in."""
    return json.dumps(words, ensure_ascii=False).replace("<", "\\u003c")


def _watch(say: Texts) -> None:
    """Tell the page's language, and what to do when the network goes, in that language."""
    script = _WATCH.replace("LANGUAGE", _in_script(say.language)).replace("HEAD", _in_script(say("head-offline")))
    script = script.replace("WORDS", _in_script(say("head-offline-help")))
    st.html(script, unsafe_allow_javascript=True)


def to_top(what: str) -> None:
    """Show the top of the page, once for each `what`: what follows a long form begins there."""
    # The name makes it another script, so that it runs again.
    st.html(
        f"<script>/* {what.encode().hex()} */document.querySelector('[data-testid=stMain]')?.scrollTo(0, 0);</script>",
        unsafe_allow_javascript=True,
    )


def wide() -> None:
    """Let this page use the whole width of a desk's screen, for maps and long tables."""
    st.html("<style>.block-container { max-width: 84rem; }</style>")


def language_choice() -> None:
    """Each other language by its own name, one tap."""
    say = session.say()
    for language, name in LANGUAGES.items():
        if language != say.language and st.button(name, key=f"head.language.{language}"):
            session.speak(language)
            st.rerun()


def translation_note(say: Texts) -> None:
    """That nobody who speaks the language from home has read it yet, where that is so."""
    if say.language in NEEDS_REVIEW:
        st.markdown(f"*{say('door-review')}*")


def page_head(survey: Survey, who: Actor, *, for_residents: bool = False, below_help: bool = False) -> None:
    """The head of every page: whose data, how fresh, how many answered, and that it is synthetic when it is.

    Residents' pages add the way to help when it leaks, before anything else, and the choice of language; below the help
    itself (`below_help`) both have been shown.
    """
    say = session.say() if for_residents else ENGLISH
    if for_residents and not below_help:
        with st.container(key="leaking"):
            st.page_link("resident/leaking_now.py", label=f"**{say('door-leaking')}**", width="stretch")
    with st.container(key="head", gap="xsmall"):
        _head(survey, who, say, choice=for_residents and not below_help)
        if not below_help:
            translation_note(say)
    _watch(say)


def _head(survey: Survey, who: Actor, say: Texts, *, choice: bool) -> None:
    now = survey.at_a_glance()
    state, homes, answered = now.state, now.homes, now.answered
    if state.community.synthetic:
        doors = " " + say("head-open-doors") if state.open_doors else ""
        st.html(f'<div class="synthetic"><b>{say("head-synthetic")}</b> {say("head-synthetic-help")}{doors}</div>')
    day = say.day(state.changed_at.date())
    fresh = say("head-fresh", day=day, answered=answered, homes=homes) if homes else say("head-no-homes")
    st.markdown(f"**{literal(state.community.name)}** · {fresh}")
    signed_in = who.role is not Role.RESIDENT or bool(who.home_id)
    with st.container(horizontal=True, vertical_alignment="center"):
        if signed_in:
            home = who.home_id and readable(survey.home_address(who.home_id))
            st.markdown(
                say("head-home", address=literal(home)) if home else say("head-signed-in", name=literal(who.name))
            )
            if st.button(say("head-sign-out"), key="head.sign_out"):
                session.leave()
                st.rerun()
        if choice:
            language_choice()
    if session.has_ended():
        st.info(say("head-ended"))


def cautions() -> None:
    """The usual cautions, in full."""
    say = session.say()
    st.markdown(f"**{say('care-cautions-head')}**\n\n" + "\n".join(f"- {line}" for line in usual_cautions(say)))


def caution_line() -> None:
    """One line and the way to the cautions in full: for pages of figures, policies and prices, where nobody works."""
    say = session.say()
    st.markdown(say("care-cautions-line"))
    st.page_link("resident/flush_and_anode.py", label=say("care-cautions-link"))


def show_first_things(symptoms: Iterable[Symptom]) -> bool:
    """What comes before everything else; returns whether there was any."""
    say = session.say()
    sentences = first_things(symptoms, say)
    for sentence in sentences:
        st.html(f'<div class="first" role="alert"><b>{say("door-first")}</b><br>{sentence}</div>')
    return bool(sentences)


def question_field(question: Question, form: str, given: Mapping[str, str], say: Texts = ENGLISH) -> str:
    """One question as a field; returns the text it stands for ("" when left open)."""
    key, value = f"{form}.{question.key}", given.get(question.key, "")
    text, explained = question.text(say), question.help(say)
    st.markdown(f"**{text}**" + (f"  \n{explained}" if explained else ""))
    if question.key == "venting":
        st.html(vent_pictures(question, say))
    labels = {v: question.label(v, say) for v in question.values}
    if question.one_of:
        values = question.values
        picked = st.radio(
            text,
            values,
            index=values.index(value) if value in values else None,
            format_func=lambda v: labels[v],
            key=key,
            horizontal=sum(map(len, labels.values())) < 30,
            label_visibility="collapsed",
        )
        return picked or ""
    if question.any_of:
        chosen = [v for v in (part.strip() for part in value.split(";")) if v in question.values]
        st.markdown(say("form-any"))
        # Every choice in sight, each a thumb's size; a list that opens would hide them behind a keyboard.
        several = st.pills(
            text,
            question.values,
            default=chosen,
            selection_mode="multi",
            format_func=lambda v: labels[v],
            key=key,
            label_visibility="collapsed",
        )
        return ";".join(several)
    return st.text_input(text, value, key=key, max_chars=300, label_visibility="collapsed")


def problems(found: Iterable[Problem], form: str, overruled: Mapping[str, str], say: Texts = ENGLISH) -> dict[str, str]:
    """Problems that must be settled, each with a place for the reason to let it stand."""
    reasons: dict[str, str] = {}
    for problem in found:
        if problem.severity is Severity.NOTE:
            continue
        st.warning(f"**{literal(problem.what)}** {literal(problem.remedy)}")
        if problem.overrulable:
            text = st.text_input(
                say("form-why"),
                overruled.get(problem.key, ""),
                key=f"{form}.why.{problem.key}",
                max_chars=300,
            )
            if text.strip():
                reasons[problem.key] = text.strip()
    return reasons


def show_standing(found: Standing) -> None:
    """One home's standing in words; what was reported stands before it, see :mod:`survey_app.ui.reported_here`."""
    say = session.say()
    if found.heater is None:
        st.info(found.rests_on)
        return
    st.header(found.headline)
    lines = []
    if found.age_years:
        low, best, high = (say.number(years) for years in found.age_years)
        if found.age_years[2] - found.age_years[0] >= 1.5:
            lines.append(say("standing-age-between", best=best, low=low, high=high))
        else:
            lines.append(say("standing-age", best=best, count=round(found.age_years[1])))
    if found.warranty_end:
        day = found.warranty_end.best
        key = "standing-warranty-ends" if day >= found.as_of else "standing-warranty-ended"
        lines.append(say(key, when=say.month(day)))
        if 0 <= (day - found.as_of).days <= 365:
            lines.append(say("standing-warranty-ends-soon"))
    if found.warranty_multiple:
        lines.append(say("standing-multiple", times=say.number(found.warranty_multiple[1], 1)))
    st.markdown(" ".join(lines))
    st.markdown(found.rests_on)
    if not found.class_settled:
        st.markdown(say("standing-surer"))
    st.markdown(f"**{say('standing-care')}**")
    for care in found.cares:
        mark, name = say(f"care-mark-{care.state.replace(' ', '-')}"), say(f"care-name-{care.what.replace(' ', '-')}")
        st.markdown(f"- **{name}: {mark}.** {care.sentence}")


def show_odds(found: Odds) -> None:
    """What heaters like this one do, in words first, then one picture."""
    say = session.say()
    st.header(say("odds-head"))
    mean, low, high = say.numbers(found.of_100, found.low, found.high)
    (average,) = say.numbers(found.average_of_100)
    st.markdown(say("odds-of-100", mean=mean, low=low, high=high) + " " + say("odds-average", average=average))
    marks = [
        (say("odds-picture-this"), round(found.of_100)),
        (say("odds-picture-average"), round(found.average_of_100)),
    ]
    rows = "".join(
        f'<div class="odds"><b>{name}: {n} / 100</b><span aria-hidden="true">{_hundred(n)}</span></div>'
        for name, n in marks
    )
    st.html(f"{rows}<p>{say('odds-picture')}</p>")
    key = "odds-prior" if found.refused else "odds-local"
    weight = say.number(100 * found.local_weight)
    st.markdown(say(key, failures=found.failures, weight=weight) + " " + say("odds-limits"))


def show_visits(home: OneHome) -> None:
    """Visits planned for a home, with a yes, a no, and a calendar file."""
    say = session.say()
    if session.kept("visit.gone"):
        st.success(say("visit-gone"))
    for found in home.visits():
        with st.container(border=True):
            st.markdown(f"**{say('visit-head')}**")
            (start, end), what = found.expect, say(f"{found.job.title}.visit")
            when = {"day": say.weekday_day(found.visit.on), "from": start, "to": end, "what": what}
            st.markdown(say("visit-when", **when))
            for caution in found.cautions:
                st.markdown(f"- {literal(caution)}")
            if found.confirmed:
                st.success(say("visit-confirmed"))
            else:
                st.markdown(say("visit-asked"))
                if st.button(say("visit-yes"), key=f"visit.yes.{found.plan_id}", type="primary", width="stretch"):
                    home.confirm_visit(found.plan_id)
                    st.rerun()
            if asked_first("visit", found.plan_id, say("visit-no"), say("visit-no-sure"), say("visit-no-yes")):
                home.cancel_visit(found.plan_id)
                session.keep("visit.gone", True)
                st.rerun()
            name = f"visit_{found.visit.on}.ics"
            st.download_button(
                say("visit-calendar"), found.calendar, name, "text/calendar", key=f"visit.ics.{found.plan_id}"
            )


def asked_first(what: str, subject: str, label: str, warning: str, yes: str) -> bool:
    """A button for what cannot simply be undone: the first tap says what will happen, a second one does it.

    Returns
    -------
    bool
        Whether the second yes has just been given.
    """
    say, name = session.say(), f"asked.{what}"
    if session.kept(name) != subject:
        if st.button(label, key=f"{what}.no.{subject}", width="stretch"):
            session.keep(name, subject)
            st.rerun()
        return False
    st.warning(warning)
    sure = st.button(yes, key=f"{what}.sure.{subject}", type="primary", width="stretch")
    if sure or st.button(say("head-leave-it"), key=f"{what}.leave.{subject}", width="stretch"):
        session.keep(name, None)
        if not sure:
            st.rerun()
    return sure


def need_homes(survey: Survey) -> None:
    """End the page with the way to the set-up where no homes are loaded: without them it has nothing to show or do."""
    if survey.how_many()[0]:
        return
    st.info("There are no homes yet. Load the county's parcel file first.")
    st.page_link("volunteer/set_up.py", label="Set up: load parcels")
    st.stop()


def sure_of_new_codes(survey: Survey, form: str) -> bool:
    """Whether new codes for all may be made: where codes work already, only after a yes that says what it does."""
    total = survey.how_many()[0]
    live = total - len(survey.sign_in_rights().without_code())
    if not live:
        return bool(total)
    return st.checkbox(
        f"Yes, make new ones: the codes of {live} homes stop working, and letters handed out before are void",
        key=f"{form}.sure",
    )


def tell(name: str, sentence: str) -> None:
    """Run the page anew, so that nothing on it is older than what was just done, and say there what that was."""
    session.keep(f"told.{name}", sentence)
    st.rerun()


def told(name: str) -> None:
    """What :func:`tell` was given in the run before, once."""
    if sentence := session.kept(f"told.{name}"):
        session.keep(f"told.{name}", None)
        st.success(sentence)


def _hundred(dark: int) -> str:
    """A hundred marks in four rows of twenty-five."""
    marks = "●" * dark + "○" * (100 - dark)
    return "<br>".join(marks[i : i + 25] for i in range(0, 100, 25))


def show_rows(rows: list[dict[str, Any]]) -> None:
    """Rows as a table that can be sorted; nothing where there are none."""
    if not rows:
        return
    st.dataframe(rows, hide_index=True, width="stretch", placeholder="")
