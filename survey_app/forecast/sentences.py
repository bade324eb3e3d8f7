"""What a forecast means, in plain words."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from survey_app.access import few
from survey_app.lifetime import Posterior
from survey_app.lifetime.observations import HomeState

from .result import Forecast

__all__ = ["explain"]

KEEN = 1.25  # from this factor on a reader should know that leaks may have prompted answers


def explain(result: Forecast, posterior: Posterior, *, minimum: int = 1) -> Forecast:
    """The forecast with its sentences; counts of 1 to ``minimum - 1`` homes or heaters are not told exactly."""
    said: list[str] = []
    if result.refusal is not None:
        said.append(result.refusal)
    obs, d = posterior.observations, result.diagnostics
    middle, low, high = posterior.median_life_years()
    for horizon in result.horizons:
        e = horizon.everyone
        if e.homes:
            span = "12 months" if horizon.years == 1 else f"{horizon.years:g} years"
            said.append(
                f"In the next {span}, about {e.mean:.0f} heaters in {e.homes} homes will fail; "
                f"with 90% certainty between {e.low} and {e.high}."
            )
    said.append(f"Half of the heaters here fail by an age of {middle:.1f} years (90% range {low:.1f} to {high:.1f}).")
    if result.refusal is None:
        said.append(
            f"The answers date {few(d.failures, minimum)} failures and {few(d.replaced_early, minimum)} replacements "
            f"before failing; about the median life they say as much as {d.effective_failures:.0f} heaters "
            "watched from installation to failure."
        )
        if d.failures == 0:
            said.append("No failure has been reported yet, so the published prior carries most of the weight.")
        if obs.respondents < 10:
            # How many answered stands at the head of every page: nothing is given away here.
            said.append(f"Only {obs.respondents} homes have answered: read the interval, not the number, and ask more.")
        if obs.known_history < 0.1 * max(obs.respondents, 1) and (obs.start >= 0).any():
            said.append(
                "Few homes say when the previous heater went and why. That one question would help most: without it, "
                "leaks and planned replacements cannot be told apart."
            )
        if abs(d.prior_conflict) > 2:
            longer = "longer" if d.prior_conflict > 0 else "shorter"
            said.append(
                f"The answers point to lives clearly {longer} than published figures. Check a few installation dates "
                "and ends before relying on it."
            )
        if d.response_tilt is not None and d.response_tilt > KEEN and (d.response_tilt_low or 0.0) > 1.0:
            said.append(
                f"Homes with a leak in the last five years seem about {d.response_tilt:.1f} times as likely to have "
                "answered. The forecast allows for it; answers from homes without trouble would help."
            )
    tankless = int((obs.home_state == HomeState.NO_TANK).sum())
    if tankless:
        said.append(
            f"{_begins(few(tankless, minimum))} homes have a tankless heater. They are set aside: these figures are "
            "about tanks."
        )
    unknown = int((obs.home_state == HomeState.AGE_UNKNOWN).sum())
    if unknown:
        said.append(
            f"{_begins(few(unknown, minimum))} homes answered without a usable installation date; they are forecast "
            "from the age of the house."
        )
    ways = {p.silent_way for h in result.horizons for p in h.by_phase if "silent homes" not in p.silent_way}
    if ways:
        said.append(f"Homes that have not answered are forecast {' or '.join(sorted(ways))}.")
    if d.set_aside:
        said.append(
            f"{_begins(few(len(d.set_aside), minimum))} records contradict themselves or cannot be used; the volunteer "
            "has the list."
        )
    if d.method == "walkers":
        said.append("The usual way of drawing parameters was not good enough here; a slower one was used.")
    effects = [w for w in result.weighing if w.distinguishable is False and w.name in (*obs.first_acts, "softener")]
    if effects:
        names = ", ".join(w.name for w in effects)
        said.append(f"Not distinguishable from no effect on life here: {names}.")
    if np.isfinite(obs.anode_from).any() and not any(w.name == "anode changed" for w in result.weighing):
        said.append(
            "Anode changes are recorded only for heaters still in service, so their effect cannot be judged: "
            "those that acted are survivors by construction."
        )
    return replace(result, sentences=tuple(said))


def _begins(words: str) -> str:
    return words[:1].upper() + words[1:]
