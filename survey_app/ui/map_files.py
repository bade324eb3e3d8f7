"""Loading the county's parcels and a file of streets: what was read, repaired, left out, and what comes next."""

from __future__ import annotations

import streamlit as st

from geo.parcels import UnusableParcelFile
from survey_app.reports.as_upload import parcels_from_upload, streets_from_upload
from survey_app.survey import HomesWouldGo, Survey, notice_groups
from survey_app.ui import session, widgets
from survey_app.ui.literal import literal

__all__ = ["parcels_part", "streets_part"]


def parcels_part(survey: Survey) -> None:
    """Take the parcel file, and show what came of it."""
    st.markdown("The county's parcel file: a zipped shapefile, GeoJSON, GeoPackage, or CSV with coordinates.")
    upload = st.file_uploader("Parcel file", type=["zip", "geojson", "json", "gpkg", "csv"], key="setup.parcels")
    crs = st.text_input("Its EPSG code, if the file does not say", key="setup.crs", max_chars=12)
    uses = st.text_input(
        "Land uses that are homes, with commas (open: every parcel with a house number)", key="setup.uses"
    )
    st.markdown(
        ":small[Load the whole community's file at once: with streets missing, an address can only be guessed at.]"
    )
    if session.kept("parcels.why") is not None:
        st.warning(literal(session.kept("parcels.why")))
    # Asked only once a file was found to lack homes of the survey.
    drop = session.kept("parcels.why") is not None and st.checkbox(
        "They are no homes here: take them out, with their codes", key="setup.parcels.drop"
    )
    if upload is not None and st.button("Load parcels", type="primary", key="setup.parcels.go"):
        try:
            with st.spinner("Reading and checking the parcels …"):
                file = parcels_from_upload(upload.name, upload.getvalue(), crs or None)
                wanted = frozenset(u.strip() for u in uses.split(",") if u.strip())
                session.keep("parcels", survey.set_up().load_parcels(file, home_uses=wanted or None, drop_missing=drop))
            session.keep("parcels.why", None)
            st.rerun()
        except HomesWouldGo as missing:
            session.keep("parcels", None)
            session.keep("parcels.why", str(missing))
            st.rerun()
        except UnusableParcelFile as unusable:
            st.error(literal(unusable))
    if (report := session.kept("parcels")) is not None:
        st.success(f"{report.parcels} parcels with {report.homes} homes in {report.phases} phases.")
        for line in (*report.assumed, *report.kept_without_parcel):
            st.markdown(f"- {literal(line)}")
        for head, notices in (("Repaired or noted", report.repaired), ("Left out", report.refused)):
            for kind, count, rows in notice_groups(notices):
                with st.expander(f"{head}: {count} × {literal(kind)}"):
                    widgets.show_rows(rows)
        st.markdown(
            "**Next:** the file of streets, where you have one (above: Streets); then the settings, then letters."
        )
        st.page_link("volunteer/community_settings.py", label="Community settings, and whom to call")
        st.page_link("volunteer/print_letters.py", label="Print letters")


def streets_part(survey: Survey) -> None:
    """Take the file of street lines."""
    st.markdown(
        "A file of street lines, from the street department or the county: a zipped shapefile, GeoJSON or GeoPackage. "
        "Letters, walks and service days then follow the streets. Without it, streets are worked out from the parcels, "
        "which is good but not perfect. Load it before the first letters: later, sheets keep their numbers."
    )
    upload = st.file_uploader("Street file", type=["zip", "geojson", "json", "gpkg"], key="setup.streets")
    if upload is not None and st.button("Load streets", type="primary", key="setup.streets.go"):
        try:
            count = survey.set_up().load_streets(streets_from_upload(upload.name, upload.getvalue()))
            widgets.tell("setup", f"{count} lines of streets are loaded.")
        except UnusableParcelFile as unusable:
            st.error(literal(unusable))
