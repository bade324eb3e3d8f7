"""From observations and prior to what is believed afterwards.

The posterior of each law is found in three steps: its mode (quasi-Newton on the
exact gradient), the normal approximation there (Laplace), and importance
sampling from a wider Student t around it, which corrects what the normal
approximation gets wrong and gives the law's marginal likelihood. If the
effective number of draws is too small, the proposal is refitted to the weighted
draws; if that fails too, a set of parallel walkers (Goodman and Weare, Comm.
App. Math. Comp. Sci. 5, 2010) takes over. The laws are then averaged by their
marginal likelihoods: a forecast never hangs on one law's tail alone.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from scipy.linalg import solve_triangular
from scipy.special import gammaln, logsumexp, ndtr

from .laws import LAWS, Floats, Law
from .layout import Layout
from .likelihood import Likelihood
from .observations import Observations
from .prior import Belief, Prior

__all__ = ["LawPosterior", "Posterior", "PriorDensity", "descend_bfgs", "fit", "posterior_mode", "weighted_quantiles"]

_ATTEMPTS = 8
_MOST_STEPS = 200
_LONGEST_STEP = 1.0
_DEGREES = 10.0  # of the Student t: heavier than a normal, so that no weight runs away
_FARTHEST = 8.0  # prior standard deviations; beyond, the numbers mean nothing and are not looked at
_ENOUGH = 0.3  # share of effective draws below which another proposal is tried
_NEGLIGIBLE = 7.0  # log marginal likelihood behind the best at which a law is dropped (weight below 0.1%)
_PHASE_NODES = np.array([1 / 3, 2 / 3, 16 / 15, 5 / 3])  # of the half-normal's scale
_PHASE_EDGES = np.array([0.5, 13 / 15, 41 / 30])


class PriorDensity:
    """The prior as a density over a layout's parameter vector."""

    def __init__(self, prior: Prior, layout: Layout, law: str) -> None:
        factors = {"long warranty": prior.long_warranty, "softener": prior.softener, **prior.kinds}
        beliefs: list[Belief] = [prior.log_median, prior.log_shape_for(law)]
        beliefs += [factors[name] for name in layout.names[layout.factors]]
        beliefs += [prior.acts[name] for name in layout.names[layout.acts]]
        phases = layout.phases.stop - layout.phases.start
        beliefs += [Belief(0.0, prior.phase_scale * 0.7, "")] * phases
        beliefs += list(prior.early_rates)[: layout.bands.stop - layout.bands.start]
        beliefs += [prior.response_tilt] if layout.tilt is not None else []
        self.mean = np.array([b.mean for b in beliefs])
        self.sd = np.array([b.sd for b in beliefs])
        self.normal = np.ones(layout.size, bool)
        self.normal[layout.phases] = False
        self._phases = layout.phases
        self._count = phases
        self._spread = prior.phase_scale * _PHASE_NODES
        cuts = 2 * ndtr(np.concatenate([[0.0], _PHASE_EDGES, [np.inf]])) - 1
        self._log_mass = np.log(np.diff(cuts))

    def value(self, theta: Floats) -> Floats:
        """Log density, shape (draws, size) -> (draws,)."""
        z = (theta - self.mean) / self.sd
        normal = -0.5 * z**2 - np.log(self.sd) - 0.5 * math.log(2 * math.pi)
        result = normal[:, self.normal].sum(axis=1)
        if self._count:
            result = result + logsumexp(self._phase_parts(theta), axis=1)
        return np.asarray(result, dtype=np.float64)

    def _phase_parts(self, theta: Floats) -> Floats:
        squares = (theta[:, self._phases] ** 2).sum(axis=1)[:, None]
        log_norm = self._count * (np.log(self._spread) + 0.5 * math.log(2 * math.pi))
        return np.asarray(self._log_mass - log_norm - 0.5 * squares / self._spread**2, dtype=np.float64)

    def slope(self, theta: Floats) -> Floats:
        """Gradient of the log density at one parameter vector."""
        result = -(theta - self.mean) / self.sd**2
        if self._count:
            parts = self._phase_parts(theta[None, :])[0]
            share = np.exp(parts - logsumexp(parts))
            result[self._phases] = -theta[self._phases] * (share / self._spread**2).sum()
        return np.asarray(result, dtype=np.float64)

    def draw(self, count: int, rng: np.random.Generator) -> Floats:
        """Draws from the prior, shape (count, size)."""
        theta = self.mean + self.sd * rng.standard_normal((count, len(self.mean)))
        if self._count:
            node = rng.choice(len(self._spread), size=count, p=np.exp(self._log_mass))
            theta[:, self._phases] = self._spread[node, None] * rng.standard_normal((count, self._count))
        return np.asarray(theta, dtype=np.float64)


@dataclass(frozen=True, eq=False)
class LawPosterior:
    """One law's share of the posterior.

    Parameters
    ----------
    law
        The law.
    likelihood
        Of the observations under it; also knows the layout of the parameters.
    mode, covariance
        Posterior mode and Laplace covariance.
    draws
        Parameter vectors, shape (draws, size).
    weights
        Their weights, summing to the law's probability.
    log_evidence
        Log marginal likelihood.
    effective
        Effective number of draws, as a share of the draws asked for.
    method
        ``"importance sampling"``, ``"refitted proposals"``, ``"walkers"`` or ``"prior"``.
    """

    law: Law
    likelihood: Likelihood
    mode: Floats
    covariance: Floats
    draws: Floats
    weights: Floats
    log_evidence: float
    effective: float
    method: str

    @property
    def layout(self) -> Layout:
        """Where each parameter stands."""
        return self.likelihood.layout


@dataclass(frozen=True, eq=False)
class Posterior:
    """What is believed after the observations.

    Parameters
    ----------
    observations, prior
        What it rests on.
    laws
        One entry per law that still has weight.
    refusal
        None, or why the observations were not used: then this is the prior.
    requested
        How many draws were asked for; a law may hold more, of unequal weight.
    """

    observations: Observations
    prior: Prior
    laws: tuple[LawPosterior, ...]
    refusal: str | None
    requested: int

    @property
    def law_weights(self) -> dict[str, float]:
        """Probability of each law."""
        return {part.law.name: float(part.weights.sum()) for part in self.laws}

    @property
    def effective(self) -> float:
        """Effective share of draws, over all laws."""
        return sum(part.effective * float(part.weights.sum()) for part in self.laws)

    def parameter(self, name: str) -> tuple[float, float, float, float]:
        """Mean, standard deviation, 5% and 95% points of a parameter over all laws.

        Raises
        ------
        KeyError
            When no law carries it.
        """
        values, weights = [], []
        for part in self.laws:
            if name in part.layout.names:
                values.append(part.draws[:, part.layout.names.index(name)])
                weights.append(part.weights)
        if not values:
            raise KeyError(f"No parameter {name!r} in this posterior. It has {self.laws[0].layout.names}.")
        return _summary(np.concatenate(values), np.concatenate(weights))

    def median_life_years(self) -> tuple[float, float, float]:
        """Median life of an average heater of the community: posterior median, 5% and 95% points."""
        values, weights = [], []
        for part in self.laws:
            values.append(_average_log_life(part))
            weights.append(part.weights)
        points = weighted_quantiles(np.concatenate(values), np.concatenate(weights), (0.5, 0.05, 0.95))
        middle, low, high = (float(v) for v in np.exp(points))
        return middle, low, high


def _average_log_life(part: LawPosterior) -> Floats:
    obs, lay = part.likelihood.observations, part.layout
    result = part.draws[:, 0].copy()
    if len(obs):
        result += part.draws[:, lay.factors] @ obs.factors.mean(axis=0)
        if part.likelihood.groups > 1:
            share = np.bincount(np.maximum(obs.phase, 0), minlength=len(obs.phases)) / len(obs)
            result += part.draws[:, lay.phases] @ share
    return result


def weighted_quantiles(values: Floats, weights: Floats, at: Sequence[float]) -> Floats:
    """Quantiles of weighted values."""
    order = np.argsort(values)
    running = np.cumsum(weights[order])
    place = np.searchsorted(running, np.asarray(at) * running[-1])
    return np.asarray(values[order][np.minimum(place, len(values) - 1)], dtype=np.float64)


def _summary(values: Floats, weights: Floats) -> tuple[float, float, float, float]:
    share = weights / weights.sum()
    mean = float(share @ values)
    sd = float(np.sqrt(share @ (values - mean) ** 2))
    low, high = weighted_quantiles(values, share, (0.05, 0.95))
    return mean, sd, float(low), float(high)


def fit(
    observations: Observations,
    prior: Prior,
    *,
    laws: Sequence[str] = ("weibull", "lognormal"),
    draws: int = 1000,
    seed: int,
    tilt: bool = True,
) -> Posterior:
    """Learn from the observations.

    Parameters
    ----------
    observations
        What is known; where `observations.refusal` is set the prior is returned with that sentence.
    prior
        What was believed before.
    laws
        The laws to average; one name for a single law.
    draws
        Draws per law.
    seed
        Seed of the draws.
    tilt
        Whether to estimate that homes with a recent leak may be keener to answer.

    Returns
    -------
    Posterior
    """
    rng = np.random.default_rng(seed)
    if observations.refusal is not None:
        return _prior_alone(observations, prior, laws[0], draws, rng)
    modes = []
    for law in laws:
        likelihood = Likelihood.standard(observations, prior, law, tilt=tilt)
        density = PriorDensity(prior, likelihood.layout, law)
        modes.append((likelihood, density, *posterior_mode(likelihood, density)))
    best = max(m[4] for m in modes)
    parts = []
    for likelihood, density, mode, covariance, laplace in modes:
        if laplace < best - _NEGLIGIBLE:
            continue
        enough = draws if laplace > best - 3.0 else max(draws // 4, 100)
        parts.append(_sample(likelihood, density, mode, covariance, enough, rng))
    parts.sort(key=lambda p: -p.log_evidence)
    evidence = np.array([p.log_evidence for p in parts])
    share = np.exp(evidence - logsumexp(evidence))
    weighed = tuple(
        LawPosterior(
            p.law, p.likelihood, p.mode, p.covariance, p.draws, p.weights * s, p.log_evidence, p.effective, p.method
        )
        for p, s in zip(parts, share, strict=True)
    )
    return Posterior(observations, prior, weighed, None, draws)


def _prior_alone(observations: Observations, prior: Prior, law: str, draws: int, rng: np.random.Generator) -> Posterior:
    empty = observations.rows(np.zeros(len(observations), bool))
    likelihood = Likelihood(empty, law, bands_from=prior.early_ages_from, phase_effects=len(observations.phases) > 1)
    density = PriorDensity(prior, likelihood.layout, law)
    theta = density.draw(draws, rng)
    part = LawPosterior(
        LAWS[law],
        likelihood,
        density.mean,
        np.diag(density.sd**2),
        theta,
        np.full(draws, 1 / draws),
        0.0,
        1.0,
        "prior",
    )
    return Posterior(observations, prior, (part,), observations.refusal, draws)


def posterior_mode(likelihood: Likelihood, density: PriorDensity) -> tuple[Floats, Floats, float]:
    """Posterior mode, Laplace covariance and Laplace log evidence."""
    scale, center = density.sd, density.mean

    def climb(v: Floats) -> tuple[float, Floats]:
        if np.abs(v).max() > _FARTHEST:
            return 1e12, np.zeros_like(v)
        theta = center + scale * v
        value, slope = likelihood.value_and_slope(theta)
        value += float(density.value(theta[None, :])[0])
        slope = (slope + density.slope(theta)) * scale
        if not math.isfinite(value):
            return 1e12, np.zeros_like(v)
        return -value, -slope

    start = np.zeros(len(center))
    rows = likelihood.row_slopes(center) * scale if len(likelihood.observations) else np.zeros((0, len(center)))
    first = np.linalg.inv(rows.T @ rows + np.eye(len(center)))
    v, lowest = descend_bfgs(climb, start, first, tolerance=2e-2)
    value, curvature = -lowest, np.zeros((len(start), len(start)))
    for _ in range(3):  # Newton steps polish the mode while the curvature is measured
        curvature, slope = _curvature(climb, v)
        step = np.linalg.solve(curvature, slope)
        better = climb(v - step)[0]
        if -better > value - 1e-9 and float(np.abs(step).max()) < 1.0:
            v, value = v - step, max(value, -better)
        if float(slope @ step) < 1e-3:
            break
    covariance = np.linalg.inv(curvature)
    log_det = float(np.linalg.slogdet(covariance)[1]) + 2 * float(np.log(scale).sum())
    laplace = value + 0.5 * len(start) * math.log(2 * math.pi) + 0.5 * log_det
    spread = np.asarray(covariance * np.outer(scale, scale), dtype=np.float64)
    return np.asarray(center + scale * v, dtype=np.float64), spread, laplace


def descend_bfgs(
    goal: Callable[[Floats], tuple[float, Floats]], start: Floats, inverse: Floats, *, tolerance: float
) -> tuple[Floats, float]:
    """Minimize a smooth function of a few parameters (BFGS; Nocedal and Wright, 2006, algorithm 6.1).

    A plain loop: for functions that take a fraction of a millisecond a general optimizer's
    bookkeeping would cost as much as the function.

    Parameters
    ----------
    goal
        Value and gradient.
    start
        Where to begin.
    inverse
        A first guess of the inverse of the second derivatives.
    tolerance
        Stops when no component of the gradient is larger.

    Returns
    -------
    (ndarray, float)
        The minimum's place and value.
    """
    x, h, fresh = start.copy(), inverse.copy(), False
    value, slope = goal(x)
    for _ in range(_MOST_STEPS):
        if float(np.abs(slope).max()) < tolerance:
            break
        step = -h @ slope
        fall = float(slope @ step)
        if fall >= 0:  # the guess has gone bad: start it anew
            h = np.eye(len(x))
            step = -slope
            fall = float(slope @ step)
        length = min(1.0, _LONGEST_STEP / max(float(np.abs(step).max()), 1e-12))
        for _ in range(30):
            trial = x + length * step
            trial_value, trial_slope = goal(trial)
            if trial_value <= value + 1e-4 * length * fall + 1e-12 * abs(value):
                break
            # the parabola through both values and the slope, kept within reason
            bend = trial_value - value - length * fall
            length *= float(np.clip(-0.5 * length * fall / bend if bend > 0 else 0.5, 0.1, 0.5))
        else:
            if fresh:
                break
            h, fresh = np.eye(len(x)), True  # once more from here, straight downhill
            continue
        fresh = False
        moved, change = trial - x, trial_slope - slope
        x, value, slope = trial, trial_value, trial_slope
        curve = float(moved @ change)
        if curve > 1e-12 * float(np.abs(moved).max()) * float(np.abs(change).max()):
            pushed = h @ change
            cross = np.outer(pushed, moved)
            h = h + (1 + float(change @ pushed) / curve) / curve * np.outer(moved, moved) - (cross + cross.T) / curve
    return x, value


def _curvature(climb: Callable[[Floats], tuple[float, Floats]], v: Floats) -> tuple[Floats, Floats]:
    """Second derivatives by differences of the gradient, made positive; and the gradient."""
    size, step = len(v), 1e-4
    result = np.empty((size, size))
    here = climb(v)[1]
    for j in range(size):
        move = np.zeros(size)
        move[j] = step
        result[j] = (climb(v + move)[1] - here) / step
    values, vectors = np.linalg.eigh(0.5 * (result + result.T))
    positive = vectors @ (np.maximum(values, 0.2)[:, None] * vectors.T)
    return np.asarray(positive, dtype=np.float64), here


def _sample(
    likelihood: Likelihood,
    density: PriorDensity,
    mode: Floats,
    covariance: Floats,
    draws: int,
    rng: np.random.Generator,
) -> LawPosterior:
    def target(theta: Floats) -> Floats:
        near = (np.abs((theta - density.mean) / density.sd) < _FARTHEST).all(axis=1)
        result = np.full(len(theta), -np.inf)
        if near.any():
            result[near] = chunked_value(likelihood, theta[near]) + density.value(theta[near])
        return result

    thetas, targets = np.zeros((0, len(mode))), np.zeros(0)
    proposals: list[tuple[Floats, Floats]] = [(mode, 1.1 * covariance)]
    method, round_size = "importance sampling", max(draws // 2, 50)
    for _ in range(_ATTEMPTS):
        theta = _student(*proposals[-1], round_size, rng)
        thetas = np.concatenate([thetas, theta])
        targets = np.concatenate([targets, target(theta)])
        # every draw is weighed against the mean of all proposals so far: none of them is wasted
        spread = np.stack([_student_density(thetas, *p) for p in proposals])
        log_weight = targets - (logsumexp(spread, axis=0) - math.log(len(proposals)))
        total = float(logsumexp(log_weight))
        weights = np.exp(log_weight - total)
        effective = float(1.0 / (weights**2).sum()) / draws
        if effective >= _ENOUGH and len(thetas) >= draws:
            break
        if len(thetas) >= draws:
            method = "refitted proposals"
        center = weights @ thetas
        moved = thetas - center
        size = max(effective * draws, 1.0)
        mix = size / (size + 3 * len(mode))
        local = (weights[:, None] * moved).T @ moved
        proposals.append((center, 1.1 * (mix * local + (1 - mix) * covariance)))
    evidence = total - math.log(len(thetas))
    if effective < _ENOUGH:
        method = "walkers"
        thetas = _walk(target, thetas[rng.choice(len(thetas), 4 * len(mode) + 60, p=weights)], draws, rng)
        weights, effective = np.full(len(thetas), 1 / len(thetas)), _ENOUGH
    return LawPosterior(
        likelihood.law, likelihood, mode, covariance, thetas, weights, evidence, min(effective, 1.0), method
    )


def _student(center: Floats, spread: Floats, draws: int, rng: np.random.Generator) -> Floats:
    """Multivariate Student t draws."""
    z = rng.standard_normal((draws, len(center)))
    z /= np.sqrt(rng.chisquare(_DEGREES, draws) / _DEGREES)[:, None]
    return np.asarray(center + z @ np.linalg.cholesky(spread).T, dtype=np.float64)


def _student_density(theta: Floats, center: Floats, spread: Floats) -> Floats:
    """Log density of the multivariate Student t."""
    size = len(center)
    root = np.linalg.cholesky(spread)
    z = solve_triangular(root, (theta - center).T, lower=True)
    return np.asarray(
        gammaln((_DEGREES + size) / 2)
        - gammaln(_DEGREES / 2)
        - 0.5 * size * math.log(_DEGREES * math.pi)
        - np.log(np.diag(root)).sum()
        - 0.5 * (_DEGREES + size) * np.log1p((z**2).sum(axis=0) / _DEGREES),
        dtype=np.float64,
    )


def _walk(target: Callable[[Floats], Floats], state: Floats, draws: int, rng: np.random.Generator) -> Floats:
    """Affine-invariant walkers: slower, but indifferent to the posterior's form."""
    state = state + 1e-3 * rng.standard_normal(state.shape)
    walkers, size = state.shape[0] // 2 * 2, state.shape[1]
    state = state[:walkers]
    value = target(state)
    kept = []
    steps = 400
    for step in range(steps):
        for mine, other in ((slice(0, None, 2), slice(1, None, 2)), (slice(1, None, 2), slice(0, None, 2))):
            half = state[mine]
            partner = state[other][rng.integers(0, walkers // 2, len(half))]
            stretch = (rng.random(len(half)) + 1) ** 2 / 2  # density 1/sqrt(z) on (1/2, 2)
            trial = partner + stretch[:, None] * (half - partner)
            trial_value = target(trial)
            with np.errstate(invalid="ignore"):
                gain = trial_value - value[mine]
            accept = np.log(rng.random(len(half))) < (size - 1) * np.log(stretch) + gain
            state[mine] = np.where(accept[:, None], trial, half)
            value[mine] = np.where(accept, trial_value, value[mine])
        if step >= steps // 2 and step % 5 == 0:
            kept.append(state.copy())
    everything = np.concatenate(kept)
    return np.asarray(everything[rng.choice(len(everything), draws, replace=len(everything) < draws)])


def chunked_value(likelihood: Likelihood, theta: Floats) -> Floats:
    """Log likelihood of many parameter vectors, a few at a time to stay in the processor's cache."""
    step = max(1, 20_000 // max(likelihood.terms, 1))
    parts = [likelihood.value(theta[i : i + step]) for i in range(0, len(theta), step)]
    return np.concatenate(parts)
