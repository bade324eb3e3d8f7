"""Fixtures that several packages' tests share."""

from __future__ import annotations

import contextlib
import ctypes
import hashlib
import json
import os
import pickle
import shutil
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

import pytest

# Two workers on two cores: a thread of linear algebra a worker, or they wait for one another.
os.environ.setdefault("OMP_NUM_THREADS", "1")

with contextlib.suppress(ImportError):  # not among the reference libraries
    from hypothesis import HealthCheck, settings

    # How long an example takes is no behavior: on a busy machine it says nothing.
    settings.register_profile("house", deadline=None, suppress_health_check=[HealthCheck.too_slow])
    settings.load_profile("house")

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
    survey.set_up().name_community(f"{about['name']} (synthetic)", synthetic=True, open_doors=True)
    survey.set_up().load_parcels(read_parcels(invented / "parcels.geojson"))
    survey.answers().import_answers(read_rows(invented / "answers.csv"))
    survey._context.store.close()
    return place


@pytest.fixture(scope="session")
def fits_kept() -> Iterator[None]:
    """What records say about lives is worked out once: `fit` follows from them and its seed alone.

    The memory is by all that a fit is given, so that records which differ in anything are fitted anew.
    """
    from survey_app import lifetime

    fit, kept = lifetime.fit, {}

    def once(*given: object, **named: object) -> object:
        key = hashlib.sha256(pickle.dumps((given, sorted(named.items())))).digest()
        if key not in kept:
            kept[key] = fit(*given, **named)
        return kept[key]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(lifetime, "fit", once)
        yield


@pytest.fixture
def data(demo_data: Path, fits_kept: None, tmp_path: Path) -> Path:
    """A copy of that data folder, to change at will."""
    place = tmp_path / "data"
    shutil.copytree(demo_data, place)
    return place


@pytest.fixture
def quick_hashes(monkeypatch: pytest.MonkeyPatch) -> None:
    """Codes and passwords hashed as cheaply as Argon2id can, for tests that make a code for every home.

    What a hash costs whoever guesses is proven in `test_credentials` and `test_sign_in`, with the true cost.
    """
    import argon2

    from survey_app import credentials

    cheapest = argon2.PasswordHasher(time_cost=1, memory_cost=8, parallelism=1)
    monkeypatch.setattr(credentials, "_hasher", cheapest)


@dataclass(frozen=True)
class Done:
    """How a command ended: its exit code, and what it wrote to either stream."""

    returncode: int
    stdout: str
    stderr: str


@pytest.fixture
def run(capfd: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Callable[..., Done]:
    """Run a command line as `heater-survey` does, in this process: `run("standing", "--json", data=place)`.

    The two streams are read from the descriptors, so that what a library writes past Python counts as well. A process
    of its own would load the libraries each time; `test_cli` starts a few where that is what is proven.
    """
    from survey_app.cli import main

    def command(*words: str | Path, data: Path | None = None) -> Done:
        capfd.readouterr()
        with monkeypatch.context() as patch:
            for name in ("HEATER_SURVEY_DATA", "HEATER_SURVEY_DEBUG"):
                patch.delenv(name, raising=False)
            if data is not None:
                patch.setenv("HEATER_SURVEY_DATA", str(data))
            patch.setattr(sys, "argv", ["heater-survey", *map(str, words)])
            with pytest.raises(SystemExit) as left:
                main()
        ctypes.CDLL(None).fflush(None)  # what a compiled library still holds back
        said = capfd.readouterr()
        code = left.value.code
        assert code is None or isinstance(code, int), f"left with {code!r}, which is printed and means 1"
        return Done(code or 0, said.out, said.err)

    return command
