"""Likelihood, prior and posterior: exact slopes, honest weights, recovery of what is true."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import simulated_worlds

from survey_app.lifetime import (
    Likelihood,
    Observations,
    PriorFileError,
    conditional_failure_probability,
    cut_five,
    durations,
    fit,
    lives_of_home,
    load_prior,
    maximum_likelihood,
    observations,
)
from survey_app.lifetime.posterior import PriorDensity


def found_in(report: str, seed: int = 3, homes: int = 500, **more: object) -> Observations:
    """Observations of one simulated community."""
    w = simulated_worlds
    community = w.build(w.World(homes=(homes, homes), report=report, **more), seed)
    return observations(community.homes, community.heaters, community.services, as_of=w.AS_OF)


@pytest.mark.parametrize("law", ["weibull", "lognormal"])
@pytest.mark.parametrize("report", ["histories", "form"])
def test_gradient_is_exact_for_every_part_of_the_likelihood(report: str, law: str) -> None:
    """Against central differences: renewal, windows, acts, early rates, phases and response tilt together."""
    prior = load_prior()
    likelihood = Likelihood.standard(found_in(report), prior, law)
    density = PriorDensity(prior, likelihood.layout, law)
    theta = density.mean + 0.1 * density.sd * np.random.default_rng(0).standard_normal(len(density.mean))
    _, slope = likelihood.value_and_slope(theta)
    step = 1e-5
    numeric = np.array(
        [
            (likelihood.value(theta + step * e)[0] - likelihood.value(theta - step * e)[0]) / (2 * step)
            for e in np.eye(len(theta))
        ]
    )
    assert np.abs(numeric - slope).max() < 1e-6 * np.abs(slope).max()
    numeric_prior = np.array(
        [
            (density.value((theta + step * e)[None])[0] - density.value((theta - step * e)[None])[0]) / (2 * step)
            for e in np.eye(len(theta))
        ]
    )
    assert density.slope(theta) == pytest.approx(numeric_prior, abs=1e-5)


def test_many_draws_at_once_equal_one_at_a_time() -> None:
    """The vectorized likelihood is the single one, draw by draw."""
    prior = load_prior()
    likelihood = Likelihood.standard(found_in("histories", homes=300), prior, "weibull")
    draws = PriorDensity(prior, likelihood.layout, "weibull").draw(7, np.random.default_rng(1))
    together = likelihood.value(draws)
    assert together == pytest.approx([likelihood.value(d)[0] for d in draws], rel=1e-10)


def test_start_of_a_chain_is_a_probability() -> None:
    """All that a house can show of its last replacement has a total probability of one.

    Original heater still there, or last replaced at any age, by failure or early, with a response tilt:
    the sum of exp(log likelihood) over the possibilities must be one, or a parameter could gain by
    making everything likelier.
    """
    prior = load_prior()
    template = found_in("form", homes=300)
    opener = int(np.flatnonzero(template.start == 2)[0])
    age, step = 30.0, 0.25
    one = template.rows(np.arange(len(template)) == opener)
    one = replace(
        one, phase=np.zeros(1, int), phases=(), factors=np.zeros((1, 0)), factor_names=(), built=np.array([-age])
    )
    theta = np.array([np.log(13.0), np.log(2.4), *np.log([0.02, 0.03, 0.05, 0.05]), 0.7])
    total = 0.0
    places = np.arange(step / 2, age, step)
    for kind in (2, 4):
        n = len(places)
        many = replace(
            one,
            heater_ids=tuple(map(str, range(n))),
            home=np.arange(n),
            phase=np.zeros(n, int),
            began=np.column_stack([places - age, places - age]),
            ended=np.zeros((n, 2)),
            end=np.zeros(n, int),
            watched_from=np.full(n, -np.inf),
            start=np.full(n, kind),
            built=np.full(n, -age),
            from_construction=np.ones(n, bool),
            maybe_original=np.zeros(n, bool),
            anode_from=np.full(n, np.inf),
            flush_from=np.full(n, np.inf),
            factors=np.zeros((n, 0)),
            weight=np.ones(n),
            home_ids=tuple(map(str, range(n))),
        )
        for i in range(n):
            single = many.rows(np.arange(n) == i)
            likelihood = Likelihood(single, bands_from=prior.early_ages_from, tilt=True)
            total += step * float(np.exp(likelihood.value(theta)[0]))
    original = replace(one, began=np.array([[-age, -age]]), start=np.array([-1]), maybe_original=np.zeros(1, bool))
    likelihood = Likelihood(original, bands_from=prior.early_ages_from, tilt=True)
    total += float(np.exp(likelihood.value(theta)[0]))
    assert total == pytest.approx(1.0, abs=0.01)


def test_left_truncation_matters() -> None:
    """Ignoring when a heater came under observation lengthens its life by more than the error allowed."""
    rng = np.random.default_rng(2)
    life, entry = 14 * rng.weibull(2.6, 6000), rng.uniform(0, 15, 6000)
    age = np.minimum(life, entry + 8)
    seen = life > entry
    age, failed, entry = age[seen], (life <= entry + 8)[seen], entry[seen]
    right = maximum_likelihood(durations(age, failed, entry=entry))
    wrong = maximum_likelihood(durations(age, failed))
    assert right.scale == pytest.approx(14, rel=0.03)
    assert wrong.scale > 1.05 * right.scale


def test_fit_without_failures_is_refused_by_likelihood_alone() -> None:
    """No prior and nothing failed: a sentence."""
    with pytest.raises(ValueError, match="No failure"):
        maximum_likelihood(durations([3.0, 4.0], [False, False]))


@pytest.mark.slow
@pytest.mark.parametrize("report", ["histories", "form"])
def test_posterior_holds_the_true_median_life(report: str) -> None:
    """Twelve communities: the 90% range holds the truth in at least nine, and the bias is small."""
    w = simulated_worlds
    held, errors = 0, []
    for seed in range(40, 52):
        community = w.build(w.World(homes=(700, 700), report=report), seed)
        found = observations(community.homes, community.heaters, community.services, as_of=w.AS_OF)
        middle, low, high = fit(found, load_prior(), seed=seed, draws=400).median_life_years()
        held += low <= community.truth.median_years <= high
        errors.append(np.log(middle / community.truth.median_years))
    assert held >= 9
    assert abs(np.mean(errors)) < 0.04


def test_lognormal_truth_is_recognized() -> None:
    """With a lognormal world and many answers most of the weight goes to the lognormal law."""
    found = found_in("histories", seed=5, homes=2500, law="lognormal")
    assert fit(found, load_prior(), seed=1, draws=300).law_weights.get("lognormal", 0.0) > 0.9


def test_response_tilt_is_seen_where_leaks_prompted_answers() -> None:
    """Odds of 2.7 after a leak: the estimated tilt is above one, and above what it is without."""
    keen = [fit(found_in("histories", s, 1500, leak_odds=2.7), load_prior(), seed=1, draws=300) for s in (1, 2)]
    even = [fit(found_in("histories", s, 1500, leak_odds=1.0), load_prior(), seed=1, draws=300) for s in (1, 2)]
    tilt_keen = np.mean([p.parameter("response tilt")[0] for p in keen])
    tilt_even = np.mean([p.parameter("response tilt")[0] for p in even])
    assert tilt_keen > 0.2
    assert tilt_keen > tilt_even + 0.15


def test_cut_five_is_quiet_without_selection_and_says_when_it_cannot_judge() -> None:
    """Six communities without selection raise at most one alarm; a form without ages cannot be judged."""
    w = simulated_worlds
    alarms = 0
    for seed in range(6):
        c = w.build(w.World(homes=(900, 900), leak_odds=1.0), seed)
        check = cut_five(c.homes, c.heaters, c.services, as_of=w.AS_OF, prior=load_prior())
        assert check.possible
        alarms += check.z > 1.64
    assert alarms <= 1
    c = w.build(w.World(homes=(900, 900), report="form"), 1)
    check = cut_five(c.homes, c.heaters, c.services, as_of=w.AS_OF, prior=load_prior())
    assert not check.possible
    assert np.isnan(check.z)
    assert "how old it was" in check.sentence


def test_prior_alone_when_refused() -> None:
    """A refusal gives the prior's own spread, not a fit."""
    found = replace(found_in("histories", homes=300), refusal="Not to be used.")
    posterior = fit(found, load_prior(), seed=1)
    mean, sd, _, _ = posterior.parameter("log median life")
    assert posterior.refusal == "Not to be used."
    assert mean == pytest.approx(load_prior().log_median.mean, abs=0.03)
    assert sd == pytest.approx(load_prior().log_median.sd, rel=0.1)


def test_same_seed_gives_the_same_posterior() -> None:
    """Byte for byte."""
    found = found_in("form", homes=300)
    one, other = (fit(found, load_prior(), seed=9, draws=200) for _ in range(2))
    assert np.array_equal(one.laws[0].draws, other.laws[0].draws)
    assert np.array_equal(one.laws[0].weights, other.laws[0].weights)


def test_conditional_probability_grows_with_age_and_horizon() -> None:
    """Older fails sooner, longer fails more, and a replacement that may come first lowers it."""
    posterior = fit(found_in("histories", homes=600), load_prior(), seed=1, draws=300)
    young = conditional_failure_probability(posterior, 5, 1)
    old = conditional_failure_probability(posterior, 14, 1)
    longer = conditional_failure_probability(posterior, 14, 3)
    competing = conditional_failure_probability(posterior, 14, 3, unless_replaced=True)
    assert young.mean < old.mean < longer.mean
    assert competing.mean < longer.mean
    assert old.low < old.mean < old.high
    with pytest.raises(ValueError, match="above zero"):
        conditional_failure_probability(posterior, 5, 0)


def test_lives_of_home_are_proper_laws() -> None:
    """Weights sum to one over the laws and survival falls from one."""
    posterior = fit(found_in("histories", homes=300), load_prior(), seed=1, draws=200)
    lives = lives_of_home(posterior, posterior.observations.home_ids[0])
    assert sum(float(part.weights.sum()) for part in lives) == pytest.approx(1.0)
    stay = lives[0].survival(np.array([0.0, 5.0, 15.0, 40.0]))
    assert (stay[:, 0] == 1).all()
    assert (np.diff(stay, axis=1) <= 0).all()
    with pytest.raises(KeyError, match="No home"):
        lives_of_home(posterior, "nowhere")


def test_prior_file_reports_every_problem(tmp_path: Path) -> None:
    """A missing number, a negative one and a missing source are all named at once."""
    text = (Path(__file__).resolve().parents[2] / "survey_app" / "lifetime" / "prior.toml").read_text()
    broken = (
        text.replace("median_years = 13.5", "")
        .replace("value = 2.6", "value = -1")
        .replace("log_sd = 0.05", "log_sd = 0")
    )
    path = tmp_path / "mine.toml"
    path.write_text(broken)
    with pytest.raises(PriorFileError) as caught:
        load_prior(path)
    assert {"median_years", "[shape] value", "[flush] log_sd"} <= {
        part for part in ("median_years", "[shape] value", "[flush] log_sd") if part in str(caught.value)
    }


def test_every_prior_number_names_its_source() -> None:
    """No entry without something for a person to check."""
    assert all(len(text) > 20 for text in load_prior().sources.values())
