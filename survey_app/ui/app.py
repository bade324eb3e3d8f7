"""Entry of the app: finds out who is at the screen and shows that person's pages."""

import logging

import streamlit as st
from streamlit.navigation.page import StreamlitPage

from geo.errors import GeoError
from survey_app.access import Role
from survey_app.errors import SurveyError
from survey_app.ui import session, widgets
from survey_app.ui.literal import literal

st.set_page_config(page_title="Water heater survey", layout="centered")
widgets.style()

say = session.say()
RESIDENT = [
    (f"resident/{file}.py", say(f"nav-{name}"))
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
MY_PASSWORD = ("committee/my_password.py", "My password")
VOLUNTEER_DOOR = {say("nav-volunteer"): [("volunteer/volunteer_sign_in.py", say("nav-volunteer-door"))]}
# In the order of a year's work, so that the next volunteer reads from top to bottom what comes when.
VOLUNTEER = {
    "Volunteer": [("volunteer/what_waits.py", "Where the survey stands")],
    "Prepare": [
        ("volunteer/set_up.py", "Set up"),
        ("volunteer/community_settings.py", "Community settings"),
        ("volunteer/who_may_sign_in.py", "Who may sign in"),
        MY_PASSWORD,
    ],
    "Letters and doors": [
        ("volunteer/print_letters.py", "Print letters"),
        ("volunteer/who_answered.py", "Who answered"),
        ("volunteer/answers_that_help.py", "Answers that would help most"),
    ],
    "Collect": [
        ("volunteer/enter_paper.py", "Enter a paper form"),
        ("volunteer/import_sheet.py", "Import a spreadsheet"),
        ("volunteer/read_plates.py", "Read photos of labels"),
    ],
    "Check": [
        ("volunteer/decide_addresses.py", "Decide doubtful addresses"),
        ("volunteer/settle_differences.py", "Settle differences"),
        ("volunteer/whole_map.py", "Map of every home"),
        ("volunteer/home_list.py", "List of every home"),
    ],
    "Keep and hand over": [
        ("volunteer/homes_request.py", "A home's request"),
        ("volunteer/change_log.py", "Change log"),
        ("volunteer/hand_over.py", "Hand over"),
    ],
}
COMMITTEE_DOOR = {say("nav-committee"): [("committee/committee_sign_in.py", say("nav-committee-door"))]}
COMMITTEE = [
    ("committee/neighborhood_map.py", "Neighborhood map"),
    ("committee/neighborhood_figures.py", "Figures"),
    ("committee/foresee_losses.py", "What we will lose"),
    ("committee/forecast_against_facts.py", "Was the forecast right?"),
    ("committee/ten_years.py", "Ten years: what a policy costs"),
    ("committee/board_paper.py", "Report to the board"),
    ("committee/plan_crew_days.py", "Plan service days"),
    ("committee/crew_days.py", "Service days: see and change"),
    ("committee/close_a_day.py", "Close a service day"),
    ("committee/ask_for_bids.py", "Ask for bids"),
    ("committee/bids_side_by_side.py", "Bids side by side"),
    ("committee/form_rounds.py", "Form rounds"),
    ("committee/new_heaters.py", "New heaters on file"),
]


def pages_of(role: Role) -> dict[str, list[StreamlitPage]]:
    """The pages of somebody, by head. Making a page looks at the disk, so only theirs are made, once for a screen.

    Who signs in to work finds that work on top, but for the way to help: it stays above everything.
    """
    start, (leaking, *others) = ("welcome.py", say("nav-start")), RESIDENT
    if role is Role.VOLUNTEER:
        rows = {"": [start, leaking], **VOLUNTEER, "Committee": COMMITTEE, say("nav-resident"): others}
    elif role is Role.COMMITTEE:
        rows = {"": [start, leaking], "Committee": [*COMMITTEE, MY_PASSWORD], say("nav-resident"): others}
        rows |= VOLUNTEER_DOOR
    else:
        rows = {"": [start], say("nav-resident"): RESIDENT, **VOLUNTEER_DOOR, **COMMITTEE_DOOR}
    return {
        head: [st.Page(file, title=title, default=file == "welcome.py") for file, title in files]
        for head, files in rows.items()
    }


try:
    who = session.actor()
    page = st.navigation(session.once(f"pages.{say.language}.{who.role}", lambda: pages_of(who.role)))
    if (target := session.where_to()) is not None:
        st.switch_page(target)
    for_residents = page.title in {say("nav-start"), *(title for _, title in RESIDENT)}
    help_itself = page.url_path == "leaking_now"
    if help_itself:
        # With water on the floor the steps come first, and all else below them but one's own language.
        widgets.language_choice()
        widgets.translation_note(say)
        page.run()
    widgets.page_head(session.survey(), who, for_residents=for_residents, below_help=help_itself)
    if not help_itself:
        page.run()
except (SurveyError, GeoError) as error:
    st.error(literal(error))
except Exception:
    # People get a sentence; the details go to the log of whoever runs the server.
    logging.getLogger("survey_app.ui").exception("page failed")
    st.error(say("door-unforeseen"))
