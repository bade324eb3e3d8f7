"""Every setting with what it changes, where its default comes from, and its value; changes are logged."""

import streamlit as st

from survey_app.settings import (
    UnusableSettings,
    bounds,
    choices,
    explain,
    in_words,
    with_value,
)
from survey_app.ui import session, widgets
from survey_app.ui.leak_contacts import contact_form
from survey_app.ui.literal import literal
from survey_app.ui.price_form import price_form
from survey_app.ui.settings_file import settings_file


def plain(row: dict[str, str], *columns: str) -> dict[str, str]:
    return {k: in_words(row[k]) if k == "setting" else row[k] for k in columns}


st.title("Community settings")
survey = session.survey()
settings = survey.settings()
widgets.told("settings")
rows = {r["setting"]: r for r in explain(settings)}
changed = [r for r in rows.values() if r["value"] != r["default"]]
st.markdown(f"{len(changed)} of {len(rows)} settings differ from their default. Every change is in the change log.")
if changed:
    widgets.show_rows([plain(r, "setting", "value", "default", "unit") for r in changed])
name = st.selectbox("Setting", list(rows), format_func=in_words, key="settings.name")
row, words, (least, most) = rows[name], choices(name), bounds(name)
st.markdown(f"**{row['effect']}**".replace("$", "\\$"))
st.markdown(
    f"Default {row['default']}{' ' if row['unit'] else ''}{row['unit']}. Source: {row['source']}.".replace("$", "\\$")
)
plausible = f"Plausible: {row['range']}. " if row["range"] else ""
possible = ", ".join(words) or f"{least:g} to {most:g} {row['unit']}"
st.markdown(f"{plausible}Possible: {possible}.")
# A field for each value that is on file, so that none still shows the value before.
field = f"settings.value.{name}.{row['value']}"
if words:
    value = st.radio("Value", words, words.index(row["value"]), key=field) or row["value"]
else:
    value = st.text_input(f"Value, in {row['unit']}", row["value"], key=field, max_chars=30)
left, right = st.columns(2)
if right.button("Back to the default", key="settings.default", width="stretch"):
    survey.set_up().change_settings(with_value(settings, name, row["default"]))
    widgets.tell("settings", f"Back to the default: {in_words(name)}. The change is in the log.")
if left.button("Keep this value", type="primary", key="settings.keep", width="stretch"):
    try:
        survey.set_up().change_settings(with_value(settings, name, value))
        widgets.tell("settings", f"Kept: {in_words(name)}. The change is in the log.")
    except UnusableSettings as unusable:
        st.error(literal(unusable))
price_form(survey, settings, "settings")
contact_form(survey, settings)
with st.expander("Every setting"):
    widgets.show_rows(
        [plain(r, "setting", "value", "unit", "effect", "default", "range", "source") for r in rows.values()]
    )
with st.expander("Changes of settings"):
    widgets.show_rows(
        [
            {"when": f"{c.at:%d %b %Y, %H:%M}", "who": c.who, "setting": in_words(c.subject_id)}
            | {"before": str(c.before), "after": str(c.after)}
            for c in survey.change_log().entries()
            if c.subject_kind == "setting"
        ]
    )
settings_file(survey, settings)
