"""How near a round is to going ahead: firm yes, maybe, no, and the next step of a price."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from survey_app.purchase.bids import Bid
from survey_app.records import Interest

__all__ = ["NextStep", "Threshold", "next_step", "smallest_number_below", "threshold"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Threshold:
    """Counts against the number at which a round goes ahead.

    ``lacking`` counts firm yes alone; a maybe is never counted as a yes.
    """

    needed: int
    yes: int
    maybe: int
    no: int
    open: int
    sentence: str

    @property
    def lacking(self) -> int:
        """How many more firm yes it takes."""
        return max(0, self.needed - self.yes)

    @property
    def goes_ahead(self) -> bool:
        """Whether enough have said a firm yes."""
        return self.yes >= self.needed

    @property
    def possible(self) -> int:
        """How many may still say yes or have: all that have not said no."""
        return self.yes + self.maybe + self.open

    @property
    def share_of_maybe(self) -> float | None:
        """The share of the maybes that has to become a yes; None when even all of them are too few."""
        if self.goes_ahead:
            return 0.0
        return self.lacking / self.maybe if self.lacking <= self.maybe else None


def threshold(needed: int, interests: Sequence[Interest]) -> Threshold:
    """Count what the households said.

    Parameters
    ----------
    needed
        Homes at which the round goes ahead, 1 or more.
    interests
        One for each household that was asked; not sure counts as open.

    Raises
    ------
    ValueError
        When `needed` is below 1.

    Examples
    --------
    >>> threshold(20, [Interest.YES] * 17 + [Interest.MAYBE] * 5).sentence
    'The round goes ahead at 20; 17 have said yes, 5 maybe. 3 more are needed.'
    """
    if needed < 1:
        raise ValueError(f"A round cannot go ahead at {needed} homes. Give 1 or more.")
    yes, maybe, no = (
        sum(1 for one in interests if one is kind) for kind in (Interest.YES, Interest.MAYBE, Interest.NO)
    )
    have = "has" if yes == 1 else "have"
    said = f"The round goes ahead at {needed}; {yes} {have} said yes"
    said += f", {maybe} maybe." if maybe else "."
    if yes >= needed:
        said += " It goes ahead."
    else:
        said += f" {needed - yes} more {'is' if needed - yes == 1 else 'are'} needed."
        possible = len(interests) - no
        if interests and possible < needed:
            every = "every maybe" if possible == yes + maybe else f"all {possible} that have not said no"
            said += f" Even with {every} there are too few." if possible > yes else ""
    return Threshold(needed=needed, yes=yes, maybe=maybe, no=no, open=len(interests) - yes - maybe - no, sentence=said)


@dataclass(frozen=True, slots=True, kw_only=True)
class NextStep:
    """The next price step of a bid above a number of homes."""

    contractor: str
    at_homes: int
    lacking: int
    home_usd_now: float | None
    home_usd_then: float

    @property
    def sentence(self) -> str:
        """What it would change."""
        more = f"{self.lacking} more home{'' if self.lacking == 1 else 's'}"
        if self.home_usd_now is None:
            return f"{self.contractor}: {more} and the bid holds, at {self.home_usd_then:,.2f} dollars a home."
        return (
            f"{self.contractor}: {more} and the price falls from {self.home_usd_now:,.2f} to "
            f"{self.home_usd_then:,.2f} dollars a home."
        )


def next_step(bid: Bid, yes: int) -> NextStep | None:
    """The next step above the firm yes, with the price a home now and then; None above the last step."""
    above = [step.from_homes for step in bid.steps if step.from_homes > yes]
    if not above:
        return None
    return NextStep(
        contractor=bid.contractor,
        at_homes=above[0],
        lacking=above[0] - yes,
        home_usd_now=None if yes < 1 or bid.why_not(yes) else bid.home_usd(yes),
        home_usd_then=bid.home_usd(above[0]),
    )


def smallest_number_below(bid: Bid, price_usd: float, *, most: int) -> int | None:
    """The smallest number of homes from which on, up to ``most``, a home's share stays at or below a price.

    With mobilization a share can rise again when one home opens a new day, so
    it is not enough to look at the first number that comes below.
    """
    found = None
    for n in range(most, 0, -1):
        if bid.why_not(n):
            continue
        if bid.home_usd(n) > price_usd + 1e-9:
            break
        found = n
    return found
