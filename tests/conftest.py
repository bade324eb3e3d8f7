"""Fixtures that several packages' tests share."""

from __future__ import annotations

import json
import shutil
from datetime import date, datetime
from pathlib import Path

import pytest

SURVEY_DAY = date(2026, 5, 2)
NOW = datetime(2026, 5, 2, 9, 30)


@pytest.fixture(scope="session")
def invented(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The files of a small synthetic community, as a county and a volunteer would hand them over."""
    import synthetic_community

    out = tmp_path_factory.mktemp("invented")
    synthetic_community.build(homes=120, seed=3, as_of=SURVEY_DAY, out=out)
    return out


@pytest.fixture(scope="session")
def demo_data(invented: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A data folder with that community loaded, its answers imported, its doors open."""
    from geo.parcels import read_parcels
    from survey_app.access import Actor, Role
    from survey_app.csv_import import read_rows
    from survey_app.survey import Survey, open_store

    place = tmp_path_factory.mktemp("demo") / "data"
    survey = Survey(open_store(place), Actor(name="vera", role=Role.VOLUNTEER), now=NOW)
    about = json.loads((invented / "community.json").read_text(encoding="utf-8"))
    survey.name_community(f"{about['name']} (synthetic)", synthetic=True, open_doors=True)
    survey.load_parcels(read_parcels(invented / "parcels.geojson"))
    survey.answers().import_answers(read_rows(invented / "answers.csv"))
    survey._store.close()
    return place


@pytest.fixture
def data(demo_data: Path, tmp_path: Path) -> Path:
    """A copy of that data folder, to change at will."""
    place = tmp_path / "data"
    shutil.copytree(demo_data, place)
    return place
