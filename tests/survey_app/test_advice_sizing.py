"""How large: sums, classes of use, today's tank."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey_app.advice.sizing import (
    DRAW_BINS,
    WORKSHEETS,
    Comparison,
    UnusableSizing,
    Worksheet,
    compare_with_tank,
    draw_bin,
    first_hour_need,
    rough_first_hour,
    sizing_sentences,
)
from survey_app.records import HeaterKind
from survey_app.texts import LANGUAGES, texts

SHEETS = st.sampled_from(list(WORKSHEETS.values()))


@given(SHEETS, st.data())
def test_one_more_use_never_asks_for_less(sheet: Worksheet, data: st.DataObject) -> None:
    """The sum rises by exactly the gallons of the use that is added."""
    counts = st.dictionaries(st.sampled_from(list(sheet.gallons)), st.integers(0, 20))
    uses = {use: float(n) for use, n in data.draw(counts).items()}
    use = data.draw(st.sampled_from(list(sheet.gallons)))
    before = first_hour_need(uses, sheet)
    after = first_hour_need({**uses, use: uses.get(use, 0.0) + 1}, sheet)

    assert after.gallons == pytest.approx(before.gallons + sheet.gallons[use])
    assert after.ask_low >= before.ask_low
    assert after.ask_high > before.ask_high


@given(st.floats(0, 300), st.floats(0, 300))
def test_classes_of_use_rise_with_the_rating(one: float, other: float) -> None:
    """A larger rating is never tested with fewer gallons a day."""
    low, high = sorted((one, other))

    assert draw_bin(low).gallons_a_day <= draw_bin(high).gallons_a_day


@pytest.mark.parametrize(
    ("rating", "gallons"), [(0, 10), (17.9, 10), (18, 38), (50.9, 38), (51, 55), (74.9, 55), (75, 84), (200, 84)]
)
def test_classes_of_use_begin_at_their_bounds(rating: float, gallons: float) -> None:
    """From memory: 10 CFR 430, subpart B, appendix E. Each bound belongs to the class above it."""
    assert draw_bin(rating).gallons_a_day == gallons
    assert [b.from_gallons for b in DRAW_BINS] == [0, 18, 51, 75]


def test_todays_tank_is_set_against_the_need_by_a_rule_of_thumb() -> None:
    """A 40 gallon gas tank gives about 66 gallons (0.7 x 40 + 38,000 x 0.76 / (8.34 x 90)): enough, close, short."""
    gas = HeaterKind.GAS_STORAGE
    assert rough_first_hour(40, gas) == pytest.approx(28 + 28_880 / 750.6, rel=1e-6)
    needs = [first_hour_need({"shower": n}) for n in (3, 5, 8)]

    assert [compare_with_tank(n, 40, gas) for n in needs] == [Comparison.ENOUGH, Comparison.CLOSE, Comparison.SHORT]


@pytest.mark.parametrize("kind", [HeaterKind.HEAT_PUMP_STORAGE, HeaterKind.TANKLESS, HeaterKind.UNKNOWN])
def test_a_kind_the_rule_does_not_fit_is_not_judged(kind: HeaterKind) -> None:
    """No figure is made up for a heat pump, a tankless heater, or one nobody knows."""
    need = first_hour_need({"shower": 2})

    assert rough_first_hour(40, kind) is None
    assert compare_with_tank(need, 40, kind) is Comparison.UNKNOWN
    assert compare_with_tank(need, None, HeaterKind.GAS_STORAGE) is Comparison.UNKNOWN


def test_editions_are_never_mixed() -> None:
    """A line that an edition does not have is refused, not taken from another."""
    with pytest.raises(ValueError, match="has no line"):
        first_hour_need({"bath": 1}, WORKSHEETS["femp"])
    with pytest.raises(ValueError, match="has no line"):
        first_hour_need({"bath": 1}, WORKSHEETS["energy-gov"])


@pytest.mark.parametrize(("key", "gallons"), [("energy-savers", 24), ("femp", 20)])
def test_a_long_shower_is_chosen_and_counts_twice(key: str, gallons: float) -> None:
    """By hand: 2 times 12, 2 times 10; nobody who does not choose it is given one."""
    assert first_hour_need({"long-shower": 1}, WORKSHEETS[key]).gallons == gallons
    assert "long-shower" not in WORKSHEETS["energy-gov"].uses


@pytest.mark.parametrize("language", sorted(LANGUAGES))
def test_every_edition_says_its_date_and_the_newest_that_it_was_not_read(language: str) -> None:
    """Three showers are 36, 30 or 60 gallons by the edition; only the newest is marked as not verified."""
    say = texts(language)
    needs = {key: first_hour_need({"shower": 3}, sheet) for key, sheet in WORKSHEETS.items()}
    told = {key: sizing_sentences(need, 40, HeaterKind.GAS_STORAGE, say) for key, need in needs.items()}

    assert {key: need.gallons for key, need in needs.items()} == {"energy-savers": 36, "femp": 30, "energy-gov": 60}
    for key, lines in told.items():
        assert f"({say(f'sizing-dated-{key}')})" in " ".join(lines)
        assert (say("sizing-unverified") in lines) is (key == "energy-gov")


@pytest.mark.parametrize("language", sorted(LANGUAGES))
@pytest.mark.parametrize("kind", list(HeaterKind))
def test_the_words_name_the_rating_the_edition_and_what_is_from_memory(language: str, kind: HeaterKind) -> None:
    """46 gallons: ask 44 to 48, by which edition, in every language and for every kind."""
    say = texts(language)
    text = "\n".join(
        sizing_sentences(first_hour_need({"shower": 3, "shave": 1, "shampoo": 1, "food": 0.8}), 40, kind, say)
    )

    assert "46" in text
    assert "Energy Savers" in text
    assert say("sizing-draw-memory") in text
    assert sizing_sentences(first_hour_need({}), None, kind, say) == [say("sizing-nothing-yet")]


def test_counts_that_cannot_be_true_are_all_told() -> None:
    """A line that is not there and a negative count, in one message with the remedy."""
    with pytest.raises(UnusableSizing, match=r'no line "sauna".*Showers: the count must be from 0 to 100'):
        first_hour_need({"sauna": 1, "shower": -1})
    with pytest.raises(UnusableSizing, match="Read its size again"):
        rough_first_hour(-5, HeaterKind.GAS_STORAGE)
    with pytest.raises(UnusableSizing, match="Read it again on the label"):
        draw_bin(float("nan"))
