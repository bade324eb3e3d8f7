"""How long the heaters of a community last, and how sure one can be of it.

Read in this order: :mod:`.observations` (what is used, with a drawing),
:mod:`.reading` (how it comes from the records), :mod:`.prior` (what is believed
before any answer), :mod:`.laws` and :mod:`.renewal` (the two ideas),
:mod:`.layout`, :mod:`.likelihood` with :mod:`.sockets`, :mod:`.posterior`,
:mod:`.likelihood_alone`, :mod:`.diagnostics`, :mod:`.conditional`.

Needs numpy and scipy only.
"""

from .conditional import Chance, LifeDraws, conditional_failure_probability, lives_of_home, thinned
from .diagnostics import CutCheck, cut_five
from .laws import LAWS, Law
from .layout import Layout
from .likelihood import Likelihood
from .likelihood_alone import MaximumLikelihood, maximum_likelihood
from .observations import HomeState, Observations, Problem, durations
from .posterior import LawPosterior, Posterior, fit
from .prior import Belief, Prior, PriorFileError, load_prior
from .reading import observations, rewind, spells
from .renewal import renewal_function

__all__ = [
    "LAWS",
    "Belief",
    "Chance",
    "CutCheck",
    "HomeState",
    "Law",
    "LawPosterior",
    "Layout",
    "LifeDraws",
    "Likelihood",
    "MaximumLikelihood",
    "Observations",
    "Posterior",
    "Prior",
    "PriorFileError",
    "Problem",
    "conditional_failure_probability",
    "cut_five",
    "durations",
    "fit",
    "lives_of_home",
    "load_prior",
    "maximum_likelihood",
    "observations",
    "renewal_function",
    "rewind",
    "spells",
    "thinned",
]
