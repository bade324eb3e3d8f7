"""The standing of the community as maps: every home for the volunteer, groups of homes for everybody else."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

import geopandas as gpd
import shapely

from geo.blocks import block_outlines, join_small_streets, shares
from geo.maps import MapClass, MapPage, draw_blocks, draw_places
from geo.maps.palette import BLANK, DEEP, MIDDLE, PALE, SUPPRESSED, UNKNOWN, shades_ramp, swatch
from survey_app.access import share_band
from survey_app.records import Community, Dated, Parcel, WarrantyClass
from survey_app.reported import told_line
from survey_app.settings import Settings
from survey_app.standing import Standing
from survey_app.texts import ENGLISH

__all__ = ["STANDING_CLASSES", "Street", "homes_frame", "public_map", "streets_frame", "volunteer_map"]

Street = tuple[str, str, bytes]

STANDING_CLASSES: tuple[MapClass, ...] = (
    swatch(PALE, key="in warranty", label="In warranty", letter="W"),
    swatch(MIDDLE, key="past warranty", label="Past its warranty", letter="P"),
    swatch(DEEP, key="past twice warranty", label="Past twice its warranty", letter="2"),
    swatch(UNKNOWN, key="unknown", label="Answered, age unknown", letter="?"),
    swatch(BLANK, key="no answer", label="No answer yet"),
)
"""How a home's class is drawn: colour, pattern and letter."""

_BANDS = ("under 20 %", "20 to 40 %", "40 to 60 %", "60 to 80 %", "over 80 %")
_SHADES = shades_ramp((0.2, 0.4, 0.6, 0.8), _BANDS).classes
_NOT_SHOWN = swatch(SUPPRESSED, key="not shown", label="Too few answers: not shown")
_METRIC_FALLBACK = 3857


@dataclass(frozen=True, slots=True)
class _Block:
    name: str
    homes: int
    answered: int
    known: int
    past_twice: int


def volunteer_map(
    found: Sequence[Standing],
    parcels: Sequence[Parcel],
    streets: Sequence[Street],
    community: Community,
    changed_at: datetime,
    settings: Settings,
) -> str:
    """Every home with its class and its card, as one self-contained page.

    Parameters
    ----------
    found
        Where every home stands.
    parcels, streets
        Outlines and lines, well-known binary in WGS 84.
    community, changed_at
        What the page says of its data.
    settings
        For the smallest group of the coverage layer.
    """
    frame = homes_frame([s.home.parcel_id for s in found], [s.home.home_id for s in found], parcels)
    blocks, names = _blocks(found, frame, community, settings)
    areas = block_outlines(frame, names, local_epsg=community.local_epsg or _METRIC_FALLBACK) if len(frame) else None
    if areas is not None:
        covered = [blocks[name] for name in areas["block"]]
        areas["label"] = [f"{b.answered} of {b.homes} homes answered" for b in covered]
        areas["shade"] = [_shade(b.answered, b.homes) for b in covered]
    answered = sum(s.answered for s in found)
    return draw_places(
        frame,
        class_of=[s.map_class for s in found],
        classes=STANDING_CLASSES,
        fields=[
            ("Address", [s.home.address for s in found]),
            (
                "Reported, not settled",
                [" ".join(told_line(r, ENGLISH, to_people=False) for r in s.reported) for s in found],
            ),
            ("Stands", [_class_text(s) for s in found]),
            ("Age", [_age_text(s) for s in found]),
            ("Warranty end", [_month(s.warranty_end) for s in found]),
            ("Last maintenance", [_month(s.last_maintenance) or ("none known" if s.heater else "") for s in found]),
            ("Rests on", [_evidence_text(s) for s in found]),
        ],
        search_labels=[s.home.address for s in found],
        page=MapPage(
            title=f"Water heaters of {community.name}",
            intro=f"{answered} of {len(found)} homes have answered. For the volunteer alone: single homes are shown.",
            notes=(
                "Past twice warranty means the age is at least two warranty terms. An unknown term counts as "
                f"{settings.default_warranty_years:g} years.",
            ),
            synthetic=community.synthetic,
            data_date=f"{changed_at:%d %B %Y}",
        ),
        streets=streets_frame(streets),
        blocks=areas,
        block_layer_label="Share of homes that answered",
        block_classes=_SHADES,
        layer_label="Where each heater stands",
    )


def public_map(
    found: Sequence[Standing],
    parcels: Sequence[Parcel],
    streets: Sequence[Street],
    community: Community,
    changed_at: datetime,
    settings: Settings,
) -> str:
    """Groups of homes only: each with at least the set number of known heaters, told in broad bands.

    Where even all homes together have too few, the groups are drawn as not shown.
    """
    frame = homes_frame([s.home.parcel_id for s in found], [s.home.home_id for s in found], parcels)
    blocks, names = _blocks(found, frame, community, settings)
    minimum = settings.public_minimum_answers
    areas = (
        block_outlines(frame, names, local_epsg=community.local_epsg or _METRIC_FALLBACK)
        if len(frame)
        else gpd.GeoDataFrame({"block": []}, geometry=[], crs=4326)
    )
    shown = [blocks[name] for name in areas["block"]]
    enough = [b.known >= minimum for b in shown]
    answered = sum(s.answered for s in found)
    return draw_blocks(
        areas,
        class_of=[_shade(b.past_twice, b.known) if ok else _NOT_SHOWN.key for b, ok in zip(shown, enough, strict=True)],
        classes=(*_SHADES, _NOT_SHOWN),
        fields=[
            ("Streets", [b.name for b in shown]),
            ("Homes", [str(b.homes) for b in shown]),
            (
                "Past twice warranty",
                [
                    f"{share_band(b.past_twice, b.known)} of the heaters whose age is known" if ok else "not shown"
                    for b, ok in zip(shown, enough, strict=True)
                ],
            ),
        ],
        layer_label="Share of heaters past twice their warranty",
        page=MapPage(
            title=f"Heaters past twice their warranty in {community.name}",
            intro=(
                f"{answered if answered == 0 or answered >= minimum else 'Some'} of {len(found)} homes have answered. "
                "Each area is a group of streets; no single home can be made out."
            ),
            notes=(
                f"An area is shown when the age of at least {minimum} heaters in it is known; shares are told in five "
                "bands. Homes without an answer are not counted.",
            ),
            synthetic=community.synthetic,
            data_date=f"{changed_at:%d %B %Y}",
        ),
        streets=streets_frame(streets),
    )


def homes_frame(parcel_ids: Sequence[str], home_ids: Sequence[str], parcels: Sequence[Parcel]) -> gpd.GeoDataFrame:
    """One outline a home, in order; dwellings that share a parcel get a strip of it each."""
    outlines = dict(
        zip([p.parcel_id for p in parcels], shapely.from_wkb([p.outline_wkb for p in parcels]), strict=True)
    )
    on_parcel: dict[str, list[str]] = defaultdict(list)
    for parcel, home in zip(parcel_ids, home_ids, strict=True):
        on_parcel[parcel].append(home)
    strips = {
        home: part
        for parcel, homes in on_parcel.items()
        if len(homes) > 1
        for home, part in zip(homes, shares(outlines[parcel], len(homes)), strict=True)
    }
    return gpd.GeoDataFrame(
        geometry=[strips.get(h, outlines[p]) for p, h in zip(parcel_ids, home_ids, strict=True)], crs=4326
    )


def _blocks(
    found: Sequence[Standing], frame: gpd.GeoDataFrame, community: Community, settings: Settings
) -> tuple[dict[str, _Block], list[str]]:
    if not found:
        return {}, []
    middles = frame.geometry.representative_point().to_crs(community.local_epsg or _METRIC_FALLBACK)
    known = [s.answered and s.warranty_class is not WarrantyClass.UNKNOWN for s in found]
    names = join_small_streets(
        [s.home.street for s in found], known, middles.x, middles.y, minimum=settings.public_minimum_answers
    )
    homes, answered, ages, twice = Counter(names), Counter[str](), Counter[str](), Counter[str]()
    for name, s, age_known in zip(names, found, known, strict=True):
        answered[name] += s.answered
        ages[name] += age_known
        twice[name] += s.warranty_class is WarrantyClass.PAST_TWICE
    return {n: _Block(n, homes[n], answered[n], ages[n], twice[n]) for n in homes}, names


def _shade(part: int, whole: int) -> str:
    """The key of the shade for a share told in bands."""
    return _SHADES[_BANDS.index(share_band(part, whole))].key


def streets_frame(streets: Sequence[Street]) -> gpd.GeoDataFrame | None:
    """Street lines for a map's background; None where there are none."""
    if not streets:
        return None
    return gpd.GeoDataFrame(
        {"name": [s[0] for s in streets], "kind": [s[1] for s in streets]},
        geometry=shapely.from_wkb([s[2] for s in streets]),
        crs=4326,
    )


def _class_text(s: Standing) -> str:
    words = next(c.label for c in STANDING_CLASSES if c.key == s.map_class)
    return words if s.class_settled or s.heater is None or s.age_years is None else f"{words} (not certain)"


def _age_text(s: Standing) -> str:
    if s.age_years is None:
        return ""
    low, best, high = s.age_years
    return f"{best:.0f} years" if high - low < 1.5 else f"{best:.0f} years ({low:.0f} to {high:.0f})"


def _month(day: Dated | None) -> str:
    return f"{day.best:%b %Y}" if day else ""


def _evidence_text(s: Standing) -> str:
    installed = s.heater.installed if s.heater else None
    return str(installed.evidence) if installed and installed.evidence else ""
