"""The forecast as a map of groups of homes; never a single one."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from geo.blocks import block_outlines, join_small_streets
from geo.maps import MapPage, draw_blocks, shades_ramp
from survey_app.forecast import BlockExpected, Forecast, blocks_expected
from survey_app.records import Community, Home, Parcel
from survey_app.reports.standing_map import Street, homes_frame, streets_frame
from survey_app.settings import Settings

__all__ = ["losses_map"]


def losses_map(
    found: Forecast,
    homes: Sequence[Home],
    parcels: Sequence[Parcel],
    streets: Sequence[Street],
    community: Community,
    changed_at: datetime,
    settings: Settings,
) -> str:
    """Expected losses in the first horizon by groups of streets, per 100 homes; never a single home.

    Each group holds at least the set number of homes, answered or not.
    """
    frame = homes_frame([h.parcel_id for h in homes], [h.home_id for h in homes], parcels)
    epsg = community.local_epsg or 3857
    names: list[str] = []
    if len(frame):
        middles = frame.geometry.representative_point().to_crs(epsg)
        minimum = 2 * settings.public_minimum_answers
        names = join_small_streets(
            [h.street for h in homes], [True] * len(homes), middles.x, middles.y, minimum=minimum
        )
    block_of = {h.home_id: name for h, name in zip(homes, names, strict=True)}
    blocks = {b.block: b for b in blocks_expected(found, block_of, minimum=settings.public_minimum_answers)}
    areas = block_outlines(frame, names, local_epsg=epsg).loc[lambda a: a["block"].isin(blocks)].reset_index(drop=True)
    shown = [blocks[name] for name in areas["block"]]
    return draw_blocks(
        areas,
        class_of=[_RAMP.class_of(100 * b.expected / b.homes).key for b in shown],
        classes=_RAMP.classes,
        fields=[
            ("Streets", [str(b.block) for b in shown]),
            ("Homes", [str(b.homes) for b in shown]),
            (f"Expected to be lost within {_years(found)}", [_about(b) for b in shown]),
        ],
        page=MapPage(
            title=f"Expected losses in {community.name}",
            intro=f"How many of 100 heaters are expected to be lost within {_years(found)}, by groups of streets.",
            notes=(
                "The numbers are for planning. Which home it will be is mostly chance, so no single home is shown.",
            ),
            synthetic=community.synthetic,
            data_date=f"{changed_at:%d %B %Y}",
        ),
        streets=streets_frame(streets),
        layer_label=f"Lost within {_years(found)}, of 100 homes",
    )


_RAMP = shades_ramp((3, 6, 9, 12), ("under 3", "3 to 6", "6 to 9", "9 to 12", "12 and more"))


def _years(found: Forecast) -> str:
    years = found.horizons[0].years
    return "a year" if years == 1 else f"{years:g} years"


def _about(block: BlockExpected) -> str:
    return f"about {block.expected:.1f} of {block.homes} homes"
