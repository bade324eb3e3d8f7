"""Who may do what, and what is published."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey_app.access import Action, Actor, NotAllowed, Role, allowed, require, share_band, suppress
from survey_app.records import Home
from survey_app.response import coverage, published_figures

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
    """What is hidden sums to at least the minimum in two cells or more, unless all of them are hidden."""
    found = suppress(counts, minimum)
    hidden = [k for k, n in found.items() if n is None]

    assert all(n is None or n == 0 or n >= minimum for n in found.values())
    assert not hidden or len(hidden) == len(counts) or (len(hidden) > 1 and sum(counts[k] for k in hidden) >= minimum)


def test_two_single_homes_do_not_follow_from_the_rest() -> None:
    """Two hidden cells of one home each would be told by a rest of two: a larger one is hidden with them."""
    assert suppress({"a": 1, "b": 1, "c": 40, "d": 60}, 11) == {"a": None, "b": None, "c": None, "d": 60}
    assert suppress({"a": 3, "b": 0}, 11) == {"a": None, "b": None}, "the total itself is that cell"


PHASES = st.lists(st.tuples(st.integers(0, 40), st.integers(0, 40)), min_size=1, max_size=5)


@given(PHASES, st.lists(st.integers(0, 60), min_size=4, max_size=4))
def test_no_phase_and_no_class_follows_from_the_number_of_all_answers(
    sizes: list[tuple[int, int]], standing: list[int]
) -> None:
    """How many answered in all is at the head of every page; less what is shown it gives no count of 1 to 10."""
    homes = [
        Home(
            home_id=f"{p}-{i}",
            parcel_id="x",
            address=f"{i} A St",
            street="A St",
            phase_id=f"phase {p}",
            built_year=2000,
        )
        for p, (yes, no) in enumerate(sizes)
        for i in range(yes + no)
    ]
    answered = frozenset(f"{p}-{i}" for p, (yes, _) in enumerate(sizes) for i in range(yes))
    classes = {**dict(zip(("in", "past", "twice", "unknown"), standing, strict=True)), "no answer": 30}
    found = published_figures(classes, coverage(homes, answered), minimum=11)

    hidden = [sizes[int(g.group.split()[1])] for g, n in found.phases if n is None]
    everything = len(hidden) == len(found.phases)
    for rest in (sum(yes for yes, _ in hidden), sum(no for _, no in hidden)):
        assert everything or rest == 0 or rest > 10
    assert len(hidden) != 1 or everything
    assert all(n is None or n == 0 or n > 10 for _, n in found.phases)
    left = [k for k, n in found.classes.items() if n is None]
    assert "no answer" not in left, "it would be told by the head of the page, and a class with it"
    assert not left or len(left) == 4 or sum(classes[k] for k in left) > 10


def test_shares_are_told_in_bands_open_at_both_ends() -> None:
    """None of twelve and all of twelve are told as bands, which settle no home."""
    assert share_band(0, 12) == "under 20 %"
    assert share_band(12, 12) == "over 80 %"
    assert share_band(5, 12) == "40 to 60 %"
    assert share_band(0, 0) == "nothing known"
