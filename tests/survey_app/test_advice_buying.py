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
    UnusablePrice,
    price_sentences,
    setpoint_sentences,
    spec_rows,
    specification,
)
from survey_app.advice.cautions import cautions
from survey_app.advice.sizing import first_hour_need
from survey_app.prices import Judged, Price, PriceList, judged
from survey_app.records import Community, HeaterKind, Place
from survey_app.reports.buying_list import buying_list_pdf
from survey_app.settings import Settings
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


def here(*quotes: float) -> Price:
    """A gas tank's price in a community with these quotes."""
    names = ("own_price_gas_low_usd", "own_price_gas_usual_usd", "own_price_gas_high_usd")
    return PriceList(Settings(**dict(zip(names, quotes, strict=False)))).at(HeaterKind.GAS_STORAGE)


@pytest.mark.parametrize("language", sorted(LANGUAGES))
@pytest.mark.parametrize("usd", [400.0, 900.0, 1400.0, 2245.0, 9000.0])
def test_no_offer_is_judged_by_a_national_figure(language: str, usd: float) -> None:
    """The figure stands there with its year and source; of the offer is said that it cannot be judged, never "here"."""
    say = texts(language)
    text = "\n".join(price_sentences(PriceList(Settings()).at(HeaterKind.GAS_STORAGE), usd, say))

    assert all(amount in text for amount in ("$2,245", "2023", "NREL"))
    assert say("price-not-here") in text
    assert text.endswith(say("buying-offer-open", usd=say.usd(usd)))


@given(*[st.floats(200, 20_000)] * 3, st.floats(100, 50_000), st.floats(100, 50_000))
def test_a_dearer_offer_is_never_judged_lower(a: float, b: float, c: float, one: float, other: float) -> None:
    """Below, within, above: in the order of the prices."""
    order, price = list(Judged), here(a, b, c)
    less, more = (judged(usd, price) for usd in sorted((one, other)))

    assert less is not None
    assert more is not None
    assert order.index(less) <= order.index(more)


@pytest.mark.parametrize(("usd", "found"), [(1499, "below"), (1500, "within"), (2100, "within"), (2101, "above")])
def test_the_bounds_belong_to_the_prices_here(usd: float, found: str) -> None:
    """Each bound is usual; a dollar more or less is not; the highest quote may be typed first."""
    price = here(2100, 1800, 1500)

    assert judged(usd, price) == found
    assert f"${usd:,}" in price_sentences(price, usd)[-1]
    assert "price here" in price_sentences(price)[0]


def test_fewer_than_three_quotes_judge_nothing() -> None:
    """One or two prices are shown as prices here, and that it takes three is said."""
    for quotes in ((1800.0,), (1500.0, 1800.0)):
        assert judged(900.0, here(*quotes)) is None
        assert "It takes three" in price_sentences(here(*quotes), 900.0)[-1]


def test_prices_that_cannot_be_true_are_told_with_the_remedy() -> None:
    """No heater is installed for nothing or for a fortune."""
    for usd in (0.0, 99.0, 50_001.0, float("nan")):
        with pytest.raises(UnusablePrice, match="Enter it again"):
            price_sentences(here(1500, 1800, 2100), usd)


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
