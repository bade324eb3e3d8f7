"""A flush day for 200 homes of a real county's file, where no streets are known. Skipped where the file is absent."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pytest

from geo.addresses import parse
from geo.parcels import read_parcels
from geo.routing import K_MEANS, ROUTED, Day, Depot, Half, Lunch, Stop, Task, plan, validate
from geo.streets import infer_streets, snap
from geo.travel import drive_seconds, street_travel

COUNTY = Path(__file__).resolve().parents[2].parent / "shared" / "data" / "county_parcels" / "parcels.geojson"
HOUR = 3600

pytestmark = pytest.mark.skipif(
    not COUNTY.exists(), reason="the real county's parcels are not beside the project (../shared/data/county_parcels)"
)


@pytest.mark.slow
def test_two_hundred_real_homes_are_planned_on_inferred_streets() -> None:
    """200 single-family homes, ten dates of three crews with lunch: a valid plan, no worse than k-means."""
    parcels = read_parcels(COUNTY).parcels
    single = parcels[(parcels["land_use"] == "11") & parcels["has_number"]]
    rest = parcels[parcels["land_use"] != "11"]
    network = infer_streets(list(single.geometry), list(single["address"]), obstacles=list(rest.geometry))
    chosen = single.iloc[:: len(single) // 200][:200]
    names = [parse(a).street() for a in chosen["address"]]
    middle = (float(chosen["lon"].median()), float(chosen["lat"].median()))
    places = snap(network, [middle[0], *chosen["lon"]], [middle[1], *chosen["lat"]], ["", *names])
    travel = street_travel(network, places)
    assert "inferred" in travel.sentences[0]
    rng = np.random.default_rng(200)
    dates = [date(2027, 4, 5) + timedelta(days=7 * (k // 5) + k % 5) for k in range(10)]
    lunch = Lunch(start_s=12 * HOUR, length_s=1800, latest_s=14 * HOUR)
    stops = tuple(
        Stop(
            stop_id=str(parcel),
            place=i + 1,
            street=name,
            service_s=int(rng.choice([60, 75, 90])) * 60,
            prize_cents=int(rng.lognormal(9.2, 0.6)),
            allowed=None if rng.random() < 0.5 else tuple((d, Half.ANY) for d in dates if rng.random() < 0.4),
            x_m=float(places.x[i + 1]),
            y_m=float(places.y[i + 1]),
        )
        for i, (parcel, name) in enumerate(zip(chosen["parcel_id"], names, strict=True))
    )
    task = Task(
        stops=stops,
        days=tuple(Day(date=d, crews=3, lunch=lunch, min_stops=6, max_stops=16) for d in dates),
        travel_s=drive_seconds(travel.metres),
        depot=Depot(place=0, x_m=float(places.x[0]), y_m=float(places.y[0])),
    )
    made = plan(task, seed=1, iterations=200, tries=1)
    assert validate(task, made) == ()
    assert made.method == ROUTED
    assert made.cost.total <= plan(task, seed=1, method=K_MEANS).cost.total
    assert len(made.date_of()) >= 100
    hours = sum(r.end_s - r.start_s for r in made.routes) / HOUR
    driving = made.cost.travel / task.costs.travel_cents_per_s / HOUR
    assert driving / hours < 0.15
