"""Set up: the community's name, parcels, private codes, what is too old."""

import streamlit as st

from geo.parcels import UnusableParcelFile
from survey_app.reports.as_upload import codes_bytes, parcels_from_upload
from survey_app.ui import session, widgets
from survey_app.ui.literal import literal

st.title("Set up")
survey = session.survey()
state = survey.state()
part = st.segmented_control(
    "What",
    ["Name", "Parcels", "Codes", "Old answers"],
    default="Parcels",
    key="setup.part",
)
if part == "Name":
    name = st.text_input("Name of the community", state.community.name, key="setup.name", max_chars=150)
    if st.button("Keep this name", key="setup.name.go") and name.strip():
        survey.name_community(name.strip(), synthetic=state.community.synthetic, open_doors=state.open_doors)
        st.rerun()
elif part == "Parcels":
    st.markdown("The county's parcel file: a zipped shapefile, GeoJSON, GeoPackage, or CSV with coordinates.")
    upload = st.file_uploader("Parcel file", type=["zip", "geojson", "json", "gpkg", "csv"], key="setup.parcels")
    crs = st.text_input("Its EPSG code, if the file does not say", key="setup.crs", max_chars=12)
    uses = st.text_input(
        "Land uses that are homes, with commas (open: every parcel with a house number)", key="setup.uses"
    )
    st.markdown(
        ":small[Load the whole community's file at once: with streets missing, an address can only be guessed at.]"
    )
    if upload is not None and st.button("Load parcels", type="primary", key="setup.parcels.go"):
        try:
            with st.spinner("Reading and checking the parcels …"):
                file = parcels_from_upload(upload.name, upload.getvalue(), crs or None)
                wanted = frozenset(u.strip() for u in uses.split(",") if u.strip())
                session.keep("parcels", survey.load_parcels(file, home_uses=wanted or None))
        except UnusableParcelFile as unusable:
            st.error(literal(unusable))
    if (report := session.kept("parcels")) is not None:
        st.success(f"{report.parcels} parcels with {report.homes} homes in {report.phases} phases.")
        for line in (*report.assumed, *report.kept_without_parcel):
            st.markdown(f"- {literal(line)}")
        widgets.show_rows([{"parcel": n.parcel_id, "repaired": n.what, "to do": n.remedy} for n in report.repaired])
        widgets.show_rows([{"parcel": n.parcel_id, "left out": n.what, "to do": n.remedy} for n in report.refused])
elif part == "Codes":
    st.markdown("A private code for every home. New codes make the old ones useless, and are shown this once.")
    if st.button("Make new codes for every home", key="setup.codes"):
        bar = st.progress(0.0, "Making codes …")
        codes = survey.issue_codes(progress=lambda done, of: bar.progress(done / of))
        st.download_button(
            "Get the codes (keep this file safe)", codes_bytes(codes), "codes.csv", key="setup.codes.save"
        )
elif part == "Old answers":
    aged = survey.too_old()
    years = survey.settings().keep_answers_years
    st.markdown(f"{len(aged)} homes answered last more than {years:g} years ago. Deleting cannot be undone.")
    sure = st.checkbox("Yes, delete what they told", key="setup.old.sure")
    if st.button("Delete what is too old", key="setup.old.go", disabled=not (sure and aged)):
        st.success(f"{survey.forget_too_old()} homes forgotten.")
