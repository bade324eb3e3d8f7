"""The two questionnaires of the page on buying: the busiest hour, and the gas line."""

from __future__ import annotations

from enum import StrEnum
from typing import TypeVar

import streamlit as st

from survey_app.advice.gas_line import (
    DROP_IN_WC,
    SCHEDULE_40,
    TANKLESS_BTU_PER_H,
    USUAL_BTU_PER_FT3,
    Gas,
    GasLineVerdict,
    PipeMaterial,
    UnusableGasLine,
    check_gas_line,
)
from survey_app.advice.sizing import WORKSHEETS, FirstHourNeed, UnusableSizing, first_hour_need
from survey_app.texts import Texts

__all__ = ["figure", "first_hour_form", "gas_line_form", "tell"]

_APPLIANCES = ("furnace", "range", "dryer", "fireplace", "pool", "other")


def tell(*lines: str) -> None:
    """Sentences on the page, one paragraph each."""
    # A dollar sign would begin a formula.
    st.markdown("\n\n".join(lines).replace("$", "\\$"))


def figure(
    label: str, key: str, value: float | None, *, low: float = 0.0, high: float, step: float = 1.0, about: str = ""
) -> float | None:
    """One figure; None where it is left open."""
    if about:
        label = f"{label}  \n{about}"
    found = st.number_input(label, low, high, value, step, "%g", key=key)
    return None if found is None else float(found)


_Choice = TypeVar("_Choice", bound=StrEnum)


def _one_of(choices: type[_Choice], message: str, first: _Choice, say: Texts) -> _Choice:
    """One of the values of an enumeration; each value's words are the message's own with the value at its end."""
    values = list(choices)
    found = st.radio(
        say(message),
        values,
        index=values.index(first),
        format_func=lambda value: say(f"{message}-{value.replace(' ', '-')}"),
        key=message.replace("-", "."),
    )
    return first if found is None else found


def first_hour_form(say: Texts) -> FirstHourNeed | None:
    """Count the uses of the busiest hour; None where the counts cannot be true, which is said."""
    key = st.radio(
        say("sizing-edition"), list(WORKSHEETS), format_func=lambda k: say(f"sizing-edition-{k}"), key="sizing.edition"
    )
    worksheet = WORKSHEETS[str(key)]
    uses: dict[str, float] = {}
    for use, gallons in worksheet.uses.items():
        label = say("sizing-each", use=say(f"sizing-use-{use}"), gallons=say.number(gallons, 1 if gallons % 1 else 0))
        uses[use] = figure(label, f"sizing.{worksheet.key}.{use}", 0.0, high=100.0) or 0.0
    try:
        return first_hour_need(uses, worksheet, say)
    except UnusableSizing as unusable:
        st.error(str(unusable))
        return None


def gas_line_form(say: Texts) -> GasLineVerdict | None:
    """Ask what the gas line is and what it feeds; None where the figures cannot be true, which is said."""
    # Above the codes' common figures nothing is refused here: `check_gas_line` says what cannot be true, and why.
    tankless = figure(
        say("gasline-tankless"),
        "gasline.tankless",
        TANKLESS_BTU_PER_H[1],
        high=9_999_999.0,
        step=1_000.0,
        about=say("gasline-tankless-help"),
    )
    names = {key: say(f"gasline-{key}") for key in _APPLIANCES}
    st.markdown(say("gasline-others-help"))
    others = st.pills(
        say("gasline-others"),
        list(names),
        selection_mode="multi",
        format_func=names.__getitem__,
        key="gasline.others",
    )
    loads = [
        (
            names[key],
            figure(
                say("gasline-input", name=names[key]),
                f"gasline.load.{key}",
                None,
                high=9_999_999.0,
                step=1_000.0,
                about=say("gasline-input-help"),
            ),
        )
        for key in others
    ]
    gas = _one_of(Gas, "gasline-gas", Gas.NATURAL, say)
    material = _one_of(PipeMaterial, "gasline-material", PipeMaterial.UNKNOWN, say)
    st.markdown(say("gasline-pipe-help"))
    pipe, branch = (
        st.selectbox(
            say(f"gasline-{part}"),
            ["", *SCHEDULE_40],
            format_func=lambda size: say("gasline-pipe-inch", size=size) if size else say("gasline-not-sure"),
            key=f"gasline.{part}",
        )
        for part in ("pipe", "branch")
    )
    length = figure(say("gasline-length"), "gasline.length", None, high=9_999.0, about=say("gasline-input-help"))
    drop = figure(say("gasline-drop"), "gasline.drop", DROP_IN_WC, high=99.0, step=0.1, about=say("gasline-drop-help"))
    usual = USUAL_BTU_PER_FT3[gas]
    heat = figure(
        say("gasline-heat"), f"gasline.heat.{gas}", usual, high=9_999.0, step=10.0, about=say("gasline-heat-help")
    )
    try:
        return check_gas_line(
            loads,
            pipe or None,
            length,
            branch_pipe=branch or None,
            tankless_btu_per_h=tankless if tankless is not None else TANKLESS_BTU_PER_H[1],
            material=material,
            gas=gas,
            drop_in_wc=DROP_IN_WC if drop is None else drop,
            btu_per_ft3=heat,
            say=say,
        )
    except UnusableGasLine as unusable:
        for problem in unusable.problems:
            st.error(problem)
        return None
