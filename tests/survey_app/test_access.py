"""Who may do what, and what is published."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey_app.access import Action, Actor, NotAllowed, Role, allowed, require, share_band, suppress

VOLUNTEER = Actor(name="vera", role=Role.VOLUNTEER)
COMMITTEE = Actor(name="carl", role=Role.COMMITTEE)
VISITOR = Actor(name="visitor", role=Role.RESIDENT)
RESIDENT = Actor(name="rita", role=Role.RESIDENT, home_id="R-1")


@pytest.mark.parametrize(
    ("actor", "action", "home", "may"),
    [
        (VOLUNTEER, Action.READ_ALL_HOMES, None, True),
        (VOLUNTEER, Action.READ_HOME, "R-2", True),
        (COMMITTEE, Action.READ_TOTALS, None, True),
        (COMMITTEE, Action.READ_ALL_HOMES, None, False),
        (COMMITTEE, Action.READ_HOME, "R-1", False),
        (COMMITTEE, Action.SET_UP, None, False),
        (COMMITTEE, Action.SUBMIT_ANSWER, None, False),
        (VISITOR, Action.SUBMIT_ANSWER, None, True),
        (VISITOR, Action.READ_HOME, "R-1", False),
        (VISITOR, Action.READ_TOTALS, None, False),
        (RESIDENT, Action.READ_HOME, "R-1", True),
        (RESIDENT, Action.READ_HOME, "R-2", False),
        (RESIDENT, Action.READ_HOME, None, False),
        (RESIDENT, Action.MANAGE_SIGN_IN, None, False),
    ],
)
def test_every_door_opens_its_own_rooms_only(actor: Actor, action: Action, home: str | None, may: bool) -> None:
    """The table of who may do what; a refusal always has a reason."""
    verdict = allowed(actor, action, home)

    assert may is verdict.ok
    assert verdict.reason


def test_a_refusal_stops_the_caller() -> None:
    """`require` raises with the reason."""
    with pytest.raises(NotAllowed, match="its own home and no other"):
        require(RESIDENT, Action.READ_HOME, "R-2")


def test_counts_of_one_to_ten_are_hidden_and_eleven_is_shown() -> None:
    """The rule of the CMS Cell Size Suppression Policy (ResDAC, 26 January 2024): 1 to 10 never, 0 may, 11 may."""
    found = suppress({"a": 0, "b": 1, "c": 10, "d": 11, "e": 300}, 11)

    assert found == {"a": 0, "b": None, "c": None, "d": 11, "e": 300}


def test_a_single_hidden_cell_takes_the_next_one_with_it() -> None:
    """One hidden cell would follow from the total by subtraction (the same policy: not derivable from totals)."""
    assert suppress({"a": 4, "b": 20, "c": 50}, 11) == {"a": None, "b": None, "c": 50}


@given(st.dictionaries(st.text(min_size=1, max_size=3), st.integers(0, 60), max_size=8), st.integers(2, 20))
def test_no_hidden_cell_follows_from_the_total(counts: dict[str, int], minimum: int) -> None:
    """Never exactly one cell is hidden, unless all others are zero (the total itself is small then)."""
    found = suppress(counts, minimum)
    hidden = [k for k, n in found.items() if n is None]

    assert all(n is None or n == 0 or n >= minimum for n in found.values())
    assert len(hidden) != 1 or all(counts[k] == 0 for k in counts if k not in hidden)


def test_shares_are_told_in_bands_open_at_both_ends() -> None:
    """None of twelve and all of twelve are told as bands, which settle no home."""
    assert share_band(0, 12) == "under 20 %"
    assert share_band(12, 12) == "over 80 %"
    assert share_band(5, 12) == "40 to 60 %"
    assert share_band(0, 0) == "nothing known"
