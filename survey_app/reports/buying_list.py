"""The list of what to ask for when a heater is bought, as a page to take along."""

from __future__ import annotations

from datetime import date

from survey_app.advice.buying import spec_rows
from survey_app.advice.cautions import cautions
from survey_app.advice.sizing import FirstHourNeed
from survey_app.records import Community, HeaterKind, Place
from survey_app.reports.as_pdf import pdf
from survey_app.reports.home_record import named
from survey_app.texts import Texts

__all__ = ["buying_list_pdf"]


def buying_list_pdf(
    kind: HeaterKind,
    place: Place,
    community: Community,
    say: Texts,
    *,
    as_of: date,
    need: FirstHourNeed | None = None,
) -> bytes:
    """The list with a box before each line and the cautions at its end; no home is named on it.

    Parameters
    ----------
    kind, place
        What is bought, and where it will stand.
    community
        Whose page it is.
    say
        The language.
    as_of
        The day printed on it.
    need
        The first-hour rating to ask for, where it has been worked out.
    """
    rating = ""
    if need is not None and need.gallons > 0:
        # Paper shows no marks for bold.
        rating = say("sizing-ask", low=say.number(need.ask_low), high=say.number(need.ask_high)).replace("**", "") + " "
    lines = [[f"[   ]  {what}", why] for what, why in spec_rows(kind, place, say)]
    return pdf(
        "record",
        {
            "lang": say.language,
            "title": say("buying-paper-title"),
            "for": say("buying-paper-for"),
            "synthetic": say("head-synthetic") if community.synthetic else "",
            "as_of": say("record-as-of", day=say.day(as_of)),
            "community": community.name,
            "address": f"{named(say, 'kind', kind)} · {named(say, 'place', place)}",
            "parts": [{"heading": say("buying-head-list"), "lines": lines, "even": True}],
            "rests_on": rating + say("buying-list-lead"),
            "cautions_head": say("care-cautions-head"),
            "cautions": list(cautions(say)),
        },
    )
