"""Every setting with what it changes, where its default comes from, and its value; changes are logged."""

import streamlit as st

from survey_app.settings import (
    Settings,
    UnusableSettings,
    bounds,
    explain,
    read_settings,
    values_of,
    with_value,
    write_settings,
)
from survey_app.ui import session, widgets
from survey_app.ui.leak_contacts import contact_form
from survey_app.ui.literal import literal

st.title("Community settings")
survey = session.survey()
settings = survey.settings()
rows = {r["setting"]: r for r in explain(settings)}
changed = [r for r in rows.values() if r["value"] != r["default"]]
st.markdown(f"{len(changed)} of {len(rows)} settings differ from their default. Every change is in the change log.")
if changed:
    widgets.show_rows([{k: r[k] for k in ("setting", "value", "default", "unit")} for r in changed])
name = st.selectbox("Setting", list(rows), format_func=lambda k: k.replace("_", " "), key="settings.name")
row, (least, most) = rows[name], bounds(name)
st.markdown(f"**{row['effect']}**".replace("$", "\\$"))
st.markdown(f"Default {row['default']} {row['unit']}. Source: {row['source']}.".replace("$", "\\$"))
plausible = f"Plausible: {row['range']}. " if row["range"] else ""
st.markdown(f"{plausible}Possible: {least:g} to {most:g} {row['unit']}.")
value = st.text_input(f"Value, in {row['unit']}", row["value"], key=f"settings.value.{name}", max_chars=30)
left, right = st.columns(2)
if right.button("Back to the default", key="settings.default", width="stretch"):
    survey.change_settings(with_value(settings, name, row["default"]))
    st.rerun()
if left.button("Keep this value", type="primary", key="settings.keep", width="stretch"):
    try:
        survey.change_settings(with_value(settings, name, value))
        st.success("Kept. The change is in the log.")
    except UnusableSettings as unusable:
        st.error(literal(unusable))
contact_form(survey, settings)
with st.expander("Every setting"):
    widgets.show_rows(list(rows.values()))
with st.expander("Changes of settings"):
    widgets.show_rows(
        [
            {"when": f"{c['at']:%d %b %Y, %H:%M}", "who": c["who"], "setting": c["subject_id"]}
            | {"before": str(c["before"]), "after": str(c["after"])}
            for c in survey.changes()
            if c["subject_kind"] == "setting"
        ]
    )
st.header("As a file")
st.markdown("Keep the file with the minutes of the meeting that decided it. Each line says what it changes and why.")
st.download_button("Settings as a file (TOML)", write_settings(settings), "settings.toml", key="settings.save")
upload = st.file_uploader("Settings from a file", type=["toml"], key="settings.file")
taken: Settings | None = None
if upload is not None:
    try:
        taken = read_settings(upload.getvalue().decode("utf-8", errors="replace"))
        new = values_of(taken)
        differ = [
            {"setting": k, "now": v, "in the file": new[k]} for k, v in values_of(settings).items() if v != new[k]
        ]
        st.markdown(f"{len(differ)} settings would change. What the file leaves out goes back to its default.")
        widgets.show_rows(differ)
    except UnusableSettings as unusable:
        st.error(literal(unusable))
if taken is not None and st.button("Take the settings of this file", key="settings.take"):
    survey.change_settings(taken)
    st.success("Kept. The changes are in the log.")
