"""Buying the next heater, and the flush and the anode: with and without a code, in both languages."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

import survey_app.ui
from survey_app.access import Actor, Role
from survey_app.advice.cautions import cautions
from survey_app.prices import SizeClass
from survey_app.standing import Standing
from survey_app.survey import Survey, open_store
from survey_app.texts import texts

APP = Path(survey_app.ui.__file__).with_name("app.py")
BUY, FLUSH = "resident/buy_the_next_one.py", "resident/flush_and_anode.py"


def standings(place: Path) -> tuple[Survey, list[Standing]]:
    """Every home's standing, as the volunteer sees it."""
    front = Survey(open_store(place), Actor(name="vera", role=Role.VOLUNTEER), now=datetime(2026, 5, 2, 12))
    return front, list(front.standings())


def visited(page: str, *, spanish: bool = False) -> AppTest:
    """A page as a visitor without a code sees it."""
    at = AppTest.from_file(str(APP), default_timeout=60).run()
    if spanish:
        at.button(key="head.language.es").click().run()
    return at.switch_page(page).run()


def at_home(front: Survey, home_id: str, page: str) -> AppTest:
    """A page with a home opened by its private code."""
    ((_, code),) = front.sign_in_rights().issue_codes([home_id])
    at = AppTest.from_file(str(APP), default_timeout=60).run()
    at.switch_page("resident/my_heater.py").run()
    at.text_input(key="code.text").input(code)
    at.button[-1].click().run()
    return at.switch_page(page).run()


def said(at: AppTest) -> str:
    """Everything a person reads on the page."""
    kinds = ("title", "header", "markdown", "info", "success", "warning", "error")
    return "\n".join(str(e.value) for kind in kinds for e in at.get(kind))


def errors(at: AppTest) -> list[str]:
    """What went wrong on the page."""
    return [e.value for e in at.error] + [e.message for e in at.exception]


@pytest.mark.parametrize("spanish", [False, True], ids=["en", "es"])
@pytest.mark.parametrize("page", [BUY, FLUSH])
def test_both_pages_work_without_a_code_and_keep_every_caution(place: Path, page: str, spanish: bool) -> None:
    """A visitor sees the whole page, in either language, with all the usual cautions."""
    at = visited(page, spanish=spanish)

    assert errors(at) == []
    assert all(line in said(at) for line in cautions(texts("es" if spanish else "en")))


def test_the_worksheets_example_is_reproduced_on_the_page(place: Path) -> None:
    """Three showers, a shave, a shampoo and dishes by hand: 46 gallons, ask for 44 to 48."""
    at = visited(BUY)
    for use, times in {"shower": 3.0, "shave": 1.0, "shampoo": 1.0, "hand-dishes": 1.0}.items():
        at.number_input(key=f"sizing.energy-savers.{use}").set_value(times)
    at.run()

    assert errors(at) == []
    assert "**46 gallons**" in said(at)
    assert "**44 to 48 gallons**" in said(at)


def test_the_other_worksheet_asks_its_own_lines(place: Path) -> None:
    """The later edition has no baths; two showers of 10 gallons make 20."""
    at = visited(BUY)
    at.radio(key="sizing.edition").set_value("femp").run()
    at.number_input(key="sizing.femp.shower").set_value(2.0).run()

    assert "**20 gallons**" in said(at)
    assert "no date on it" in said(at)
    at.radio(key="sizing.edition").set_value("energy-gov").run()
    at.number_input(key="sizing.energy-gov.shower").set_value(3.0).run()
    assert "**60 gallons**" in said(at)
    assert "We have not read this page itself" in said(at)
    assert not [n for n in at.number_input if n.key == "sizing.femp.bath"]


def test_the_gas_line_goes_from_cannot_say_to_a_verdict(place: Path) -> None:
    """Nothing known: what is missing is named. 1/2 inch steel over 40 feet: a new line. 1 1/4 inch: plausible."""
    at = visited(BUY)
    assert "We cannot say yet" in said(at)
    assert said(at).count("Missing:") == 4
    at.radio(key="gasline.material").set_value("steel")
    at.selectbox(key="gasline.pipe").set_value("1/2")
    at.selectbox(key="gasline.branch").set_value("1")
    at.number_input(key="gasline.length").set_value(40.0)
    at.run()
    assert "It needs a new line" in said(at)
    assert "pressure test" in said(at)
    assert "one to two weeks" in said(at)
    at.selectbox(key="gasline.pipe").set_value("1 1/4").run()
    assert "Plausible" in said(at)
    assert "local code and a licensed contractor decide" in said(at)
    assert errors(at) == []


def test_another_appliance_without_its_plate_is_missing(place: Path) -> None:
    """A furnace of unknown input turns a plausible pipe into "cannot say"; its figure settles it."""
    at = visited(BUY)
    at.radio(key="gasline.material").set_value("steel")
    at.selectbox(key="gasline.pipe").set_value("1 1/4")
    at.selectbox(key="gasline.branch").set_value("1")
    at.number_input(key="gasline.length").set_value(40.0)
    at.pills(key="gasline.others").set_value(["furnace"])
    at.run()
    assert "what some of the other appliances burn" in said(at)
    at.number_input(key="gasline.load.furnace").set_value(80_000.0).run()

    assert "279,000 Btu" in said(at)
    assert "Plausible" in said(at)


def test_figures_that_cannot_be_true_get_sentences_not_a_failed_page(place: Path) -> None:
    """A length of nothing, an offer of nothing and gas without heat each say what to do; the rest stands."""
    at = visited(BUY)
    at.number_input(key="gasline.length").set_value(0.0)
    at.number_input(key="gasline.heat.natural gas").set_value(1.0)
    at.number_input(key="buying.offer").set_value(0.0)
    at.run()

    told = " ".join(e.value for e in at.error)
    assert "Measure along the pipe" in told
    assert "Use 1,000 for natural gas" in told
    assert "A price must be from" in told
    assert "How hot to set it" in said(at)


def test_without_a_price_from_here_the_national_figure_stands_and_no_offer_is_judged(place: Path) -> None:
    """Dollar signs are escaped, so that two of them do not become a formula; a larger tank has its own row."""
    at = visited(BUY)
    assert "\\$2,245" in said(at)
    assert "national figure of 2023" in said(at)
    for usd in (900.0, 3000.0):
        at.number_input(key="buying.offer").set_value(usd).run()
        assert f"\\${usd:,.0f}: we cannot judge it" in said(at)
        assert "the usual here" not in said(at)
    at.selectbox(key="buying.size").set_value(SizeClass.LARGE).run()
    assert "more than 55 gallons" in said(at)


def test_an_electric_tank_has_its_own_list(place: Path) -> None:
    """No gas parts on it, another national price; the list can be taken along."""
    at = visited(BUY)
    assert any("excess-flow" in c.label for c in at.checkbox)
    at.selectbox(key="buying.kind").set_value(at.selectbox(key="buying.kind").options[1]).run()

    assert errors(at) == []
    assert not any("excess-flow" in c.label for c in at.checkbox)
    assert any("electrician" in c.label for c in at.checkbox)
    assert "\\$1,518" in said(at)
    assert at.get("download_button")


def test_a_home_with_a_code_finds_its_own_tank_filled_in(place: Path) -> None:
    """The calculator starts from the tank on file, and an old tank without a flush is warned of."""
    front, all_of_them = standings(place)
    home = next(
        s
        for s in all_of_them
        if s.heater
        and s.heater.tank_gallons
        and s.age_years
        and s.age_years[1] > 9
        and s.heater.kind.has_tank
        and not any(c.what == "flush" and c.last for c in s.cares)
    )
    at = at_home(front, home.home.home_id, FLUSH)

    assert errors(at) == []
    assert home.heater is not None
    assert at.number_input(key="flushing.gallons").value == home.heater.tank_gallons
    assert any("was never flushed, or nobody knows" in w.value for w in at.warning)
    assert errors(at_home(front, home.home.home_id, BUY)) == []


def test_the_drain_time_follows_tank_and_valve(place: Path) -> None:
    """50 gallons through a clear valve: within the trade's minutes; clogged: longer, with a word of caution."""
    at = visited(FLUSH)
    assert "50 gallons take about **14 minutes**" in said(at)
    at.radio(key="flushing.valve").set_value("clogged").run()
    assert "This is longer." in said(at)
    at.number_input(key="flushing.gallons").set_value(0.0).run()
    assert "A tank must hold from 1 to 500 gallons" in said(at)


def test_a_tankless_heater_gets_no_steps(place: Path) -> None:
    """The page says so instead of draining a tank that is not there."""
    at = visited(FLUSH)
    options = at.selectbox(key="flushing.kind").options
    at.selectbox(key="flushing.kind").set_value(next(o for o in options if "less" in o.lower())).run()

    assert "This is for tanks" in said(at)
    assert "Open the drain valve all the way" not in said(at)
    assert errors(at) == []
