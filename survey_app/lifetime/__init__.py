"""How long the heaters of a community last, and how sure one can be of it.

Read in this order: :mod:`.observations` (records to spells), :mod:`.prior`
(what is believed before any answer), :mod:`.laws` and :mod:`.renewal` (the two
ideas), :mod:`.likelihood`, :mod:`.posterior`, :mod:`.diagnostics`.

Needs numpy and scipy only.
"""

from .laws import LAWS, Law
from .likelihood import Layout, Likelihood
from .observations import HomeState, Observations, Problem, durations, observations, rewind, spells
from .posterior import LawPosterior, MaximumLikelihood, Posterior, fit, maximum_likelihood
from .prior import Belief, Prior, PriorFileError, load_prior
from .renewal import renewal_function

__all__ = [
    "LAWS",
    "Belief",
    "HomeState",
    "Law",
    "LawPosterior",
    "Layout",
    "Likelihood",
    "MaximumLikelihood",
    "Observations",
    "Posterior",
    "Prior",
    "PriorFileError",
    "Problem",
    "durations",
    "fit",
    "load_prior",
    "maximum_likelihood",
    "observations",
    "renewal_function",
    "rewind",
    "spells",
]
