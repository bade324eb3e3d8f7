"""The same likelihood as lifelines, on its own data sets and in one call with everything at once.

Runs where lifelines is installed (the `reference` extra, in an environment of its own). The check
values in the tests were given by lifelines 0.30.3; each is compared with the installed version too.
"""

from __future__ import annotations

import math
import sys
from pathlib import Path

import numpy as np
import pytest

try:
    import lifelines
    import lifelines.datasets as shipped
except ImportError:
    lifelines = None

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from survey_app.lifetime import durations, maximum_likelihood

pytestmark = [
    pytest.mark.reference,
    pytest.mark.skipif(lifelines is None, reason="lifelines is not installed here: see the `reference` extra"),
]


def test_left_truncation_against_psychiatric_patients() -> None:
    """Entry at age, exit at age plus follow-up (Klein and Moeschberger): 68.6899, 8.40647, -57.416456."""
    d = shipped.load_psychiatric_patients()
    found = maximum_likelihood(durations(d.Age + d["T"], d.C, entry=d.Age))
    theirs = lifelines.WeibullFitter().fit(d.Age + d["T"], d.C, entry=d.Age)
    assert (found.scale, found.shape) == pytest.approx((theirs.lambda_, theirs.rho_), rel=1e-4)
    assert found.log_likelihood == pytest.approx(theirs.log_likelihood_, abs=1e-5)
    assert (found.scale, found.shape) == pytest.approx((68.6899, 8.40647), rel=1e-4)
    ignoring = maximum_likelihood(durations(d.Age + d["T"], d.C))
    assert (ignoring.scale, ignoring.shape) == pytest.approx((68.9355, 8.94753), rel=1e-4)


def test_left_truncation_against_multicenter_aids_cohort() -> None:
    """5.45763, 1.07924, log likelihood -73.334792."""
    d = shipped.load_multicenter_aids_cohort_study()
    found = maximum_likelihood(durations(d["T"], d.D, entry=d.W))
    theirs = lifelines.WeibullFitter().fit(d["T"], d.D, entry=d.W)
    assert (found.scale, found.shape) == pytest.approx((theirs.lambda_, theirs.rho_), rel=1e-4)
    assert found.log_likelihood == pytest.approx(-73.334792, abs=1e-5)
    assert (found.scale, found.shape) == pytest.approx((5.45763, 1.07924), rel=1e-4)


def test_left_truncation_against_power_transformers() -> None:
    """1,650 units, 318 failures, 1,158 truncated (shipped with relife): 81.44327, 3.465967; -1698.24275.

    relife 3.0.0 gives 81.44319 and 3.465974. Ignoring the truncation gives a shape of 4.1191.
    """
    relife_data = pytest.importorskip("relife.datasets", reason="relife is not installed here")
    d = relife_data.load_power_transformer()
    found = maximum_likelihood(durations(d["time"], d["event"], entry=d["entry"]))
    assert (found.scale, found.shape) == pytest.approx((81.44327, 3.465967), rel=1e-4)
    assert found.log_likelihood == pytest.approx(-1698.24275, abs=1e-4)
    ignoring = maximum_likelihood(durations(d["time"], d["event"]))
    assert ignoring.shape == pytest.approx(4.1191, rel=1e-4)


def test_interval_censoring_against_diabetes() -> None:
    """731 patients: 18.85649, 2.823493, -2028.566111; with sex as a covariate .0457582, -2027.196333."""
    d = shipped.load_diabetes()
    found = maximum_likelihood(durations(d.left, upper=d.right))
    assert (found.scale, found.shape) == pytest.approx((18.85649, 2.823493), rel=1e-4)
    assert found.log_likelihood == pytest.approx(-2028.566111, abs=1e-5)
    male = (d.gender == "male").astype(float)
    with_sex = maximum_likelihood(durations(d.left, upper=d.right, factors=male, factor_names=["male"]))
    frame = d.assign(male=male)[["left", "right", "male"]]
    theirs = lifelines.WeibullAFTFitter().fit_interval_censoring(frame, "left", "right")
    assert with_sex.factors["male"] == pytest.approx(theirs.params_["lambda_"]["male"], abs=1e-5)
    assert with_sex.factors["male"] == pytest.approx(0.0457582, abs=1e-5)
    assert with_sex.log_likelihood == pytest.approx(-2027.196333, abs=1e-5)


def test_covariates_against_rossi() -> None:
    """Seven covariates, right censoring: every coefficient within 2e-4 of lifelines' AFT fit."""
    d = shipped.load_rossi()
    names = [c for c in d.columns if c not in ("week", "arrest")]
    found = maximum_likelihood(durations(d.week, d.arrest, factors=d[names], factor_names=names))
    theirs = lifelines.WeibullAFTFitter().fit(d, "week", "arrest")
    for name in names:
        assert found.factors[name] == pytest.approx(theirs.params_["lambda_"][name], abs=2e-4)
    assert found.log_scale == pytest.approx(theirs.params_["lambda_"]["Intercept"], abs=2e-4)
    assert found.log_shape == pytest.approx(float(theirs.params_["rho_"].iloc[0]), abs=2e-4)
    assert found.log_likelihood == pytest.approx(-679.916564, abs=1e-5)
    known = {"age": 0.040715, "fin": 0.272172, "prio": -0.065817, "race": -0.224808}
    for name, value in known.items():
        assert found.factors[name] == pytest.approx(value, abs=2e-4)


def test_left_censoring_against_nh4() -> None:
    """Ammonium below the detection limit: .01458131, .6988062, log likelihood 87.283888."""
    d = shipped.load_nh4()
    measured = d["NH4.mg.per.L"].to_numpy()
    low = np.where(d["Censored"], 0.0, measured)
    found = maximum_likelihood(durations(low, upper=measured))
    theirs = lifelines.WeibullFitter().fit_left_censoring(measured, ~d["Censored"])
    assert (found.scale, found.shape) == pytest.approx((theirs.lambda_, theirs.rho_), rel=2e-4)
    assert (found.scale, found.shape) == pytest.approx((0.01458131, 0.6988062), rel=1e-4)
    assert found.log_likelihood == pytest.approx(87.283888, abs=1e-5)


def test_right_truncated_and_interval_at_once_against_lifelines() -> None:
    """Simulated right-censored, interval-censored and left-truncated units in one call of each library."""
    rng = np.random.default_rng(12)
    n = 1500
    life = 14 * rng.weibull(2.6, n)
    entry = np.where(rng.random(n) < 0.5, rng.uniform(0, 6, n), 0.0)
    until = rng.uniform(7, 25, n)
    low = np.minimum(life, until)
    high = np.where(life <= until, low, np.inf)
    visits = rng.random(n) < 0.5
    inspected = visits & np.isfinite(high)
    low = np.where(inspected, np.maximum(np.floor(low), entry), low)
    high = np.where(inspected, np.floor(life) + 1, high)
    seen = low > entry
    low, high, entry = low[seen], high[seen], entry[seen]
    found = maximum_likelihood(durations(low, upper=high, entry=entry))
    theirs = lifelines.WeibullFitter().fit_interval_censoring(low, high, entry=entry)
    assert math.log(found.scale) == pytest.approx(math.log(theirs.lambda_), abs=2e-4)
    assert found.log_shape == pytest.approx(math.log(theirs.rho_), abs=2e-4)
    assert found.log_likelihood == pytest.approx(theirs.log_likelihood_, abs=1e-4)


def test_lognormal_against_lifelines() -> None:
    """The second law: lognormal with right censoring and left truncation."""
    rng = np.random.default_rng(13)
    life = 12 * np.exp(0.45 * rng.standard_normal(800))
    entry, until = rng.uniform(0, 6, 800), rng.uniform(4, 25, 800)
    age = np.minimum(life, until)
    seen = age > entry
    age, failed, entry = age[seen], (life <= until)[seen], entry[seen]
    found = maximum_likelihood(durations(age, failed, entry=entry), law="lognormal")
    theirs = lifelines.LogNormalFitter().fit(age, failed, entry=entry)
    assert found.log_median == pytest.approx(theirs.mu_, abs=2e-4)
    assert 1 / found.shape == pytest.approx(theirs.sigma_, abs=2e-4)
    assert found.log_likelihood == pytest.approx(theirs.log_likelihood_, abs=1e-4)
