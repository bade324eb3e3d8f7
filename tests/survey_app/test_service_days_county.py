"""A flush day for 200 homes of a real county file: no street file, so the streets are inferred from the lots."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from pathlib import Path

import pytest

from geo.parcels import read_parcels
from survey_app.access import Actor, Role
from survey_app.records import AnswerChannel
from survey_app.service_days import FLUSH, Asked
from survey_app.survey import Survey, open_store

FILE = Path(__file__).parents[2] / ".." / "shared" / "data" / "county_parcels" / "parcels.geojson"


@pytest.mark.slow
@pytest.mark.skipif(not FILE.exists(), reason="the county's public parcel file is not on this machine")
def test_a_flush_day_for_200_homes_of_a_countys_file(tmp_path: Path) -> None:
    """Homes of the single-family use get days on inferred streets; every visit keeps its rules, neighbors share days.

    The answers are made up here, all alike: only the places are real.
    """
    survey = Survey(open_store(tmp_path / "data"), Actor(name="v", role=Role.VOLUNTEER), now=datetime(2026, 5, 2, 9))
    survey.set_up().load_parcels(read_parcels(FILE, land_use_column="LANDUSE_CD"), home_uses=frozenset({"11"}))
    homes = survey._context.store.homes()
    near = sorted(homes, key=lambda h: h.parcel_id)[:200]
    for home in near:
        given = {
            "address": home.address,
            "kind": "gas storage",
            "installed": "2020",
            "last_flush": "2021",
            "flush_day": "yes",
            "consent": "yes",
        }
        assert survey.answers().submit(given, channel=AnswerChannel.PAPER, home_id=home.home_id).stored
    days = tuple(date(2026, 6, 1) + timedelta(days=i) for i in range(5))
    plan = survey.service_rounds().plan(Asked(job=FLUSH, dates=days, crews=4, iterations=400))

    assert plan.network == "inferred streets"
    assert any("inferred" in s for s in plan.sentences)
    assert len(plan.visits) + len(plan.waiting) == 200
    assert len(plan.visits) >= 100
    assert all(len(plan.on(d)) >= plan.asked.min_homes for d in plan.days)
    street = {h.home_id: h.street for h in near}
    first_day = {}
    for v in plan.visits:
        first_day.setdefault(street[v.home_id], []).append(v.on)
    together = sum(max(map(dates.count, dates)) for dates in first_day.values())
    assert together >= 0.5 * len(plan.visits), "most homes share their day with others of their street"
