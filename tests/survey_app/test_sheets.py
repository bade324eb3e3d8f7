"""Sheet numbers: one walking order for letters and for paper forms, which nothing takes from a home again."""

from __future__ import annotations

import itertools
from dataclasses import replace
from datetime import datetime
from decimal import Decimal
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geo.parcels import ParcelFile, read_parcels
from geo.walking import walk_length
from survey_app.access import Actor, NotAllowed, Role
from survey_app.intake import QUESTIONS, from_short, read_choice, read_choices, short_codes
from survey_app.on_foot import by_street, house_number, in_walking_order, numbers_between
from survey_app.records import Home
from survey_app.service_days import ways_between
from survey_app.survey import Store, Survey, open_store
from survey_app.survey.service_rounds import ground_of

NOW = datetime(2026, 5, 2, 9, 30)
COUNTY = Path(__file__).parents[2] / ".." / "shared" / "data" / "county_parcels" / "parcels.geojson"


def front(place: Path | Store, role: Role = Role.VOLUNTEER) -> Survey:
    """The survey as a volunteer, or as somebody else."""
    store = place if isinstance(place, Store) else open_store(place)
    return Survey(store, Actor(name=str(role), role=role), now=NOW)


def without(file: ParcelFile, parcel_ids: set[str]) -> ParcelFile:
    """A county file as it was before these parcels were in it."""
    return replace(file, parcels=file.parcels[~file.parcels["parcel_id"].isin(parcel_ids)])


def on_foot(store: Store, homes: list[Home]) -> int:
    """Metres of a walk through homes in this order."""
    ground = ground_of(store)
    at = [ground.where[h.home_id] for h in homes]
    streets, addresses = [h.street for h in homes], [h.address for h in homes]
    travel, *_ = ways_between(ground, [p[0] for p in at], [p[1] for p in at], streets, addresses, on_foot=True)
    return walk_length(travel.metres, np.arange(len(homes)))


def test_the_same_survey_gives_the_same_numbers_whatever_the_order_of_its_rows(data: Path) -> None:
    """Whole numbers from 1, one a home; asked again they are the same, and homes in any order walk alike."""
    store = open_store(data)
    numbers = front(store).sheets().numbers()
    homes, ground = store.homes(), ground_of(store)

    assert list(numbers.values()) == [str(n) for n in range(1, len(homes) + 1)]
    version = store.state().data_version
    assert front(data).sheets().numbers() == numbers
    assert store.state().data_version == version, "numbers are worked out once, then read"
    assert [h.home_id for h in in_walking_order(homes[::-1], ground)] == list(numbers)


def test_the_walk_is_shorter_than_by_address_or_by_sides_of_streets(data: Path) -> None:
    """On foot, crossings counted, less than two thirds of either."""
    store = open_store(data)
    homes = store.homes()
    walk = on_foot(store, in_walking_order(homes, ground_of(store)))
    by_address = sorted(homes, key=lambda h: (h.street, house_number(h), h.address))

    assert walk < on_foot(store, by_address) * 2 / 3
    assert walk < on_foot(store, by_street(homes)) * 2 / 3


def test_a_community_too_large_for_one_matrix_is_walked_in_parts(data: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every home once, on a way still shorter than street by street, even where a part is as small as 60 homes."""
    store = open_store(data)
    homes, ground = store.homes(), ground_of(store)
    monkeypatch.setattr("survey_app.on_foot._MOST_AT_ONCE", 60)
    parts = in_walking_order(homes, ground)
    assert sorted(h.home_id for h in parts) == sorted(h.home_id for h in homes)
    assert on_foot(store, parts) < on_foot(store, by_street(homes))


def test_units_of_one_parcel_follow_one_another_by_number(data: Path) -> None:
    """Two before ten, with no other home between."""
    store = open_store(data)
    ordered = in_walking_order(store.homes(), ground_of(store))
    shared = [h.parcel_id for h in ordered]
    groups = {p for p in shared if shared.count(p) > 1}
    assert groups, "the synthetic community has parcels with several homes"
    for parcel in groups:
        at = [i for i, p in enumerate(shared) if p == parcel]
        assert at == list(range(at[0], at[0] + len(at)))
    home = replace(ordered[0], home_id="x/10", address="1 A ST UNIT 10")
    two = replace(home, home_id="x/2", address="1 A ST UNIT 2")
    ground = ground_of(store)
    ground = replace(
        ground,
        where={**ground.where, "x/10": ground.where[ordered[0].home_id], "x/2": ground.where[ordered[0].home_id]},
    )
    assert [h.home_id for h in in_walking_order([home, two], ground)] == ["x/2", "x/10"]


def test_by_street_walks_up_the_odd_side_and_down_the_even_one(data: Path) -> None:
    """What the search for a shorter walk begins with: streets together, odd numbers rising, even ones falling."""
    ordered = by_street(open_store(data).homes())
    one = [int(h.address.split()[0]) for h in ordered if h.street == ordered[0].street]
    odd, even = [n for n in one if n % 2], [n for n in one if not n % 2]
    assert one == [*sorted(odd), *sorted(even, reverse=True)]


def test_homes_that_come_later_stand_between_their_neighbors_and_nobody_elses_number_changes(
    invented: Path, tmp_path: Path
) -> None:
    """Letters are out; then a file with more parcels: old numbers stay, new ones are decimals where the walk passes."""
    file = read_parcels(invented / "parcels.geojson")
    survey = front(tmp_path / "data")
    later = set(file.parcels["parcel_id"].iloc[10::12])
    survey.set_up().load_parcels(without(file, later), drop_missing=True)
    before = survey.sheets().numbers()
    first = next(iter(before))
    survey.sign_in_rights().issue_codes([first])
    survey.set_up().load_parcels(file)
    after = survey.sheets().numbers()
    new = [k for k in after if k not in before]

    assert new
    assert {k: n for k, n in after.items() if k in before} == before
    assert len(set(after.values())) == len(after)
    assert list(after) == sorted(after, key=lambda k: Decimal(after[k]))
    homes = {h.home_id: h for h in survey._context.store.homes()}
    anew = in_walking_order(list(homes.values()), ground_of(survey._context.store))
    assert on_foot(survey._context.store, [homes[k] for k in after]) < 1.25 * on_foot(survey._context.store, anew)
    last = int(max(Decimal(n) for n in before.values()))
    assert any(Decimal(after[k]) < last for k in new), "not merely at the end"
    fresh = survey.sheets().number_anew()
    assert list(fresh.values()) == [str(n) for n in range(1, len(homes) + 1)]
    assert front(survey._context.store).sheets().numbers() == fresh


def test_homes_that_go_leave_a_gap_and_before_the_first_letter_all_is_numbered_anew(
    invented: Path, tmp_path: Path
) -> None:
    """Without letters out, new parcels number from 1 again; with them, a dropped home's number is not given again."""
    file = read_parcels(invented / "parcels.geojson")
    survey = front(tmp_path / "data")
    survey.set_up().load_parcels(without(file, set(file.parcels["parcel_id"].iloc[:5])), drop_missing=True)
    survey.sheets().numbers()
    survey.set_up().load_parcels(file)
    numbers = survey.sheets().numbers()
    assert all(n.isdigit() for n in numbers.values())
    assert len(numbers) == len(survey._context.store.homes())
    survey.sign_in_rights().issue_codes([next(iter(numbers))])
    gone = list(numbers)[7]
    parcel = next(h.parcel_id for h in survey._context.store.homes() if h.home_id == gone)
    survey.set_up().load_parcels(without(file, {parcel}), drop_missing=True)
    left = survey.sheets().numbers()
    assert gone not in left
    assert left == {k: n for k, n in numbers.items() if k in left}


def test_reprinted_homes_keep_their_number_and_new_codes(data: Path) -> None:
    """Codes made anew change no number."""
    survey = front(data)
    numbers = survey.sheets().numbers()
    survey.sign_in_rights().issue_codes(list(numbers)[3:5])
    survey.sign_in_rights().issue_codes(list(numbers)[3:5])
    assert survey.sheets().numbers() == numbers


def test_only_the_volunteer_sees_the_order(data: Path) -> None:
    """The committee and visitors have no list of homes."""
    for role in (Role.COMMITTEE, Role.RESIDENT):
        with pytest.raises(NotAllowed):
            front(data, role).sheets()
        with pytest.raises(NotAllowed):
            front(data, role).paper_forms()


@given(
    low=st.decimals(0, 9999, places=3),
    gap=st.decimals("0.001", 3, places=3),
    count=st.integers(1, 40),
    end=st.booleans(),
)
def test_numbers_between_are_as_many_as_asked_in_order_and_strictly_between(
    low: Decimal, gap: Decimal, count: int, end: bool
) -> None:
    """There is always room; nothing is longer than it must be."""
    high = None if end else low + gap
    found = numbers_between(low, high, count)
    assert len(found) == count
    assert low < found[0]
    assert all(a < b for a, b in itertools.pairwise(found))
    assert high is None or found[-1] < high
    assert high is not None or all(n == int(n) for n in found)
    assert all(len(f"{n.normalize():f}") <= 20 for n in found)


# ---- paper forms -----------------------------------------------------------------


def test_a_form_is_found_by_sheet_code_and_address(data: Path) -> None:
    """A number in any spelling, the whole code or its first part, an address; what is none says so."""
    survey = front(data)
    forms, numbers = survey.paper_forms(), survey.sheets().numbers()
    home_id = list(numbers)[4]
    ((home, code),) = survey.sign_in_rights().issue_codes([home_id])

    for typed in ("5", "005", " 5.0 ", code, code.lower().replace("-", " "), code[:4], home.address.lower()):
        found = forms.find(typed).home
        assert found is not None, typed
        assert (found.home_id, found.sheet) == (home_id, "5")
    survey.sign_in_rights().issue_codes([home_id])
    old = forms.find(code)
    assert old.home is None
    assert "newer letters void" in old.why
    nowhere = forms.find("99999")
    assert (nowhere.home, bool(nowhere.why)) == (None, True)
    assert forms.find(home.street).may_be, "a street alone offers its homes"


def test_the_next_form_is_the_next_home_without_an_answer_behind_the_last(data: Path) -> None:
    """In the order of the sheets, round to the first again; never one that has answered."""
    survey = front(data)
    numbers = list(survey.sheets().numbers())
    waiting = [h.home_id for h in survey.paper_forms().waiting()]
    assert waiting == [k for k in numbers if k not in survey._context.store.answered_homes()]
    assert [h.home_id for h in survey.paper_forms().waiting(after=waiting[3])] == waiting[4:] + waiting[:4]


def test_short_codes_mean_what_the_words_mean() -> None:
    """Each letter stands for its answer; every stored value typed in full still means itself."""
    for asked in QUESTIONS:
        for value, code in short_codes(asked.key).items():
            assert from_short(asked.key, code) == value
            assert from_short(asked.key, code.upper()) == value
            read = read_choices if asked.any_of else read_choice
            assert read(asked.key, from_short(asked.key, value)).values == read(asked.key, value).values
            assert read(asked.key, from_short(asked.key, asked.label(value))) == read(asked.key, asked.label(value))
    assert from_short("kind", "/") == "unknown"
    assert from_short("weekdays", "6, 2") == "sat;tue"
    assert from_short("last_flush", "N") == "never"
    assert from_short("installed", "n") == "n"


# ---- a real county ----------------------------------------------------------------


@pytest.mark.slow
@pytest.mark.skipif(not COUNTY.exists(), reason="the county's public parcel file is not on this machine")
def test_the_order_saves_most_of_the_walk_in_a_real_town(tmp_path: Path) -> None:
    """826 homes of a town, on streets inferred from its lots: a quarter of the walk by address, and of that by side."""
    survey = front(tmp_path / "data")
    survey.set_up().load_parcels(read_parcels(COUNTY, land_use_column="LANDUSE_CD"), home_uses=frozenset({"11"}))
    store = survey._context.store
    homes = {h.home_id: h for h in store.homes()}
    numbers = survey.sheets().numbers()
    by_address = sorted(homes.values(), key=lambda h: (h.street, house_number(h), h.address))
    walk, plain, sides = (
        on_foot(store, order) for order in ([homes[k] for k in numbers], by_address, by_street(list(homes.values())))
    )
    print(f"\n{len(homes)} homes: {walk / 1000:.1f} km, by address {plain / 1000:.1f}, by side {sides / 1000:.1f}")

    assert list(numbers.values()) == [str(n) for n in range(1, 827)]
    assert walk < 0.25 * plain
    assert walk < 0.25 * sides
