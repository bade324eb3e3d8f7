"""One home's decision as it is asked on every page: its prices on file, and what was typed in this visit.

What is typed is kept with the screen until the person leaves it, so that another page weighs the same, and coming
back finds it. Only what differs from what is on file is kept: a price that changes there changes here.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import streamlit as st

from survey_app import economics
from survey_app.economics import Amounts, Decision, Household, Tolerance, amounts_in_use, household_of, words
from survey_app.prices import Price, PriceList, basis_words
from survey_app.purchase import offer_words
from survey_app.purchase.prices_of_home import HomePrices, own_lines, prices_of_home
from survey_app.records import HeaterKind, Tri
from survey_app.standing import Standing
from survey_app.survey import OneHome
from survey_app.ui import session
from survey_app.ui.literal import plain

__all__ = [
    "FORM",
    "Asked",
    "ask_amounts",
    "ask_household",
    "ask_prices",
    "asked",
    "default_line",
    "heater_prices",
    "other_kind_line",
    "prices",
    "weighed",
]

FORM = "decision"
"""Under this name the session keeps what was typed."""
_OWN = "planned_price_usd"


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What one home's decision is worked out from, besides its record."""

    amounts: Amounts
    household: Household
    tolerance: Tolerance | None
    offer_usd: float | None


def prices(home: OneHome, standing: Standing) -> HomePrices:
    """The prices on file for this home."""
    offer = session.of_this_home("offer", home.offer)
    return prices_of_home(session.survey().settings(), standing.heater, offer)


def heater_prices() -> tuple[Price, ...]:
    """Rows of the price list that a new heater may be: that of the heater on file, else one of every kind."""
    table = PriceList(session.survey().settings())
    heater = session.one_home().standing().heater if session.actor().home_id else None
    if heater is None or heater.kind is HeaterKind.UNKNOWN:
        return table.of_kinds()
    return (table.for_gallons(heater.kind, heater.tank_gallons),)


def default_line(standing: Standing, on_file: HomePrices) -> str:
    """That the price to buy alone is none from here; empty where it is, or where the household put in its own."""
    price = on_file.price
    if price.is_own or asked(standing, on_file).amounts.planned_price_usd != on_file.own_usd:
        return ""
    return session.say()("price-default-own", basis=basis_words(price, session.say()))


def asked(standing: Standing, on_file: HomePrices) -> Asked:
    """What is on file, with what was typed in this visit."""
    kept: Mapping[str, Any] = session.draft(FORM)
    found = household_of(standing, drained=Tri(kept.get("drained", Tri.UNKNOWN)))
    household = Household(
        kind=found.kind,
        size=found.size,
        place=found.place,
        has=found.has,
        insured=Tri(kept.get("insured", Tri.UNKNOWN)),
        days_empty=float(kept.get("days_empty") or 0),
    )
    amounts = _on_file(household, on_file)
    return Asked(
        amounts=words.from_typed(amounts, {name: kept.get(name) for name in amounts_in_use(household)}),
        household=household,
        tolerance=Tolerance(kept["risk"]) if kept.get("risk") else None,
        offer_usd=kept.get("offer", on_file.group_usd),
    )


def weighed(home: OneHome, standing: Standing, found: Asked) -> Decision:
    """The decision, worked out once for this screen and what is asked."""
    return session.of_this_home(
        "weighed",
        lambda: economics.decide(
            home.lives()[0],
            standing.age_years,
            found.amounts,
            found.household,
            tolerance=found.tolerance,
            offer_usd=found.offer_usd,
        ),
        standing.age_years,
        found,
    )


def ask_prices(on_file: HomePrices) -> None:
    """One's own price and that of the group, each beginning with what is on file."""
    say = session.say()
    own, group = st.columns(2)
    with own:
        _number(_OWN, say("decision-own"), *words.amount_limits(_OWN), on_file.own_usd)
        told = own_lines(say, on_file.price, on_file.certain_usd, on_file.possible_usd)
        st.markdown(plain(" ".join([say("decision-own-help"), *told, say("price-complete")])))
    with group:
        _number("offer", say("decision-offer"), 1.0, 50000.0, on_file.group_usd)
        told = [say("decision-offer-help")]
        if on_file.group_usd is not None:
            told.insert(0, say("decision-offer-on-file", usd=say.usd(on_file.group_usd)))
        st.markdown(plain(" ".join(told)))
    st.markdown(say("decision-typed"))


def ask_household(standing: Standing, on_file: HomePrices) -> None:
    """What the household alone knows: drain, policy, empty days, and how it feels about risk."""
    say = session.say()
    answers = {str(t): say(f"decision-{str(t).replace(' ', '-')}") for t in Tri}
    if asked(standing, on_file).household.has.pan:
        _choice("drained", answers, say("decision-drained"))
    _choice("insured", answers, say("decision-insured"))
    st.markdown(say("decision-insured-help"))
    _number("days_empty", say("decision-days-empty"), 0, 365, 0)
    st.markdown(say("decision-days-empty-help"))
    _choice("risk", words.risk_labels(say), words.risk_question(say))


def ask_amounts(standing: Standing, on_file: HomePrices) -> None:
    """Every other amount that bears on the answer, with where it comes from."""
    say = session.say()
    household = asked(standing, on_file).household
    amounts = _on_file(household, on_file)
    st.markdown(say("decision-amounts-help"))
    st.markdown(plain(f"**{words.amount_label(say, _OWN)}.** {words.price_source(say, on_file.price)}"))
    for name in amounts_in_use(household):
        if name != _OWN:
            label = plain(words.amount_label(say, name))
            _number(name, label, *words.amount_limits(name), words.as_typed(amounts, name))
            st.markdown(plain(words.amount_source(say, name)))


def other_kind_line(standing: Standing, on_file: HomePrices) -> str:
    """That both prices are for another kind of heater, which the home asked for; empty where they are not."""
    say = session.say()
    if standing.heater is None or standing.heater.kind is on_file.kind:
        return ""
    return say("decision-other-kind", kind=offer_words.kind_words(say, on_file.kind))


def _on_file(household: Household, on_file: HomePrices) -> Amounts:
    return Amounts.from_settings(session.survey().settings(), household.kind, household.size).changed(
        {_OWN: on_file.own_usd}
    )


def _number(name: str, label: str, least: float, most: float, default: float | None) -> None:
    kept = session.draft(FORM)
    begins = kept.get(name, default)
    given = st.number_input(
        label, least, most, begins, format="%g" if isinstance(least, float) else None, key=_key(name)
    )
    _keep(name, given, default)


def _choice(name: str, labels: Mapping[str, str], question: str) -> None:
    told = {value: plain(label) for value, label in labels.items()}
    default = list(told)[-1]
    begins = list(told).index(session.draft(FORM).get(name, default))
    given = st.radio(plain(question), list(told), begins, format_func=lambda value: told[value], key=_key(name))
    _keep(name, given, default)


def _keep(name: str, given: object, default: object) -> None:
    kept = session.draft(FORM)
    if given == default:
        kept.pop(name, None)
    else:
        kept[name] = given


def _key(name: str) -> str:
    return f"{FORM}.{name}"
