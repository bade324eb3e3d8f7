"""The base of every error whose message is a sentence for the person who asked.

A kind of error is defined where it is raised. Whoever only shows the sentence, the
commands and the pages, catches this base and so need not import what raises it.
:class:`geo.errors.GeoError` is the same for places, which know nothing of this package.
"""

from __future__ import annotations

__all__ = ["NotThere", "SurveyError"]


class SurveyError(Exception):
    """What was asked for is not possible as it is; the message says why and what to do."""


class NotThere(SurveyError, LookupError):
    """What was named is not in this survey, or not any more."""
