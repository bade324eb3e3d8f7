"""Buying the next heater: the list, the price, the setpoint."""

from __future__ import annotations

from datetime import date

import pypdfium2
import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey_app.advice.buying import (
    ADULT_BURN_SECONDS,
    CHOICES,
    SPECIFICATION,
    Known,
    Offer,
    UnusablePrice,
    judge_offer,
    price_sentences,
    price_window,
    setpoint_sentences,
    spec_rows,
    specification,
)
from survey_app.advice.cautions import cautions
from survey_app.advice.sizing import first_hour_need
from survey_app.records import Community, HeaterKind, Place
from survey_app.reports.buying_list import buying_list_pdf
from survey_app.texts import LANGUAGES, texts

TANKS_ALONE = {"warranty", "first-hour", "anode-port", "anode-rod", "drain-valve", "expansion-tank", "relief-valve"}
ALWAYS = {"connectors", "leak-alarm", "permit", "whole-price", "papers", "register"}


@pytest.mark.parametrize("language", sorted(LANGUAGES))
@pytest.mark.parametrize("kind", list(HeaterKind))
@pytest.mark.parametrize("place", list(Place))
def test_every_list_has_what_all_need_each_with_its_reason(language: str, kind: HeaterKind, place: Place) -> None:
    """No kind, place or language loses permit, papers or registration, nor a tank its own; each line says why.

    A tankless heater is asked for without a tank's anode, drain valve, expansion tank or pan.
    """
    keys = [i.key for i in specification(kind, place)]
    rows = spec_rows(kind, place, texts(language))

    assert set(keys) >= ALWAYS
    assert set(keys) & TANKS_ALONE == (set() if kind is HeaterKind.TANKLESS else TANKS_ALONE)
    assert ("service-valves" in keys) is (kind is HeaterKind.TANKLESS)
    assert not (kind is HeaterKind.TANKLESS and {"pan", "pan-metal", "fit"} & set(keys))
    assert len(keys) == len(set(keys)) == len(rows)
    assert all(what and why for what, why in rows)


def test_gas_electric_and_heat_pump_each_get_their_own() -> None:
    """A plastic pan never stands under gas; gas parts only for gas; the heat pump's drain only for the heat pump."""
    keys = {kind: {i.key for i in specification(kind)} for kind in CHOICES}
    gas, electric, pump = (keys[k] for k in CHOICES)

    assert "pan-metal" in gas
    assert "pan" not in gas
    burner = {"excess-flow", "gas-valve", "flue", "sediment-trap", "gas-tube", "clear-space"}
    assert burner <= gas
    assert not (burner | {"pan-metal"}) & (electric | pump)
    assert "condensate" in pump
    assert "condensate" not in electric
    tankless = {i.key for i in specification(HeaterKind.TANKLESS)}
    assert burner | {"condensate"} <= tankless
    assert gas | electric | pump | tankless == {i.key for i in SPECIFICATION}


def test_a_garages_floor_matters_in_a_garage_or_where_nobody_knows() -> None:
    """The 18 inches are left out where the heater is known to stand elsewhere."""
    has = {p: any(i.key == "garage-height" for i in specification(HeaterKind.GAS_STORAGE, p)) for p in Place}

    assert has[Place.GARAGE]
    assert has[Place.UNKNOWN]
    assert not has[Place.ATTIC]


def test_a_line_that_comes_from_a_code_names_it() -> None:
    """Pan, drain valve and relief valve name their sections; the reader is told that local codes differ."""
    told = dict(spec_rows(HeaterKind.GAS_STORAGE, Place.ATTIC))
    pan = next(why for what, why in told.items() if "metal drain pan" in what)

    by_key = {i.key: (i.source, i.known) for i in SPECIFICATION}
    assert by_key["gas-valve"] == ("IFGC 409.5, IRC G2420.5 (2006-2018)", Known.QUOTED)
    assert "IFGC 408.4, IRC G2419.4" in by_key["sediment-trap"][0]
    assert by_key["gas-tube"][1] is Known.MEMORY
    bonded = next(why for what, why in told.items() if "CSST" in what)
    assert "From memory, check it: IFGC 310.1.1" in bonded
    assert "IRC 2015 P2801.6" in pan
    assert "does the most harm" in pan
    assert "Codes differ" in texts("en")("buying-list-lead")


@pytest.mark.parametrize("language", sorted(LANGUAGES))
def test_the_window_stands_beside_the_national_figure_with_its_source(language: str) -> None:
    """875 to 1,275 is common practice, no source; 2,245 is a 2023 figure with its source named."""
    text = "\n".join(price_sentences(price_window(), say=texts(language)))

    assert all(amount in text for amount in ("$875", "$1,275", "$2,245", "2023", "NREL"))
    other = "\n".join(price_sentences(price_window(HeaterKind.HEAT_PUMP_STORAGE), say=texts(language)))
    assert "$3,170" in other
    assert "$875" not in other


@given(st.sampled_from(CHOICES), st.floats(1, 49_999), st.floats(1, 49_999))
def test_a_dearer_offer_is_never_judged_lower(kind: HeaterKind, one: float, other: float) -> None:
    """Below, within, above: in the order of the prices."""
    order = list(Offer)
    low, high = sorted((one, other))
    window = price_window(kind)

    assert order.index(judge_offer(low, window)) <= order.index(judge_offer(high, window))


@pytest.mark.parametrize(("usd", "judged"), [(874, "below"), (875, "within"), (1275, "within"), (1276, "above")])
def test_the_bounds_belong_to_the_window(usd: float, judged: str) -> None:
    """Each bound is usual; a dollar more or less is not."""
    window = price_window()

    assert judge_offer(usd, window) == judged
    assert f"${usd:,}" in price_sentences(window, usd)[-1]


def test_prices_that_cannot_be_true_are_told_with_the_remedy() -> None:
    """A window that ends before it begins, a price of nothing, a kind that has none."""
    with pytest.raises(UnusablePrice, match="Check both"):
        price_window(low_usd=1300, high_usd=900)
    with pytest.raises(UnusablePrice, match="Enter it again"):
        judge_offer(0, price_window())
    with pytest.raises(UnusablePrice, match="Choose one of them"):
        price_window(HeaterKind.TANKLESS)


def test_hotter_water_burns_faster_as_the_federal_commission_says() -> None:
    """CPSC, Tap Water Scalds, Document 5098: 150 °F 2 s, 140 °F 6 s, 130 °F 30 s, 120 °F 5 minutes."""
    assert ADULT_BURN_SECONDS == {150: 2, 140: 6, 130: 30, 120: 300}
    by_heat = [ADULT_BURN_SECONDS[f] for f in sorted(ADULT_BURN_SECONDS)]
    assert by_heat == sorted(by_heat, reverse=True)
    text = "\n".join(setpoint_sentences())
    assert "120 °F (49 °C): 5 minutes" in text
    assert "140 °F (60 °C): 6 seconds" in text
    assert "Legionella" in text
    assert "anti-scald valves at the showers (ASSE 1016)" in text


@pytest.mark.parametrize("language", sorted(LANGUAGES))
@pytest.mark.parametrize("kind", CHOICES)
def test_the_list_prints(language: str, kind: HeaterKind) -> None:
    """A PDF of one sheet in every language, for a community whose name holds markup."""
    community = Community(name="#Test *court* $1", synthetic=True, local_epsg=None)
    made = buying_list_pdf(kind, Place.ATTIC, community, texts(language), as_of=date(2026, 5, 2))

    assert made.startswith(b"%PDF")
    assert len(pypdfium2.PdfDocument(made)) <= 2


def test_the_printed_list_holds_the_rating_that_was_worked_out(monkeypatch: pytest.MonkeyPatch) -> None:
    """46 gallons on the worksheet: the paper asks for 44 to 48, without the screen's marks, and keeps every caution."""
    papers: list[dict[str, object]] = []
    monkeypatch.setattr("survey_app.reports.buying_list.pdf", lambda name, content: papers.append(content) or b"")
    community = Community(name="Test", synthetic=False, local_epsg=None)
    need = first_hour_need({"shower": 3, "shave": 1, "shampoo": 1, "hand-dishes": 1})
    for found in (None, need):
        buying_list_pdf(CHOICES[0], Place.GARAGE, community, texts("en"), as_of=date(2026, 5, 2), need=found)

    assert "44 to 48 gallons" in str(papers[1]["rests_on"])
    assert "gallons" not in str(papers[0]["rests_on"])
    assert "**" not in str(papers[1]["rests_on"])
    assert papers[0]["cautions"] == list(cautions())
