"""The price list: where a price stands it is the list's, it is called what it is, and old settings still count."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from survey_app.advice import buying
from survey_app.advice.triage import TREE, explain
from survey_app.economics import Amounts, Household, words
from survey_app.prices import Basis, Price, PriceList, SizeClass, basis_words, price_line, setting_names, size_class
from survey_app.purchase.prices_of_home import complete_usd, own_lines, prices_of_home
from survey_app.purchase.scope import extras_alone, need_of_heater
from survey_app.records import Heater, HeaterKind, Place, Tri
from survey_app.settings import Settings, read_settings, values_of, with_values, write_settings
from survey_app.texts import ENGLISH, texts

KINDS = (
    HeaterKind.GAS_STORAGE,
    HeaterKind.ELECTRIC_STORAGE,
    HeaterKind.HEAT_PUMP_STORAGE,
    HeaterKind.TANKLESS,
)
OWN = with_values(
    Settings(),
    {
        name: usd
        for n, kind in enumerate(KINDS)
        for size in SizeClass
        for name, usd in zip(setting_names(kind, size), (1601.0 + n, 1702.0 + n, 1803.0 + n), strict=True)
    }
    | {"own_prices_year": 2026},
)
BARE = Heater(
    heater_id="h/1",
    home_id="h",
    sequence=1,
    kind=HeaterKind.GAS_STORAGE,
    place=Place.GARAGE,
    pan=Tri.YES,
    expansion_tank=Tri.YES,
    leak_alarm=Tri.YES,
)


@pytest.mark.parametrize(
    ("kind", "usual"),
    [
        (HeaterKind.GAS_STORAGE, 2245),
        (HeaterKind.ELECTRIC_STORAGE, 1518),
        (HeaterKind.HEAT_PUMP_STORAGE, 3170),
        (HeaterKind.UNKNOWN, 2245),
    ],
)
def test_until_a_community_has_prices_the_national_figure_stands_with_its_year(kind: HeaterKind, usual: float) -> None:
    """NREL, Buildings Annual Technology Baseline, 2023 dollars; it is called national, never "here"."""
    price = PriceList(Settings()).at(kind)

    assert (price.usual_usd, price.basis, price.year, price.judges) == (usual, Basis.NATIONAL, 2023, False)
    assert basis_words(price) == "national figure of 2023"
    assert "here" not in price_line(price)


def test_a_tankless_unit_and_a_larger_tank_are_called_assumptions() -> None:
    """No public figure was found for either; a unit without a tank has one size."""
    table = PriceList(Settings())
    large, tankless = table.at(HeaterKind.GAS_STORAGE, SizeClass.LARGE), table.at(HeaterKind.TANKLESS, SizeClass.LARGE)

    assert large.usual_usd == pytest.approx(2245 * Settings().larger_tank_times)
    assert "our guess" in price_line(large)
    assert (tankless.basis, tankless.size) == (Basis.ASSUMED, SizeClass.USUAL)
    assert "an assumption" in price_line(tankless)
    assert [size_class(g) for g in (None, 40.0, 55.0, 56.0)] == [SizeClass.USUAL] * 3 + [SizeClass.LARGE]


def test_a_larger_tank_follows_the_price_here_until_it_has_its_own() -> None:
    """It never costs less than a smaller one only because one row was entered and the other not."""
    table = PriceList(Settings(own_price_gas_usual_usd=4000.0))
    large = table.at(HeaterKind.GAS_STORAGE, SizeClass.LARGE)

    assert (large.basis, large.usual_usd, large.judges) == (Basis.FROM_HERE, pytest.approx(5200.0), False)


@pytest.mark.parametrize("settings", [Settings(), OWN], ids=["national", "own"])
@pytest.mark.parametrize("size", list(SizeClass))
@pytest.mark.parametrize("kind", KINDS)
def test_every_place_that_shows_a_price_shows_the_lists(kind: HeaterKind, size: SizeClass, settings: Settings) -> None:
    """Triage, buying, the decision, an offer's price alone, the rounds' and ten years': one figure for one heater."""
    heater = replace(BARE, kind=kind, tank_gallons=75.0 if size is SizeClass.LARGE and kind.has_tank else 50.0)
    price = PriceList(settings).for_gallons(kind, heater.tank_gallons)
    need, line = need_of_heater(heater), price_line(price)
    home = prices_of_home(settings, heater, None)

    assert line in explain(TREE.outcomes["leak-shell"], heaters=(price,)).cost
    assert line in buying.price_sentences(price)
    assert line in own_lines(ENGLISH, home.price, home.certain_usd, home.possible_usd)
    assert line in words.price_source(ENGLISH, price)
    assert Amounts.from_settings(settings, kind, price.size).planned_price_usd == price.usual_usd == home.planned_usd
    assert home.own_usd == complete_usd(settings, need) == price.usual_usd + sum(extras_alone(need))


def test_what_a_home_needs_and_what_it_may_need_stand_apart() -> None:
    """Known to have no pan and no alarm: certain. Nobody knows of the expansion tank: possible (hand-worked)."""
    heater = replace(BARE, pan=Tri.NO, leak_alarm=Tri.NO, auto_shutoff=Tri.NO, expansion_tank=Tri.UNKNOWN)
    found = prices_of_home(Settings(), heater, None)
    told = own_lines(ENGLISH, found.price, found.certain_usd, found.possible_usd)

    assert (found.certain_usd, found.possible_usd) == (40 + 60, 120)
    assert "What your home needs besides: $100." in told
    assert "What it may need (an answer is missing): $120." in told


def test_a_file_of_before_opens_and_a_changed_price_counts_as_the_communitys_own() -> None:
    """Defaults that were written down with the rest are no own prices; a changed one is, for what it was for."""
    old = "planned_price_usd = 1275\nplanned_price_heat_pump_usd = 3170.0\nplanned_price_tankless_usd = 3000\n"
    old += "pan_drain_price_usd = 250\n"
    changed = read_settings("planned_price_usd = 1800\nplanned_price_heat_pump_usd = 5200\npan_drain_price_usd = 90")
    table = PriceList(changed)

    assert read_settings(old) == Settings()
    for kind, usual in ((KINDS[0], 1800), (KINDS[1], 1800), (KINDS[2], 5200)):
        assert (table.at(kind).usual_usd, table.at(kind).basis, table.at(kind).judges) == (usual, Basis.HERE, False)
    assert table.at(HeaterKind.TANKLESS).basis is Basis.ASSUMED
    assert read_settings(write_settings(changed)) == changed
    assert "planned_price_usd" not in values_of(changed)


@pytest.mark.parametrize("language", ["en", "es"])
def test_each_row_is_told_with_its_source_in_both_languages(language: str) -> None:
    """National and own, dated and not, one price or three: no row is without words."""
    say = texts(language)
    undated = Settings(own_price_electric_usual_usd=1500.0)
    rows = [price for settings in (Settings(), OWN, undated) for price in PriceList(settings).rows()]
    for price in rows:
        assert "{" not in price_line(price, say) + words.price_source(say, price)
        assert say.usd(price.usual_usd) in price_line(price, say)
    assert {price.basis for price in rows} == set(Basis)


def test_a_household_is_of_the_size_of_its_heater() -> None:
    """Ten years count a large tank at its own price."""
    assert Household().size is SizeClass.USUAL
    assert isinstance(PriceList(Settings()).at(HeaterKind.GAS_STORAGE), Price)


_HELD = re.compile(r"(?<![\d.,_])(?:875|1[,_]?275|2[,_]?245|1[,_]?518|3[,_]?170)(?![\d,_])")
_MAY_HOLD = {"prices.py", "settings/as_text.py", "purchase/money.py"}
"""The list itself, the defaults of older files, and an example of how numbers are read."""


def test_nothing_but_the_list_holds_the_price_of_a_heater() -> None:
    """No page, text or command has a figure of its own to fall behind."""
    root = Path(__file__).parents[2] / "survey_app"
    held = [
        f"{file.relative_to(root).as_posix()}: {line.strip()}"
        for pattern in ("**/*.py", "**/*.ftl")
        for file in sorted(root.glob(pattern))
        if file.relative_to(root).as_posix() not in _MAY_HOLD
        for line in file.read_text(encoding="utf-8").splitlines()
        if _HELD.search(line)
    ]
    assert held == []
