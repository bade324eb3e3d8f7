"""From records to spells: what counts, how it counts, and what is set aside with a sentence."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from survey_app.lifetime import HomeState, observations, rewind, spells
from survey_app.lifetime.layout import usable_acts
from survey_app.lifetime.observations import EARLY, FAILED, IN_SERVICE, NO_START, UNKNOWN
from survey_app.records import Dated, EndCause, Heater, HeaterKind, Home, ServiceKind, ServiceRecord, Tri

AS_OF = date(2026, 1, 1)


def home(name: str = "a", built: int | None = 1995, moved: date | None = None, **more: object) -> Home:
    """A home with only what matters here."""
    return Home(
        home_id=name,
        parcel_id=name,
        address=f"{name} Sample Street",
        street="Sample Street",
        phase_id=more.pop("phase_id", None),  # type: ignore[arg-type]
        built_year=built,
        moved_in=None if moved is None else Dated.on(moved),
        **more,  # type: ignore[arg-type]
    )


def heater(home_id: str = "a", sequence: int = 1, year: int | None = None, **more: object) -> Heater:
    """A heater installed on June 1 of a year."""
    installed = None if year is None else Dated.on(date(year, 6, 1))
    return Heater(
        heater_id=f"{home_id}-{sequence}",
        home_id=home_id,
        sequence=sequence,
        installed=more.pop("installed", installed),  # type: ignore[arg-type]
        kind=more.pop("kind", HeaterKind.GAS_STORAGE),  # type: ignore[arg-type]
        **more,  # type: ignore[arg-type]
    )


def ended(year: int, cause: EndCause = EndCause.FAILED) -> dict[str, object]:
    """When and why a heater left."""
    return {"removed": Dated.on(date(year, 6, 1)), "end_cause": cause}


def test_original_heater_counts_from_construction() -> None:
    """A heater as old as the house has no start: its life was watched by the house itself."""
    found = observations([home()], [heater(year=1995)], as_of=AS_OF)
    assert found.end.tolist() == [IN_SERVICE]
    assert found.start.tolist() == [NO_START]
    assert found.from_construction.tolist() == [True]


def test_later_heater_of_unknown_history_gets_the_renewal_term() -> None:
    """Only today's heater, younger than the house: some heater was replaced when it came."""
    found = observations([home()], [heater(year=2012)], as_of=AS_OF)
    assert found.start.tolist() == [0]
    assert found.watched_from.tolist() == [-np.inf]


@pytest.mark.parametrize(
    ("cause", "number", "kind"),
    [
        (EndCause.FAILED, None, 2),
        (EndCause.REPLACED, None, 4),
        (EndCause.CONVERTED, None, 4),
        (EndCause.UNKNOWN, None, 0),
        (EndCause.FAILED, 3, 3),
        (EndCause.REPLACED, 3, 5),
        (EndCause.UNKNOWN, 3, 1),
    ],
)
def test_cause_of_the_previous_end_and_number_choose_the_kind_of_start(
    cause: EndCause, number: int | None, kind: int
) -> None:
    """What is known about the replacement decides which renewal density is used."""
    heaters = [heater(sequence=1, **ended(2012, cause)), heater(sequence=2, year=2012, number_in_home=number)]
    found = observations([home()], heaters, as_of=AS_OF)
    assert found.start.tolist() == [kind]
    assert found.known_history == 1


def test_second_heater_implies_an_original_one() -> None:
    """Number two, and a known end of the one before: the original lived from construction to that day."""
    heaters = [heater(sequence=1, **ended(2012)), heater(sequence=2, year=2012, number_in_home=2)]
    found = observations([home()], heaters, as_of=AS_OF)
    assert found.end.tolist() == [FAILED, IN_SERVICE]
    assert found.start.tolist() == [NO_START, NO_START]
    alone = observations([home()], [heater(year=2012, number_in_home=2)], as_of=AS_OF)
    assert alone.end.tolist() == [UNKNOWN, IN_SERVICE]


def test_replaced_before_failing_is_not_a_failure() -> None:
    """It ends a spell with a cause of its own."""
    heaters = [heater(sequence=1, year=1995, **ended(2010, EndCause.REPLACED)), heater(sequence=2, year=2010)]
    found = observations([home()], heaters, as_of=AS_OF)
    assert found.end.tolist() == [EARLY, IN_SERVICE]
    assert (found.failures, found.replaced_early) == (0, 1)


def test_move_in_history_is_left_truncated() -> None:
    """Asked for, a heater found at move-in is watched from that day and says nothing about before."""
    people = home(moved=date(2015, 6, 1))
    found = observations([people], [heater(year=2012)], as_of=AS_OF, history="move-in")
    assert found.start.tolist() == [NO_START]
    assert found.watched_from[0] == pytest.approx(-10.6, abs=0.05)


def test_window_that_reaches_the_construction_may_be_the_original() -> None:
    """Installed about 1997, give or take two years, in a house of 1995: the original or a later one."""
    window = Dated(earliest=date(1995, 6, 1), latest=date(1999, 6, 1))
    found = observations([home()], [heater(installed=window)], as_of=AS_OF)
    assert found.maybe_original.tolist() == [True]
    assert found.start.tolist() == [0]


def test_end_without_a_date_takes_the_next_installation() -> None:
    """It failed, and a newer heater has a date: that is when."""
    heaters = [heater(sequence=1, year=1995, end_cause=EndCause.FAILED), heater(sequence=2, year=2008)]
    found = observations([home()], heaters, as_of=AS_OF)
    assert found.end.tolist() == [FAILED, IN_SERVICE]
    assert found.ended[0].mean() == pytest.approx(-17.6, abs=0.05)


def test_acts_outside_the_life_are_set_aside() -> None:
    """A flush before the installation is named, and not used."""
    act = ServiceRecord(record_id="s", heater_id="a-1", kind=ServiceKind.FLUSH, done=Dated.on(date(2000, 1, 1)))
    found = observations([home()], [heater(year=2012)], [act], as_of=AS_OF)
    assert np.isinf(found.flush_from).all()
    assert "outside the heater's time" in found.problems[0].sentence


def test_acts_recorded_only_for_survivors_are_not_used() -> None:
    """Where only heaters in service carry acts, those who acted are survivors by construction."""
    homes = [home(f"h{i}") for i in range(40)]
    heaters = [heater(f"h{i}", 1, 1995, **ended(2008)) for i in range(40)]
    heaters += [heater(f"h{i}", 2, 2008) for i in range(40)]

    def act(name: str, year: int) -> ServiceRecord:
        return ServiceRecord(
            record_id=name, heater_id=name, kind=ServiceKind.ANODE_CHANGE, done=Dated.on(date(year, 1, 1))
        )

    survivors = [act(f"h{i}-2", 2014) for i in range(20)]
    assert usable_acts(observations(homes, heaters, survivors, as_of=AS_OF)) == ()
    everyone = survivors + [act(f"h{i}-1", 2001) for i in range(20)]
    assert usable_acts(observations(homes, heaters, everyone, as_of=AS_OF)) == ("anode changed",)


@pytest.mark.parametrize(
    ("heaters", "says"),
    [
        ([heater(year=2030)], "installed after"),
        ([heater(sequence=1, year=2010, **ended(2005)), heater(sequence=2, year=2012)], "before it was installed"),
        ([heater(sequence=1, year=2005), heater(sequence=2, year=2012)], "so is a newer one"),
        ([heater(year=1960)], "more than 45 years"),
        ([heater(year=1985)], "older than the house"),
        ([heater(sequence=1, end_cause=EndCause.FAILED)], "nobody says when"),
        ([heater(sequence=1, year=1995, **ended(2015)), heater(sequence=2, year=2005)], "overlap"),
        ([heater(sequence=1, year=1995, **ended(2005)), heater(sequence=2, year=2012)], "gap"),
    ],
)
def test_contradictions_are_set_aside_with_a_sentence(heaters: list[Heater], says: str) -> None:
    """Never a crash: the sentence names the home, not its address, and what to do."""
    found = observations([home()], heaters, as_of=AS_OF)
    sentences = [p.sentence for p in found.problems]
    assert any(says in s for s in sentences)
    assert all("Home a" in s and "Sample Street" not in s for s in sentences)
    assert np.isfinite(found.began).all()


def test_tankless_home_is_set_aside_but_its_former_tank_counts() -> None:
    """A converted tank is a spell that did not fail; the tankless heater itself is not a tank."""
    heaters = [
        heater(sequence=1, year=1995, **ended(2010, EndCause.CONVERTED)),
        heater(sequence=2, year=2010, kind=HeaterKind.TANKLESS),
    ]
    found = observations([home()], heaters, as_of=AS_OF)
    assert found.end.tolist() == [EARLY]
    assert found.home_state.tolist() == [HomeState.NO_TANK]


def test_silent_home_and_home_without_date_are_told_apart() -> None:
    """No heater at all, and a heater without a date."""
    found = observations([home("a"), home("b")], [heater("b")], as_of=AS_OF)
    assert found.home_state.tolist() == [HomeState.SILENT, HomeState.AGE_UNKNOWN]
    assert found.refusal is not None


def test_current_heaters_alone_are_refused() -> None:
    """Without construction years, histories or move-in dates the survivors must not be counted as all."""
    homes = [home(f"h{i}", built=None) for i in range(30)]
    found = observations(homes, [heater(f"h{i}", 1, 2000 + i % 20) for i in range(30)], as_of=AS_OF)
    assert found.refusal is not None
    assert "already failed cannot be seen" in found.refusal


def test_missing_construction_year_takes_the_phase() -> None:
    """The middle of the phase stands in for a missing year."""
    homes = [home("a", 2000, phase_id="one"), home("b", 2002, phase_id="one"), home("c", None, phase_id="one")]
    found = observations(homes, [heater("c", 1, 2015)], as_of=AS_OF)
    assert found.home_built[2] == pytest.approx(-24.5, abs=0.1)


def test_factors_are_centered_and_only_kept_where_they_vary() -> None:
    """Softener in half of the homes varies; one and the same warranty does not."""
    homes = [home("a", softener=Tri.YES), home("b", softener=Tri.NO), home("c")]
    found = observations(homes, [heater(h, 1, 2010, warranty_years=6) for h in "abc"], as_of=AS_OF)
    assert found.factor_names == ("softener",)
    assert found.factors[:, 0].tolist() == [0.5, -0.5, 0.0]


def test_order_of_the_records_does_not_matter() -> None:
    """Homes and heaters in any order give the same rows."""
    homes = [home(f"h{i}", 1990 + i) for i in range(6)]
    heaters = [
        heater(f"h{i}", s, 1990 + i + 12 * (s - 1), **(ended(2002 + i) if s == 1 else {}))
        for i in range(6)
        for s in (1, 2)
    ]
    one = observations(homes, heaters, as_of=AS_OF)
    other = observations(homes[::-1], heaters[::-1], as_of=AS_OF)
    assert one.heater_ids == other.heater_ids
    assert np.array_equal(one.began, other.began)


def test_spells_say_from_when_a_heater_was_observed() -> None:
    """The later of installation and move-in; the end cause of a finished one."""
    people = home(moved=date(2000, 6, 1))
    heaters = [heater(sequence=1, year=1995, **ended(2010)), heater(sequence=2, year=2010)]
    first, second = spells([people], heaters, as_of=AS_OF)
    assert first.observed_from == date(2000, 6, 1)
    assert first.end_cause is EndCause.FAILED
    assert second.ended is None


def test_rewinding_undoes_what_came_later() -> None:
    """On the earlier day the failed heater was still in service and the new one not yet there."""
    people = home(moved=date(2020, 6, 1))
    heaters = [heater(sequence=1, year=1999, **ended(2015)), heater(sequence=2, year=2015)]
    homes, past, _ = rewind([people], heaters, [], as_of=date(2012, 1, 1))
    assert [h.heater_id for h in past] == ["a-1"]
    assert past[0].in_service
    assert homes[0].moved_in is None
    assert rewind([replace(people, built_year=2014)], heaters, [], as_of=date(2012, 1, 1))[0] == ()


def test_a_heater_put_on_file_on_its_very_day_is_used() -> None:
    """Replaced today before failing: the old life ends today, the new one is under way, and nothing is set aside."""
    today = Dated.on(AS_OF)
    old = heater(year=2012, removed=today, end_cause=EndCause.REPLACED)
    new = replace(heater(sequence=2), installed=today)
    found = observations([home()], [old, new], as_of=AS_OF)

    assert found.problems == ()
    assert found.replaced_early == 1
    assert found.home_state[0] == HomeState.AGE_KNOWN
    ahead = observations([home()], [replace(new, installed=Dated.on(AS_OF + timedelta(days=1)))], as_of=AS_OF)
    assert "installed after" in ahead.problems[0].sentence
