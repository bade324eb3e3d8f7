"""How many homes a job is about, told without giving small counts away."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from survey_app.access import suppress
from survey_app.records import Interest
from survey_app.service_days.jobs import Fitness
from survey_app.service_days.who import Candidate

__all__ = ["KEEN", "Interested", "interested_in"]

KEEN = (Interest.YES, Interest.MAYBE)
"""Words that count as asking to take part."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Interested:
    """How many homes a job is about.

    ``due`` counts homes that the job is for; ``yes`` and ``maybe`` those of them that said so; ``ask`` the keen homes
    where the contractor decides first; ``silent`` those that are due and have not said. ``due`` and ``silent`` are None
    where they would tell the committee a small count of homes that did not ask to take part.
    """

    due: int | None
    yes: int
    maybe: int
    ask: int
    silent: int | None

    @property
    def sentence(self) -> str:
        """All of it in words."""
        of = "" if self.due is None else f", of {self.due} the job is due for"
        silent = "Some" if self.silent is None else str(self.silent)
        return (
            f"{self.yes} homes said yes and {self.maybe} maybe{of}. For {self.ask} more that would join, the "
            f"contractor must decide first. {silent} are due and have not said: a letter to them would help most."
        )


def interested_in(found: Sequence[Candidate], *, minimum: int) -> Interested:
    """Count the homes that were looked at for a job.

    Parameters
    ----------
    found
        Every home with a heater, looked at.
    minimum
        The smallest count that may be told of homes that did not ask to take part; 1 tells every count.
    """
    fit = [c for c in found if c.fitness is Fitness.YES]
    said = Counter(c.interest for c in fit)
    told = suppress({"silent": said[Interest.UNKNOWN], "no": said[Interest.NO]}, minimum)
    small = None in told.values()
    return Interested(
        due=None if small else len(fit),
        yes=said[Interest.YES],
        maybe=said[Interest.MAYBE],
        ask=sum(c.fitness is Fitness.ASK and c.interest in KEEN for c in found),
        silent=None if small else said[Interest.UNKNOWN],
    )
