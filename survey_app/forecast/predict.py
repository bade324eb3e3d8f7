"""From answers to a forecast."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from datetime import date

import numpy as np
from scipy.special import ndtri

from survey_app.lifetime import Posterior, Prior, fit, load_prior, observations
from survey_app.lifetime.laws import LAWS, Floats
from survey_app.lifetime.observations import HomeState, Ints
from survey_app.lifetime.posterior import weighted_quantiles
from survey_app.records import Heater, Home, ServiceRecord

from .chances import Batch, Plan, batches
from .counts import CountMixture, Counts, fill_groups
from .result import (
    Diagnostics,
    Expected,
    FanYear,
    Forecast,
    HomeChance,
    HorizonForecast,
    PhaseForecast,
    Weighing,
)
from .sentences import explain

__all__ = ["forecast", "forecast_from"]

FAN_YEARS = 10
_FAN_DRAWS = 128
_Z90 = float(ndtri(0.95))


def forecast(
    homes: Iterable[Home],
    heaters: Iterable[Heater],
    services: Iterable[ServiceRecord] = (),
    *,
    as_of: date,
    horizons: Sequence[float] = (1, 3, 5),
    draws: int = 1000,
    seed: int,
    prior: Prior | None = None,
    include_silent: bool = True,
    fan: bool = True,
    minimum: int = 1,
) -> Forecast:
    """How many heaters the community will lose.

    Parameters
    ----------
    homes
        Every home of the community, those that have not answered included.
    heaters, services
        What the answers say.
    as_of
        The day up to which the records are taken, and from which the years count.
    horizons
        Years ahead, above zero.
    draws
        Parameter draws; 1,000 hold the interval's ends within about 3% of its width.
    seed
        Seed of the draws; the same seed and records give the same forecast.
    prior
        What was believed before; the published one when None.
    include_silent
        Whether homes that have not answered are forecast too.
    fan
        Whether to look ten years ahead, year by year; without it `Forecast.fan` is empty.
    minimum
        The smallest count that its sentences may tell; smaller ones are told as "fewer than".

    Returns
    -------
    Forecast
        With `refusal` set and the prior's answer where the records must not be used.

    Raises
    ------
    ValueError
        When a horizon is not above zero.
    """
    belief = load_prior() if prior is None else prior
    found = observations(homes, heaters, services, as_of=as_of, long_warranty_years=belief.long_warranty_years)
    posterior = fit(found, belief, draws=draws, seed=seed)
    return forecast_from(
        posterior, horizons=horizons, seed=seed, include_silent=include_silent, fan=fan, minimum=minimum
    )


def forecast_from(
    posterior: Posterior,
    *,
    horizons: Sequence[float] = (1, 3, 5),
    seed: int,
    include_silent: bool = True,
    fan: bool = True,
    minimum: int = 1,
) -> Forecast:
    """A forecast from a posterior that is already there.

    Parameters
    ----------
    posterior
        From :func:`survey_app.lifetime.fit`.
    horizons, seed, include_silent, fan, minimum
        As for :func:`forecast`.

    Returns
    -------
    Forecast
    """
    years = tuple(sorted({float(h) for h in horizons}))
    if not years or years[0] <= 0:
        raise ValueError("A horizon must be more than zero years. Give, for example, 1, 3 and 5.")
    obs = posterior.observations
    rng = np.random.default_rng([seed, 1])
    plan = Plan.of(obs)
    drawn = np.concatenate([p.weights for p in posterior.laws])
    # draws that hardly weigh are not worth computing: resample, and count what was drawn twice
    chosen, times = np.unique(resample(drawn, posterior.requested, rng), return_counts=True)
    weights = times / times.sum()
    tally = _Tally(plan, len(weights), years, weights)
    for batch in batches(posterior, plan, years, include_silent=include_silent, rng=rng, pick=chosen):
        tally.add(batch)
    parts = tuple(_horizon(tally, h, t, weights) for h, t in enumerate(years))
    pick = resample(drawn, _FAN_DRAWS, rng)
    some = np.zeros((len(years), len(pick), len(plan.homes)))
    ahead = FAN_YEARS if fan else 0
    by_year = _fan(posterior, plan, pick, years, some, ahead, include_silent=include_silent, rng=rng)
    diagnostics = _diagnostics(posterior)
    weighing = _weighing(posterior)
    result = Forecast(
        as_of=obs.as_of,
        homes=len(obs.home_ids),
        answered=obs.respondents,
        refusal=posterior.refusal,
        horizons=parts,
        fan=by_year,
        chances=_chances(tally, some, plan),
        expected_by_home=_by_home(tally, plan),
        weighing=weighing,
        diagnostics=diagnostics,
        sentences=(),
    )
    return explain(result, posterior, minimum=minimum)


class _Tally:
    """Adds up the chances of all draws, phase by phase and horizon by horizon."""

    def __init__(self, plan: Plan, draws: int, years: tuple[float, ...], weights: Floats) -> None:
        self.plan, self.years, self.weights = plan, years, weights
        self.answered = [[CountMixture(draws, s.answered.stop - s.answered.start) for s in plan.strata] for _ in years]
        self.silent: list[list[list[tuple[int, Floats]]]] = [[[] for _ in plan.strata] for _ in years]
        self.mean = np.zeros((len(years), len(plan.homes)))

    def add(self, batch: Batch) -> None:
        for h, chances in enumerate(batch.homes):
            self.mean[h] += self.weights[batch.draws] @ chances
            fill_groups(self.answered[h], [s.answered for s in self.plan.strata], batch.draws, chances)
            for s in range(len(self.plan.strata)):
                for j, (homes, chance) in enumerate(batch.silent[s]):
                    known = self.silent[h][s]
                    if j == len(known):
                        known.append((homes, np.zeros(len(self.weights))))
                    known[j][1][batch.draws] = chance[h]


def _expected(mixture: CountMixture, homes: int, weights: Floats) -> Expected:
    counts: Counts = mixture.mix(weights)
    low, high = counts.interval()
    return Expected(homes=homes, mean=float(weights @ mixture.means), low=low, high=high)


def _horizon(tally: _Tally, h: int, years: float, weights: Floats) -> HorizonForecast:
    phases = []
    everyone_parts = []
    for stratum, answered, silent in zip(tally.plan.strata, tally.answered[h], tally.silent[h], strict=True):
        everyone = CountMixture.together([answered])
        for homes, chance in silent:
            everyone.add_alike(homes, chance)
        everyone_parts.append(everyone)
        count = stratum.answered.stop - stratum.answered.start
        quiet = sum(homes for homes, _ in silent)
        phases.append(
            PhaseForecast(
                phase=stratum.phase,
                answered=_expected(answered, count, weights),
                everyone=_expected(everyone, count + quiet, weights),
                silent_way=stratum.way if quiet else "no silent homes counted",
            )
        )
    if not phases:
        nothing = Expected(homes=0, mean=0.0, low=0, high=0)
        return HorizonForecast(years=years, answered=nothing, everyone=nothing, by_phase=())
    return HorizonForecast(
        years=years,
        answered=_expected(CountMixture.together(tally.answered[h]), sum(p.answered.homes for p in phases), weights),
        everyone=_expected(CountMixture.together(everyone_parts), sum(p.everyone.homes for p in phases), weights),
        by_phase=tuple(phases),
    )


def resample(weights: Floats, count: int, rng: np.random.Generator) -> Ints:
    """Systematic resampling: indices that stand for the weights with equal weight each."""
    places = (np.arange(count) + rng.random()) / count
    return np.searchsorted(np.cumsum(weights) / weights.sum(), places).clip(0, len(weights) - 1)


def _fan(
    posterior: Posterior,
    plan: Plan,
    pick: Ints,
    horizons: tuple[float, ...],
    some: Floats,
    ahead: int,
    *,
    include_silent: bool,
    rng: np.random.Generator,
) -> tuple[FanYear, ...]:
    """So many years `ahead`; the count within a draw is normal with the Poisson-binomial's mean and variance.

    On the way each home's chances within the horizons are put into `some`, shape (horizons, draws, homes).
    """
    fan_steps = tuple(float(y) for y in range(1, ahead + 1))
    steps = tuple(sorted({*fan_steps, *horizons}))
    in_fan, in_horizons = [steps.index(y) for y in fan_steps], [steps.index(y) for y in horizons]
    mean, variance = np.zeros((ahead, len(pick))), np.zeros((ahead, len(pick)))
    mean_year, variance_year = np.zeros_like(mean), np.zeros_like(mean)
    homes = len(plan.homes) + (sum(len(s.silent) for s in plan.strata) if include_silent else 0)
    for batch in batches(posterior, plan, steps, include_silent=include_silent and ahead > 0, rng=rng, pick=pick):
        some[:, batch.draws] = batch.homes[in_horizons]
        if not ahead:
            continue
        parts: list[tuple[Floats, float]] = [(batch.homes[in_fan], 1.0)]
        parts += [(p[in_fan, :, None], float(n)) for stratum in batch.silent for n, p in stratum]
        for p, n in parts:
            yearly = np.diff(p, axis=0, prepend=0.0)
            mean[:, batch.draws] += n * p.sum(axis=2)
            variance[:, batch.draws] += n * (p * (1 - p)).sum(axis=2)
            mean_year[:, batch.draws] += n * yearly.sum(axis=2)
            variance_year[:, batch.draws] += n * (yearly * (1 - yearly)).sum(axis=2)
    grid = ndtri((np.arange(25) + 0.5) / 25)
    result = []
    for y in range(ahead):
        pair = []
        for m, v in ((mean_year[y], variance_year[y]), (mean[y], variance[y])):
            values = np.sort((m[:, None] + np.sqrt(v)[:, None] * grid).ravel())
            low, high = np.quantile(values, [0.05, 0.95]) if homes else (0.0, 0.0)
            ends = (max(round(float(low)), 0), max(round(float(high)), 0))
            pair.append(Expected(homes=homes, mean=float(m.mean()), low=ends[0], high=ends[1]))
        result.append(FanYear(year=y + 1, in_year=pair[0], so_far=pair[1]))
    return tuple(result)


def _chances(tally: _Tally, some: Floats, plan: Plan) -> tuple[HomeChance, ...]:
    obs = plan.observations
    heated = np.flatnonzero(obs.home_state[plan.homes] != HomeState.NO_TANK)
    if not len(heated):
        return ()
    order = np.sort(some[:, :, heated], axis=1)
    last = order.shape[1] - 1
    low, high = order[:, round(0.05 * last)], order[:, round(0.95 * last)]
    ids = [obs.home_ids[plan.homes[i]] for i in heated]
    mean = tally.mean[:, heated]
    return tuple(
        HomeChance(home_id=ids[i], years=years, chance=float(mean[h, i]), low=float(low[h, i]), high=float(high[h, i]))
        for h, years in enumerate(tally.years)
        for i in range(len(heated))
    )


def _by_home(tally: _Tally, plan: Plan) -> dict[str, float]:
    """Expected failures within the first horizon in every home that is counted."""
    obs = plan.observations
    result = {obs.home_ids[home]: float(p) for home, p in zip(plan.homes, tally.mean[0], strict=True)}
    for stratum, silent in zip(plan.strata, tally.silent[0], strict=True):
        total = sum(homes for homes, _ in silent)
        if total == 0:
            continue
        if len(silent) == 1:
            same = float(tally.weights @ silent[0][1])
            result.update({obs.home_ids[home]: same for home in stratum.silent})
            continue
        built = np.round(np.nan_to_num(obs.home_built[stratum.silent], nan=-40.0), 3)
        for year, (_, chance) in zip(np.unique(built), silent, strict=True):
            value = float(tally.weights @ chance)
            result.update({obs.home_ids[home]: value for home in stratum.silent[built == year]})
    return result


def _diagnostics(posterior: Posterior) -> Diagnostics:
    obs, prior = posterior.observations, posterior.prior
    _, sd, _, _ = posterior.parameter("log median life")
    sd = max(sd, 1e-6)  # a single draw has no spread
    shape = math.exp(posterior.parameter("log shape")[0])
    local = max(1 / sd**2 - 1 / prior.log_median.sd**2, 0.0)
    best = max(posterior.laws, key=lambda p: float(p.weights.sum()))
    tilt = None
    if any(p.layout.tilt is not None for p in posterior.laws):
        mean, _, low, high = posterior.parameter("response tilt")
        tilt = (math.exp(mean), math.exp(low), math.exp(high))
    return Diagnostics(
        failures=obs.failures,
        replaced_early=obs.replaced_early,
        effective_failures=local * LAWS["weibull"].log_scatter ** 2 * 0.67 / shape**2,
        known_history=obs.known_history,
        law_weights=posterior.law_weights,
        effective_draws=posterior.effective,
        method=best.method,
        response_tilt=None if tilt is None else tilt[0],
        response_tilt_low=None if tilt is None else tilt[1],
        response_tilt_high=None if tilt is None else tilt[2],
        prior_conflict=_conflict(posterior),
        set_aside=tuple(p.sentence for p in obs.problems),
    )


def _conflict(posterior: Posterior) -> float:
    """How far the answers alone put the median life from the prior, in their joint standard deviations."""
    mean, sd, _, _ = posterior.parameter("log median life")
    sd = max(sd, 1e-6)
    prior = posterior.prior.log_median
    information = 1 / sd**2 - 1 / prior.sd**2
    if information <= 1e-6:
        return 0.0
    alone = (mean / sd**2 - prior.mean / prior.sd**2) / information
    return float((alone - prior.mean) / math.sqrt(1 / information + prior.sd**2))


def _weighing(posterior: Posterior) -> tuple[Weighing, ...]:
    prior = posterior.prior
    names = max((p.layout.names for p in posterior.laws), key=len)
    beliefs = {
        "log median life": (prior.log_median, prior.sources["life"]),
        "log shape": (prior.log_shape, prior.sources["shape"]),
        "long warranty": (prior.long_warranty, prior.sources["long warranty"]),
        "softener": (prior.softener, prior.sources["softener"]),
        **{k: (b, b.source) for k, b in prior.acts.items()},
        "response tilt": (prior.response_tilt, prior.sources["response"]),
        **{k: (b, b.source) for k, b in prior.kinds.items()},
    }
    result = []
    for name in names:
        if name not in beliefs:
            continue
        belief, source = beliefs[name]
        if name == "log shape":
            mean, sd, low, high = _shape_summary(posterior)
        else:
            mean, sd, low, high = posterior.parameter(name)
        spread = _Z90 * belief.sd
        effect = name not in ("log median life", "log shape")
        title = {"log median life": "median life, years", "log shape": "shape"}.get(name, name)
        result.append(
            Weighing(
                name=title,
                prior=math.exp(belief.mean),
                prior_low=math.exp(belief.mean - spread),
                prior_high=math.exp(belief.mean + spread),
                now=math.exp(mean),
                now_low=math.exp(low),
                now_high=math.exp(high),
                local_weight=float(np.clip(1 - (sd / belief.sd) ** 2, 0.0, 1.0)) if posterior.refusal is None else 0.0,
                distinguishable=bool(low > 0 or high < 0) if effect else None,
                source=source,
            )
        )
    return tuple(result)


def _shape_summary(posterior: Posterior) -> tuple[float, float, float, float]:
    """The log shape over all laws, in the Weibull's terms."""
    values, weights = [], []
    for part in posterior.laws:
        shift = math.log(LAWS["weibull"].log_scatter / part.law.log_scatter)
        values.append(part.draws[:, 1] + shift)
        weights.append(part.weights)
    v, w = np.concatenate(values), np.concatenate(weights)
    mean = float(w @ v / w.sum())
    low, high = weighted_quantiles(v, w, (0.05, 0.95))
    return mean, float(np.sqrt(w @ (v - mean) ** 2 / w.sum())), float(low), float(high)
