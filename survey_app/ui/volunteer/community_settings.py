"""Every setting with what it changes, where its default comes from, and its value; changes are logged."""

import streamlit as st

from survey_app.settings import Settings, UnusableSettings, explain, read_settings, write_settings
from survey_app.ui import session, widgets

st.title("Community settings")
survey = session.survey()
settings = survey.settings()
rows = {r["setting"]: r for r in explain(settings)}
changed = [r for r in rows.values() if r["value"] != r["default"]]
st.markdown(f"{len(changed)} of {len(rows)} settings differ from their default. Every change is in the change log.")
if changed:
    widgets.show_rows([{k: r[k] for k in ("setting", "value", "default", "unit")} for r in changed])
name = st.selectbox("Setting", list(rows), format_func=lambda k: k.replace("_", " "), key="settings.name")
row = rows[name]
st.markdown(f"**{row['effect']}**".replace("$", "\\$"))
st.markdown(f"Default {row['default']} {row['unit']}. Source: {row['source']}.".replace("$", "\\$"))
value = st.text_input(f"Value, in {row['unit']}", row["value"], key=f"settings.value.{name}", max_chars=30)
left, right = st.columns(2)
wanted = value.strip()
if right.button("Back to the default", key="settings.default", width="stretch"):
    wanted = row["default"]
    left.empty()
    survey.change_settings(Settings.model_validate({**settings.model_dump(), name: float(wanted)}))
    st.rerun()
if left.button("Keep this value", type="primary", key="settings.keep", width="stretch"):
    try:
        lines = [f"{k} = {r['value'] if k != name else wanted}" for k, r in rows.items()]
        survey.change_settings(read_settings("\n".join(lines)))
        st.success("Kept. The change is in the log.")
    except UnusableSettings as unusable:
        st.error(str(unusable))
st.header("As a file")
st.markdown("Keep the file with the minutes of the meeting that decided it. Each line says what it changes and why.")
st.download_button("Settings as a file (TOML)", write_settings(settings), "settings.toml", key="settings.save")
upload = st.file_uploader("Settings from a file", type=["toml"], key="settings.file")
if upload is not None and st.button("Take the settings of this file", key="settings.take"):
    try:
        survey.change_settings(read_settings(upload.getvalue().decode("utf-8", errors="replace")))
        st.success("Kept. The change is in the log.")
    except UnusableSettings as unusable:
        st.error(str(unusable))
