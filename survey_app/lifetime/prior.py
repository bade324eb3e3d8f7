"""What is believed before any neighbor has answered, and what it rests on.

The numbers live in ``prior.toml``, each beside its source; this module only
reads them. Nothing here looks at local answers.
"""

from __future__ import annotations

import math
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from importlib import resources
from itertools import pairwise
from pathlib import Path
from typing import Any

from survey_app.errors import SurveyError

from .laws import LAWS

__all__ = ["Belief", "Prior", "PriorFileError", "load_prior"]


class PriorFileError(SurveyError, ValueError):
    """A prior file that cannot be used, with every reason."""


@dataclass(frozen=True, slots=True)
class Belief:
    """A normal belief about one parameter, and its source.

    Parameters
    ----------
    mean, sd
        Mean and standard deviation, on the natural-log scale.
    source
        What it rests on, for a person to read.
    """

    mean: float
    sd: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Prior:
    """All beliefs before local answers.

    Parameters
    ----------
    log_median
        Log of the median life of a gas storage heater, years.
    log_shape
        Log of the Weibull shape; other laws translate it by their scatter.
    kinds
        Log life of the other kinds relative to gas storage.
    long_warranty, anode, flush, softener
        Effects on log life (anode and flush: on the remaining life after the act).
    long_warranty_years
        From this term on a warranty counts as long.
    phase_scale
        Scale of the half-normal of the standard deviation between phases.
    early_ages_from
        Ages, years, at which the bands of early replacement begin; the first is 0.
    early_rates
        Log of the yearly rate of replacement before failure, per band.
    response_tilt
        Log of how much more likely a home with a recent failure is to answer.
    discrepancy_sd
        Standard deviation on log life that is added because no law is exactly right.
    """

    log_median: Belief
    log_shape: Belief
    kinds: Mapping[str, Belief]
    long_warranty: Belief
    long_warranty_years: float
    anode: Belief
    flush: Belief
    softener: Belief
    phase_scale: float
    early_ages_from: tuple[float, ...]
    early_rates: tuple[Belief, ...]
    response_tilt: Belief
    discrepancy_sd: float
    sources: Mapping[str, str]

    def log_shape_for(self, law: str) -> Belief:
        """The belief about a law's log shape that means the same scatter of log life."""
        shift = math.log(LAWS[law].log_scatter / LAWS["weibull"].log_scatter)
        return Belief(self.log_shape.mean + shift, self.log_shape.sd, self.log_shape.source)

    @property
    def acts(self) -> Mapping[str, Belief]:
        """What is believed of dated acts: log factors on the remaining life, by their names among the parameters."""
        return {"anode changed": self.anode, "flushed": self.flush}

    @property
    def median_years(self) -> float:
        """Median life of a gas storage heater, years."""
        return math.exp(self.log_median.mean)


def load_prior(path: Path | None = None) -> Prior:
    """Read the prior.

    Parameters
    ----------
    path
        A file of the same form as ``survey_app/lifetime/prior.toml``; None for that file.

    Returns
    -------
    Prior

    Raises
    ------
    PriorFileError
        When an entry is missing or not a usable number; lists every such entry.
    """
    if path is None:
        text = resources.files(__package__).joinpath("prior.toml").read_text(encoding="utf-8")
        where = "prior.toml"
    else:
        text, where = path.read_text(encoding="utf-8"), path.name
    try:
        table = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise PriorFileError(f"{where} is not valid TOML: {error}. Correct the line it names.") from None
    return _read(table, where)


def _read(table: Mapping[str, Any], where: str) -> Prior:
    problems: list[str] = []

    def number(section: str, key: str, *, positive: bool = False) -> float:
        value = _dig(table, section).get(key)
        if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
            problems.append(f"{where}: [{section}] {key} is missing or not a number. Give a number.")
            return 1.0
        if positive and value <= 0:
            problems.append(f"{where}: [{section}] {key} is {value}. It must be above zero.")
            return 1.0
        return float(value)

    def belief(section: str, mean: float | None = None) -> Belief:
        center = number(section, "log_life") if mean is None else mean
        return Belief(center, number(section, "log_sd", positive=True), source(section))

    def source(section: str) -> str:
        text = str(_dig(table, section).get("source", "")).strip()
        if not text:
            problems.append(f"{where}: [{section}] names no source. Say what it rests on.")
        return text

    ages, rates = _bands(table, where, problems)
    early_sd = number("replaced_early", "log_sd", positive=True)
    early_source = source("replaced_early")
    kinds = {kind: belief(f"kind.{kind}") for kind in table.get("kind", {})}
    phase_scale = number("phase", "log_sd_scale", positive=True)
    discrepancy = number("discrepancy", "log_sd")
    prior = Prior(
        log_median=belief("life", math.log(number("life", "median_years", positive=True))),
        log_shape=belief("shape", math.log(number("shape", "value", positive=True))),
        kinds=kinds,
        long_warranty=belief("long_warranty"),
        long_warranty_years=number("long_warranty", "threshold_years", positive=True),
        anode=belief("anode"),
        flush=belief("flush"),
        softener=belief("softener"),
        phase_scale=phase_scale,
        early_ages_from=ages,
        early_rates=tuple(Belief(math.log(rate), early_sd, early_source) for rate in rates),
        response_tilt=belief("response", number("response", "log_tilt")),
        discrepancy_sd=discrepancy,
        sources={
            "life": source("life"),
            "shape": source("shape"),
            **{f"kind {kind}": b.source for kind, b in kinds.items()},
            "long warranty": source("long_warranty"),
            "anode": source("anode"),
            "flush": source("flush"),
            "softener": source("softener"),
            "phase": source("phase"),
            "replaced early": early_source,
            "response": source("response"),
            "discrepancy": source("discrepancy"),
        },
    )
    if problems:
        raise PriorFileError("\n".join(dict.fromkeys(problems)))
    return prior


def _dig(table: Mapping[str, Any], section: str) -> Mapping[str, Any]:
    head, _, tail = section.partition(".")
    found = table.get(head, {})
    if tail:
        found = found.get(tail, {}) if isinstance(found, Mapping) else {}
    return found if isinstance(found, Mapping) else {}


def _bands(table: Mapping[str, Any], where: str, problems: list[str]) -> tuple[tuple[float, ...], tuple[float, ...]]:
    section = _dig(table, "replaced_early")
    ages, rates = section.get("ages_from", []), section.get("per_year", [])
    good = (
        isinstance(ages, list)
        and isinstance(rates, list)
        and len(ages) == len(rates) > 0
        and all(isinstance(v, int | float) for v in [*ages, *rates])
        and ages[0] == 0
        and all(a < b for a, b in pairwise(ages))
        and all(r > 0 for r in rates)
    )
    if not good:
        problems.append(
            f"{where}: [replaced_early] needs ages_from (rising, from 0) and per_year (above zero), equally long."
        )
        return (0.0,), (0.03,)
    return tuple(float(a) for a in ages), tuple(float(r) for r in rates)
