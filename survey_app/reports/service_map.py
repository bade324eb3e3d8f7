"""Service days on a map: a color, a hatch and a number for each day, so that no one needs the color."""

from __future__ import annotations

from collections.abc import Sequence

from geo.addresses import readable
from geo.maps import BLANK, MapPage, draw_places, numbered_classes, swatch
from survey_app.records import Home, Parcel
from survey_app.reports.service_papers import ServicePapers
from survey_app.reports.standing_map import Street, homes_frame, streets_frame
from survey_app.service_days import ServicePlan, clock

__all__ = ["day_map"]

_WAITS = "waits"


def day_map(
    papers: ServicePapers,
    parcels: Sequence[Parcel],
    homes: Sequence[Home],
    streets: Sequence[Street],
    plan: ServicePlan,
) -> str:
    """Every home of the plan in its day's color with its number in the order, as one self-contained page.

    Parameters
    ----------
    papers
        The plan with its homes.
    parcels, homes, streets
        Outlines and lines.
    plan
        The plan.
    """
    visits = {v.home_id: v for v in plan.visits}
    place = {h.home_id: h.parcel_id for h in homes}
    on_plan = {*visits, *(w.home_id for w in plan.waiting)}
    ids = [h for h in papers.homes if h in place and h in on_plan]
    numbers = {day: n for n, day in enumerate(plan.days, start=1)}
    classes = (
        *numbered_classes([f"{day:%a %d %b %Y}" for day in numbers]),
        swatch(BLANK, key=_WAITS, label="On no day yet"),
    )
    return draw_places(
        homes_frame([place[h] for h in ids], ids, parcels),
        class_of=[classes[numbers[visits[h].on] - 1].key if h in visits else _WAITS for h in ids],
        classes=classes,
        fields=[
            ("Address", [readable(papers.homes[h].address) for h in ids]),
            ("Day", [f"{visits[h].on:%A %d %B}" if h in visits else "waits" for h in ids]),
            ("Crew", [str(visits[h].crew) if h in visits else "" for h in ids]),
            ("In order", [str(visits[h].order) if h in visits else "" for h in ids]),
            ("Arrives about", [clock(visits[h].arrive_s) if h in visits else "" for h in ids]),
        ],
        search_labels=[readable(papers.homes[h].address) for h in ids],
        page=MapPage(
            title=f"Service days of {papers.community.name}: {plan.asked.job}",
            intro=(
                f"{len(visits)} homes, {len(plan.days)} days; {len(plan.waiting)} wait. For those who plan and drive, "
                "single homes are shown."
            ),
            notes=plan.sentences[:3],
            synthetic=papers.community.synthetic,
            data_date=f"{plan.made_at:%d %B %Y}",
        ),
        streets=streets_frame(streets),
        layer_label="Day of each home",
    )
