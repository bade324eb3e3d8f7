"""The forecast: its counts, its intervals, its sentences, and every kind of poor data."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
import simulated_worlds

from survey_app.forecast import blocks_expected, forecast, forecast_from, look_back, what_would_help
from survey_app.forecast.chances import Plan
from survey_app.lifetime import cut_five, fit, load_prior, observations, spells
from survey_app.lifetime.observations import HomeState
from survey_app.records import Dated, EndCause, Heater, HeaterKind, Home, ServiceKind, ServiceRecord, Tri

AS_OF = date(2026, 1, 1)


def home(name: str, built: int | None = 2000, phase: str | None = "north") -> Home:
    """A home with only what matters here."""
    return Home(
        home_id=name,
        parcel_id=name,
        address=f"{name} Sample Street",
        street="Sample Street",
        phase_id=phase,
        built_year=built,
    )


def heater(name: str, installed: Dated | None, **more: object) -> Heater:
    """Today's heater."""
    return Heater(
        heater_id=f"{name}-1",
        home_id=name,
        sequence=1,
        kind=more.pop("kind", HeaterKind.GAS_STORAGE),
        installed=installed,
        **more,
    )  # type: ignore[arg-type]


def on(year: int) -> Dated:
    """June 1."""
    return Dated.on(date(year, 6, 1))


@pytest.fixture(scope="module")
def community() -> object:
    """One simulated community of 600 homes."""
    w = simulated_worlds
    return w.build(w.World(homes=(600, 600), report="form"), 21)


def test_forecast_is_coherent(community: object) -> None:
    """Phases add up to the total, longer horizons lose more, intervals hold their mean."""
    found = forecast(community.homes, community.heaters, community.services, as_of=AS_OF, seed=1)
    means = [h.everyone.mean for h in found.horizons]
    assert means == sorted(means)
    for horizon in found.horizons:
        assert sum(p.everyone.mean for p in horizon.by_phase) == pytest.approx(horizon.everyone.mean, rel=1e-9)
        assert sum(p.everyone.homes for p in horizon.by_phase) == 600
        assert horizon.everyone.low <= horizon.everyone.mean <= horizon.everyone.high
        assert horizon.answered.mean < horizon.everyone.mean
    assert found.fan[0].so_far.mean == pytest.approx(means[0], rel=0.03)
    assert found.fan[4].so_far.mean == pytest.approx(means[2], rel=0.03)
    assert sum(f.in_year.mean for f in found.fan) == pytest.approx(found.fan[-1].so_far.mean, rel=1e-6)
    assert sum(found.expected_by_home.values()) == pytest.approx(means[0], rel=1e-9)
    one_year = [c for c in found.chances if c.years == 1]
    assert sum(c.chance for c in one_year) == pytest.approx(found.horizons[0].answered.mean, rel=1e-9)
    assert all(0 <= c.low <= c.high <= 1 for c in found.chances)


def test_forecast_as_json_names_no_home(community: object) -> None:
    """The documented fields, plain data, and nothing personal."""
    found = forecast(community.homes, community.heaters, community.services, as_of=AS_OF, seed=1, draws=200)
    text = json.dumps(found.to_dict())
    data = json.loads(text)
    assert {"as_of", "homes", "answered", "refusal", "horizons", "fan", "weighing", "diagnostics", "sentences"} == set(
        data
    )
    assert [h["years"] for h in data["horizons"]] == [1, 3, 5]
    assert all(0 <= w["local_weight"] <= 1 and w["source"] for w in data["weighing"])
    assert "Sample Street" not in text
    assert "h00001" not in text


def test_same_seed_same_forecast_and_order_of_records_does_not_matter(community: object) -> None:
    """Byte for byte, with homes and heaters reversed."""
    one = forecast(community.homes, community.heaters, community.services, as_of=AS_OF, seed=4, draws=200)
    other = forecast(
        community.homes[::-1], community.heaters[::-1], community.services[::-1], as_of=AS_OF, seed=4, draws=200
    )
    assert json.dumps(one.to_dict()) == json.dumps(other.to_dict())


def test_silent_homes_can_be_left_out(community: object) -> None:
    """Then everyone is those who answered."""
    found = forecast(
        community.homes, community.heaters, community.services, as_of=AS_OF, seed=1, draws=200, include_silent=False
    )
    for horizon in found.horizons:
        assert horizon.everyone.mean == pytest.approx(horizon.answered.mean)


def test_silent_homes_of_a_phase_with_few_answers_come_from_the_construction_year() -> None:
    """Two answers in a phase do not stand for fifty homes; the forecast says which way it took."""
    homes = [home(f"n{i}", 2000, "north") for i in range(30)] + [home(f"s{i}", 1990, "south") for i in range(50)]
    heaters = [heater(f"n{i}", on(2000 + i % 20)) for i in range(20)] + [heater(f"s{i}", on(2015)) for i in range(2)]
    found = forecast(homes, heaters, as_of=AS_OF, seed=1, draws=200)
    ways = {p.phase: p.silent_way for p in found.horizons[0].by_phase}
    assert ways == {"north": "like the answers of the phase", "south": "from the construction year"}
    south = found.horizons[0].by_phase[1]
    assert south.everyone.mean > 48 * 0.02


def test_new_estate_expects_far_fewer_losses_than_an_old_one() -> None:
    """Only the construction year is known: houses of 2022 against houses of 2000."""
    young = forecast([home(f"y{i}", 2022) for i in range(100)], [], as_of=AS_OF, seed=1)
    old = forecast([home(f"o{i}", 2000) for i in range(100)], [], as_of=AS_OF, seed=1)
    assert young.horizons[0].everyone.mean < 0.5 * old.horizons[0].everyone.mean
    assert old.refusal is not None
    assert old.horizons[0].everyone.high > old.horizons[0].everyone.low


POOR = {
    "no homes": ([], []),
    "no answers": ([home(f"a{i}") for i in range(20)], []),
    "three answers": (
        [home(f"a{i}") for i in range(50)],
        [heater("a0", on(2009)), heater("a1", on(2015)), heater("a2", on(2000))],
    ),
    "all dates unknown": ([home(f"a{i}") for i in range(20)], [heater(f"a{i}", None) for i in range(20)]),
    "no failures at all": (
        [home(f"a{i}", 2020) for i in range(40)],
        [heater(f"a{i}", on(2020), number_in_home=1) for i in range(40)],
    ),
    "one phase": ([home(f"a{i}") for i in range(40)], [heater(f"a{i}", on(2000 + i % 25)) for i in range(40)]),
    "no phases": ([home(f"a{i}", 2000, None) for i in range(40)], [heater(f"a{i}", on(2010)) for i in range(30)]),
    "no construction years": (
        [home(f"a{i}", None) for i in range(30)],
        [heater(f"a{i}", on(2010)) for i in range(30)],
    ),
    "a heater from 1960": ([home(f"a{i}", 1955) for i in range(20)], [heater("a0", on(1960)), heater("a1", on(2012))]),
    "all tankless": (
        [home(f"a{i}") for i in range(10)],
        [heater(f"a{i}", on(2015), kind=HeaterKind.TANKLESS) for i in range(10)],
    ),
    "contradictions": (
        [home(f"a{i}") for i in range(20)],
        [
            heater(f"a{i}", on(2015), removed=on(2010), end_cause=EndCause.FAILED)
            if i % 2
            else heater(f"a{i}", on(2040))
            for i in range(20)
        ],
    ),
    "built in the future": ([home(f"a{i}", 2050) for i in range(10)], [heater("a0", on(2020))]),
}


@pytest.mark.parametrize("case", list(POOR))
def test_poor_data_gives_sentences_and_a_width_never_a_crash(case: str) -> None:
    """Numbers stay finite, the interval stays an interval, and something is said."""
    homes, heaters = POOR[case]
    found = forecast(homes, heaters, as_of=AS_OF, seed=1, draws=300)
    for horizon in found.horizons:
        assert np.isfinite(horizon.everyone.mean)
        assert 0 <= horizon.everyone.low <= horizon.everyone.high <= max(len(homes), 1)
    assert found.sentences
    json.dumps(found.to_dict())


@pytest.mark.parametrize(
    ("case", "says"),
    [
        ("no answers", "nothing local to learn from"),
        ("three answers", "Only 3 homes have answered"),
        ("all dates unknown", "nothing local to learn from"),
        ("no failures at all", "No failure has been reported"),
        ("no construction years", "already failed cannot be seen"),
        ("a heater from 1960", "contradict themselves or cannot be used"),
        ("all tankless", "tankless"),
    ],
)
def test_poor_data_is_named(case: str, says: str) -> None:
    """Each kind of poor data has its own plain sentence."""
    homes, heaters = POOR[case]
    found = forecast(homes, heaters, as_of=AS_OF, seed=1, draws=200)
    assert any(says in sentence for sentence in found.sentences)


def test_refused_forecast_is_as_wide_as_the_prior() -> None:
    """Current heaters alone: refused, no local weight, and wider than the same answers with histories."""
    homes, heaters = POOR["no construction years"]
    found = forecast(homes, heaters, as_of=AS_OF, seed=1)
    assert found.refusal is not None
    assert all(w.local_weight == 0 for w in found.weighing)


def random_records(seed: int) -> tuple[list[Home], list[Heater], list[ServiceRecord]]:
    """Records without any sense: dates from 1950 to 2034 in any order, kinds, causes and numbers at random."""
    rng = np.random.default_rng(seed)

    def pick(options: Sequence[object]) -> object:
        return options[int(rng.integers(0, len(options)))]

    def some_day() -> Dated:
        first = date(1950, 1, 1) + timedelta(days=int(rng.integers(0, 365 * 85)))
        return Dated(earliest=first, latest=first + timedelta(days=int(pick((0, 0, 0, 30, 365, 1825, 7300)))))

    homes, heaters, services = [], [], []
    for i in range(int(rng.integers(0, 40))):
        homes.append(
            replace(
                home(f"h{i}", pick((None, 1850, 1990, 2000, 2024, 2026, 2031)), pick((None, "a", "b"))),
                moved_in=some_day() if rng.random() < 0.5 else None,
                softener=pick(list(Tri)),
            )
        )
        for order in range(int(rng.integers(0, 5))):
            heaters.append(
                Heater(
                    heater_id=f"h{i}-{order}",
                    home_id=f"h{i}",
                    sequence=order,
                    kind=pick(list(HeaterKind)),
                    installed=some_day() if rng.random() < 0.7 else None,
                    number_in_home=pick((None, 1, 2, 3)),
                    warranty_years=pick((None, 6.0, 12.0)),
                    removed=some_day() if rng.random() < 0.5 else None,
                    end_cause=pick((None, *EndCause)),
                )
            )
            if rng.random() < 0.4:
                services.append(
                    ServiceRecord(
                        record_id=f"{i}-{order}",
                        heater_id=f"h{i}-{order}",
                        kind=pick(list(ServiceKind)),
                        done=some_day(),
                    )
                )
    return homes, heaters, services


@pytest.mark.filterwarnings("error")
@pytest.mark.parametrize("seed", range(12))
def test_senseless_records_never_crash(seed: int) -> None:
    """Every function survives them without so much as a numerical warning, and gives finite numbers."""
    records = random_records(seed)
    posterior = fit(observations(*records, as_of=AS_OF), load_prior(), seed=1, draws=100)
    found = forecast_from(posterior, seed=1)
    for horizon in found.horizons:
        assert np.isfinite(horizon.everyone.mean)
        assert 0 <= horizon.everyone.low <= horizon.everyone.high
    assert all(0 <= c.chance <= 1 for c in found.chances)
    assert np.isfinite(what_would_help(posterior, seed=1).plus_minus)
    look_back(*records, as_of_past=date(2015, 1, 1), today=AS_OF, seed=1, draws=100)
    cut_five(*records, as_of=AS_OF, prior=load_prior())
    assert all(s.ended is None or s.end_cause is not None for s in spells(*records, as_of=AS_OF))


def test_horizon_must_be_above_zero(community: object) -> None:
    """A sentence with the remedy."""
    with pytest.raises(ValueError, match="more than zero years"):
        forecast(community.homes, community.heaters, as_of=AS_OF, seed=1, horizons=(0, 1))
    found = forecast(community.homes, community.heaters, as_of=AS_OF, seed=1, draws=100, horizons=(2.5,))
    assert found.horizon(2.5).everyone.mean > 0
    with pytest.raises(KeyError, match="No horizon"):
        found.horizon(9)


def test_what_would_help_promises_what_more_answers_then_bring() -> None:
    """The interval with 60 more answers of one phase is, within a fifth, what was promised."""
    w = simulated_worlds
    c = w.build(w.World(homes=(700, 700), phases=(3, 3), report="form", response=0.8), 5)
    heard = {h.home_id for h in c.heaters}
    rng = np.random.default_rng(0)
    quiet = set(rng.permutation(sorted(heard))[: len(heard) // 2].tolist())

    def posterior(silent: set[str]) -> object:
        return fit(
            observations(
                [replace(h, moved_in=None) if h.home_id in silent else h for h in c.homes],
                [h for h in c.heaters if h.home_id not in silent],
                as_of=AS_OF,
            ),
            load_prior(),
            seed=1,
        )

    before = posterior(quiet)
    promise = what_would_help(before, years=3, answers=60, seed=1)
    best = promise.by_phase[0]
    assert best.plus_minus < promise.plus_minus
    phase = {h.home_id: h.phase_id for h in c.homes}
    now_heard = [h for h in sorted(quiet) if phase[h] == best.phase][:60]
    after = forecast_from(posterior(quiet - set(now_heard)), horizons=(3,), seed=1).horizons[0].everyone
    start = forecast_from(before, horizons=(3,), seed=1).horizons[0].everyone
    assert (start.high - start.low) / 2 == pytest.approx(promise.plus_minus, rel=0.12)
    assert (after.high - after.low) / 2 == pytest.approx(best.plus_minus, rel=0.2)
    assert "±" in promise.sentences[0]


def test_what_would_help_when_every_home_answered() -> None:
    """Then only chance is left."""
    homes = [home(f"a{i}") for i in range(20)]
    posterior = fit(
        observations(homes, [heater(f"a{i}", on(2005 + i)) for i in range(20)], as_of=AS_OF),
        load_prior(),
        seed=1,
        draws=200,
    )
    found = what_would_help(posterior, seed=1)
    assert found.by_phase == ()
    assert any("Every home has answered" in s for s in found.sentences)
    assert found.without_history > 0


def test_blocks_never_show_fewer_homes_than_the_minimum(community: object) -> None:
    """Small blocks are pooled, nothing can be found by subtraction, one or two homes are refused."""
    found = forecast(community.homes, community.heaters, as_of=AS_OF, seed=1, draws=100)
    block_of = {h.home_id: ("big" if i % 3 else f"tiny{i % 50}") for i, h in enumerate(community.homes)}
    block_of[community.homes[0].home_id] = "alone"
    blocks = blocks_expected(found, block_of, minimum=6)
    assert all(b.homes >= 6 for b in blocks)
    assert sum(b.homes for b in blocks) == 600
    assert "alone" not in {b.block for b in blocks}
    lonely = {h.home_id: "big" for h in community.homes} | {community.homes[0].home_id: "alone"}
    assert [(b.block, b.homes) for b in blocks_expected(found, lonely)] == [(None, 600)]
    with pytest.raises(ValueError, match="at least 3"):
        blocks_expected(found, block_of, minimum=1)


def test_look_back_is_calibrated_where_histories_are_known() -> None:
    """Five years back: what happened lies in the total's interval for at least five of seven communities."""
    w = simulated_worlds
    inside = 0
    for seed in range(7):
        c = w.build(w.World(homes=(700, 700), leak_odds=1.0), 300 + seed)
        found = look_back(c.homes, c.heaters, c.services, as_of_past=date(2021, 1, 1), today=AS_OF, seed=1)
        assert found.usable
        assert sum(b.homes for b in found.bins) == found.homes
        inside += found.total.low <= found.total.happened <= found.total.high
    assert inside >= 5


def test_look_back_says_when_it_is_not_fair() -> None:
    """A form that never asks how old the lost heater was hides just the losses."""
    w = simulated_worlds
    c = w.build(w.World(homes=(500, 500), report="form"), 2)
    found = look_back(c.homes, c.heaters, as_of_past=date(2021, 1, 1), today=AS_OF, seed=1)
    assert not found.usable
    assert any("no fair comparison" in s for s in found.sentences)
    assert found.total.happened is not None
    nothing = look_back([home("a")], [], as_of_past=date(2021, 1, 1), today=AS_OF, seed=1)
    assert nothing.bins == ()
    with pytest.raises(ValueError, match="must come before"):
        look_back([home("a")], [], as_of_past=AS_OF, today=date(2021, 1, 1), seed=1)


@pytest.mark.parametrize(("homes", "minimum"), [(120, 11), (500, 11), (500, 40)])
def test_a_published_look_back_tells_no_small_count(homes: int, minimum: int) -> None:
    """Ranges hold enough homes and add up to all; a small number lost is not told, nor follows from the others."""
    w = simulated_worlds
    c = w.build(w.World(homes=(homes, homes), leak_odds=1.0), 304)
    days = {"as_of_past": date(2022, 1, 1), "today": AS_OF, "seed": 1, "draws": 100}
    exact = look_back(c.homes, c.heaters, c.services, **days)
    told = look_back(c.homes, c.heaters, c.services, **days, minimum=minimum)

    assert any(0 < b.happened < minimum for b in exact.bins), "there is something to hide"
    assert exact.homes == told.homes == sum(b.homes for b in told.bins)
    assert all(b.homes >= minimum for b in told.bins)
    assert all(b.happened is None or b.happened == 0 or b.happened >= minimum for b in (told.total, *told.bins))
    hidden = [b for b in told.bins if b.happened is None]
    assert told.total.happened is None or len(hidden) != 1
    if told.total.happened is not None and hidden:
        assert told.total.happened - sum(b.happened or 0 for b in told.bins) >= minimum
    if told.total.happened is None:
        assert f"fewer than {minimum} did" in told.sentences[0]
        assert f"and {exact.total.happened} did" not in told.sentences[0]


def test_too_few_homes_to_look_back_at_are_not_counted() -> None:
    """Five homes known then: nothing of them is told but that they are too few."""
    records = [heater(f"h{i}", on(2005)) for i in range(5)]
    found = look_back(
        [replace(home(f"h{i}"), moved_in=on(2001)) for i in range(5)],
        records,
        as_of_past=date(2022, 1, 1),
        today=AS_OF,
        seed=1,
        draws=100,
        minimum=11,
    )

    assert found.bins == ()
    assert found.homes == 0
    assert found.sentences == ("The heater of 2022-01-01 is known of fewer than 11 homes: too few to compare.",)


def test_published_sentences_tell_no_small_count(community: object) -> None:
    """Three tankless homes are three for whoever holds the records and "fewer than 11" for everybody else."""
    some = [h for h in community.heaters if h.in_service][:3]
    changed = [replace(h, kind=HeaterKind.TANKLESS) if h in some else h for h in community.heaters]
    told = [
        " ".join(forecast(community.homes, changed, as_of=AS_OF, seed=1, draws=100, fan=False, minimum=n).sentences)
        for n in (1, 11)
    ]

    assert "3 homes have a tankless heater" in told[0]
    assert "Fewer than 11 homes have a tankless heater" in told[1]
    assert "3 homes have a tankless" not in told[1]


def test_silent_homes_have_tanks_and_tankless_units_in_the_shares_of_all_answers() -> None:
    """Tanks of unknown age tell no age, but they are tanks: those of known age stand for them too, in each phase."""
    homes, heaters = [], []
    for phase, dated, undated, tankless in (("north", 30, 30, 20), ("south", 40, 0, 10)):
        kinds = ["dated"] * dated + ["undated"] * undated + ["tankless"] * tankless + ["silent"] * 25
        for n, kind in enumerate(kinds):
            name = f"{phase}{n:03}"
            homes.append(home(name, phase=phase))
            if kind == "tankless":
                heaters.append(heater(name, on(2015), kind=HeaterKind.TANKLESS))
            elif kind != "silent":
                heaters.append(heater(name, on(2010) if kind == "dated" else None))
    obs = observations(homes, heaters, [], as_of=AS_OF)
    plan = Plan.of(obs)

    shares = {}
    for stratum in plan.strata:
        no_tank = obs.home_state[plan.homes[stratum.donors]] == HomeState.NO_TANK
        shares[stratum.phase] = stratum.stands_for[no_tank].sum() / stratum.stands_for.sum()
    assert shares == pytest.approx({"north": 20 / 80, "south": 10 / 50})


def test_silent_homes_of_a_phase_without_a_dated_tank_are_like_no_tankless_unit() -> None:
    """Nine tankless answers and nine undated tanks say nothing of how old the silent ones' heaters are."""
    homes = [home(f"n{n:02}", built=None) for n in range(30)] + [home(f"s{n:02}", phase="south") for n in range(30)]
    heaters = [heater(f"n{n:02}", on(2015), kind=HeaterKind.TANKLESS) for n in range(9)]
    heaters += [heater(f"n{n:02}", None) for n in range(9, 18)]
    heaters += [heater(f"s{n:02}", on(2008)) for n in range(20)]
    plan = Plan.of(observations(homes, heaters, [], as_of=AS_OF))

    north = next(s for s in plan.strata if s.phase == "north")
    assert north.way != "like the answers of the phase"
    assert not len(north.donors)
