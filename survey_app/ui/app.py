"""Entry of the app: finds out who is at the screen and shows that person's pages."""

import logging

import streamlit as st

from survey_app.access import NotAllowed, Role
from survey_app.survey import SignInRefused, UnusableData
from survey_app.ui import session, widgets

st.set_page_config(page_title="Water heater survey", layout="centered")
widgets.style()

UNFORESEEN = (
    "Something went wrong on this page. Nothing that was stored is lost. Reload it, or tell the volunteer. If water is "
    "on the floor or you smell gas: open Leaking now, first in the list of pages."
)
say = session.say()
DOORS = [st.Page("welcome.py", title=say("nav-start"), default=True)]
RESIDENT = [
    st.Page(f"resident/{file}.py", title=say(f"nav-{name}"))
    for file, name in (
        ("leaking_now", "leaking"),
        ("something_is_wrong", "wrong"),
        ("answer_for_my_home", "answer"),
        ("my_heater", "my-heater"),
        ("replace_or_wait", "decide"),
        ("buy_the_next_one", "buy"),
        ("flush_and_anode", "flush"),
        ("group_offer", "offer"),
        ("my_record", "record"),
        ("who_sees_what", "privacy"),
    )
]
VOLUNTEER_DOOR = [st.Page("volunteer/volunteer_sign_in.py", title="Volunteer: sign in")]
VOLUNTEER = [
    st.Page("volunteer/what_waits.py", title="Where the survey stands"),
    st.Page("volunteer/enter_paper.py", title="Enter a paper form"),
    st.Page("volunteer/import_sheet.py", title="Import a spreadsheet"),
    st.Page("volunteer/decide_addresses.py", title="Decide doubtful addresses"),
    st.Page("volunteer/settle_differences.py", title="Settle differences"),
    st.Page("volunteer/whole_map.py", title="Map of every home"),
    st.Page("volunteer/home_list.py", title="List of every home"),
    st.Page("volunteer/answers_that_help.py", title="Answers that would help most"),
    st.Page("volunteer/who_answered.py", title="Who answered"),
    st.Page("volunteer/print_letters.py", title="Print letters"),
    st.Page("volunteer/who_may_sign_in.py", title="Who may sign in"),
    st.Page("volunteer/community_settings.py", title="Community settings"),
    st.Page("volunteer/set_up.py", title="Set up"),
]
COMMITTEE_DOOR = [st.Page("committee/committee_sign_in.py", title="Committee: sign in")]
COMMITTEE = [
    st.Page("committee/neighborhood_map.py", title="Neighborhood map"),
    st.Page("committee/neighborhood_figures.py", title="Figures"),
    st.Page("committee/foresee_losses.py", title="What we will lose"),
    st.Page("committee/forecast_against_facts.py", title="Was the forecast right?"),
    st.Page("committee/ten_years.py", title="Ten years: what a policy costs"),
    st.Page("committee/board_paper.py", title="Report to the board"),
    st.Page("committee/plan_crew_days.py", title="Plan service days"),
    st.Page("committee/crew_days.py", title="Service days: see and change"),
    st.Page("committee/close_a_day.py", title="Close a service day"),
    st.Page("committee/ask_for_bids.py", title="Ask for bids"),
    st.Page("committee/bids_side_by_side.py", title="Bids side by side"),
    st.Page("committee/form_rounds.py", title="Form rounds"),
    st.Page("committee/new_heaters.py", title="New heaters on file"),
]

try:
    who = session.actor()
    pages = {"": DOORS, say("nav-resident"): RESIDENT}
    if who.role is Role.VOLUNTEER:
        pages |= {"Volunteer": VOLUNTEER, "Committee": COMMITTEE}
    elif who.role is Role.COMMITTEE:
        pages |= {"Volunteer": VOLUNTEER_DOOR, "Committee": COMMITTEE}
    else:
        pages |= {"Volunteer": VOLUNTEER_DOOR, "Committee": COMMITTEE_DOOR}
    page = st.navigation(pages)
    if (target := session.where_to()) is not None:
        st.switch_page(target)
    for_residents = page.title in {p.title for p in (*DOORS, *RESIDENT)}
    if page.url_path == "leaking_now":
        # With water on the floor the steps come first, and all else below them.
        page.run()
    widgets.page_head(session.survey(), who, for_residents=for_residents)
    if page.url_path != "leaking_now":
        page.run()
except (NotAllowed, SignInRefused, UnusableData, LookupError) as error:
    if isinstance(error, (KeyError, IndexError)):  # a fault of the program, not a sentence for people
        logging.getLogger("survey_app.ui").exception("page failed")
        st.error(UNFORESEEN)
    else:
        st.error(str(error.args[0]) if error.args else "That is not possible here.")
except Exception:
    # People get a sentence; the details go to the log of whoever runs the server.
    logging.getLogger("survey_app.ui").exception("page failed")
    st.error(UNFORESEEN)
