"""A spreadsheet of answers: look, import, get the rest back to mend."""

import streamlit as st

from survey_app.csv_import import UnusableAnswerFile
from survey_app.reports.as_upload import mend_file_bytes, sheet_from_upload, template_bytes
from survey_app.ui import session, widgets
from survey_app.ui.literal import literal

SHOWN = 40

st.title("Import a spreadsheet")
st.markdown(
    "One row a home. Rows that contradict themselves or cannot be read come back in a mend file: correct them there "
    "and import that file again. Importing the same file twice changes nothing."
)
widgets.need_homes(session.survey())
st.download_button("Get the template", template_bytes(), "answers_template.xlsx", key="import.template")
upload = st.file_uploader("Spreadsheet (.csv or .xlsx, up to 10 MB)", type=["csv", "xlsx"], key="import.file")
if upload is not None and st.button("Import", type="primary", key="import.go"):
    bar = st.progress(0.0, "Reading …")
    try:
        sheet = sheet_from_upload(upload.name, upload.getvalue())
        report = (
            session.survey()
            .answers()
            .import_answers(
                sheet, progress=lambda done, of: bar.progress(done / max(of, 1), f"Checked {done} of {of} rows")
            )
        )
        session.keep("import", report)
    except UnusableAnswerFile as unusable:
        session.keep("import", None)
        st.error(literal(unusable))
    else:
        st.rerun()  # so that the head of the page counts the new answers too
    bar.empty()
if (report := session.kept("import")) is not None:
    st.success(
        f"{report.rows} rows read: {report.new} new answers stored, {report.already_there} were there already, "
        f"to be mended: {len(report.imported.rejected)}."
    )
    st.markdown(
        f"Of the new ones, {report.joined} were joined to their home, {report.doubtful} wait for you to decide the "
        f"address, and {report.no_such_home} are for no address in this community."
    )
    for note in report.imported.notes:
        st.markdown(f"- {literal(note)}")
    if report.doubtful or report.no_such_home:
        st.page_link("volunteer/decide_addresses.py", label="Decide the doubtful addresses")
    if report.imported.rejected:
        st.download_button("Get the mend file", mend_file_bytes(report.imported), "mend.xlsx", key="import.mend")
        # As text, not as a table: its cells would cut the sentences off.
        for r in report.imported.rejected[:SHOWN]:
            st.markdown(f"- **Row {r.number}.** {literal(r.reason)} *{literal(r.what_to_do)}*")
        if len(report.imported.rejected) > SHOWN:
            st.markdown(f"{len(report.imported.rejected) - SHOWN} more are in the mend file.")
