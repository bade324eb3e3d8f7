"""`Sheets`: the one walking order of letters and of the paper forms that come back, as numbers printed on the sheets.

Until a letter has been printed nobody holds a number, so new parcels or streets
number everything anew; after that it is done only when the volunteer asks. How
numbers are given is said in :mod:`survey_app.on_foot`.
"""

from __future__ import annotations

from collections.abc import Sequence

from survey_app.access import Action
from survey_app.records import Home
from survey_app.store import Sheet
from survey_app.survey.context import Context

__all__ = ["NUMBERED", "PRINTED", "Sheets"]

NUMBERED = "number the sheets"
PRINTED = "issue private codes"
"""What the change log calls it when letters are made."""


class Sheets:
    """The sheet numbers of one survey. Made by :meth:`Survey.sheets`; refused to whoever may not see every home."""

    def __init__(self, context: Context) -> None:
        context.require(Action.READ_ALL_HOMES)
        self._context = context

    def numbers(self) -> dict[str, str]:
        """Every home's sheet number by its id, in walking order; homes that have none are given theirs and keep it."""
        with self._context.read() as records:
            homes, have = records.homes(), records.sheets()
        if all(h.home_id in have for h in homes):
            return have
        return self._give(homes, have)

    def number_anew(self) -> dict[str, str]:
        """Forget all numbers and walk the community anew; forms on older sheets then carry numbers of other homes."""
        with self._context.read() as records:
            homes = records.homes()
        return self._give(homes, {})

    def _give(self, homes: Sequence[Home], have: dict[str, str]) -> dict[str, str]:
        from survey_app.on_foot import sheet_numbers
        from survey_app.survey.service_rounds import ground_of

        with self._context.read() as records:
            ground, before = ground_of(records), records.sheets()
        numbers = sheet_numbers(homes, ground, have)
        with self._context.write(NUMBERED) as write:
            if not have:
                write.drop_sheets(before)
            write.put([Sheet(home_id=k, number=n) for k, n in numbers.items()])
            write.log("sheet", f"{len(numbers) - len(have)} homes")
        return numbers
