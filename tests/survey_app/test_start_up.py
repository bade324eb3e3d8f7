"""What a command loads before it does anything: held by the modules that are there, not by a clock."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

import survey_app

HEAVY = {
    "alembic",
    "argon2",
    "babel",
    "fluent",
    "folium",
    "geopandas",
    "icalendar",
    "matplotlib",
    "numpy",
    "openpyxl",
    "pandas",
    "PIL",
    "pydantic",
    "pyproj",
    "pyvrp",
    "rapidfuzz",
    "scipy",
    "shapely",
    "sqlalchemy",
    "streamlit",
    "synthetic_community",
    "typst",
}
"""Top-level packages that cost a command its start; each is for a few commands alone."""


def loaded(code: str) -> set[str]:
    """The top-level packages that are loaded after `code` in a process of its own."""
    done = subprocess.run(
        [sys.executable, "-c", f"{code}\nimport sys\nprint(*sorted({{m.partition('.')[0] for m in sys.modules}}))"],
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return set(done.stdout.splitlines()[-1].split())


def test_the_commands_load_no_library_before_one_of_them_runs() -> None:
    """`--help` costs what the command line itself costs; a command pays for what it uses."""
    found = loaded("import survey_app.cli")

    assert "typer" in found
    assert found & HEAVY == set()


@pytest.mark.parametrize("module", ["survey_app", "survey_app.texts", "survey_app.records", "survey_app.errors"])
def test_what_everything_stands_on_is_light(module: str) -> None:
    """The bottom of the house brings no library with it; the texts bring theirs when something is said."""
    assert loaded(f"import {module}") & HEAVY == set()


def command(*words: str) -> str:
    """The code that runs one command to its end."""
    return (
        f"import sys\nsys.argv = ['heater-survey', *{words!r}]\nfrom survey_app.cli import main\n"
        "try:\n    main()\nexcept SystemExit as left:\n    assert not left.code, left.code"
    )


RECORDS = {"sqlalchemy", "pydantic", "fluent", "babel"}
"""What reading the records and the settings takes, and saying something."""


@pytest.mark.parametrize(
    ("words", "uses"),
    [
        (["standing"], RECORDS),
        (["standing", "--csv", "standing.csv", "--json"], RECORDS),
        (["forecast", "--json"], {*RECORDS, "numpy", "scipy"}),
        (["map", "map.html"], {*RECORDS, "folium", "geopandas", "numpy", "pandas", "pyproj", "shapely"}),
    ],
    ids=["standing", "standing to a file", "forecast", "map"],
)
def test_a_command_loads_only_what_it_uses(
    data: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, words: list[str], uses: set[str]
) -> None:
    """Where homes stand is told and written without a table library, a map or a solver; so for the others."""
    monkeypatch.chdir(tmp_path)
    found = loaded(command(*words, "--data", str(data)))

    assert "sqlalchemy" in found
    assert found & HEAVY <= uses


def test_the_apps_first_page_loads_no_forecast_and_no_map(data: Path) -> None:
    """Whoever opens the app waits for its first page alone; what a page needs is loaded when it is opened."""
    page = Path(survey_app.__file__).parent / "ui" / "app.py"
    found = loaded(
        f"import os\nos.environ['HEATER_SURVEY_DATA'] = {str(data)!r}\n"
        "from streamlit.testing.v1 import AppTest\n"
        f"at = AppTest.from_file({str(page)!r}, default_timeout=120).run()\n"
        "assert at.title and not at.exception and not at.error"
    )

    assert "streamlit" in found
    assert found & {"folium", "geopandas", "icalendar", "matplotlib", "openpyxl", "pyproj", "scipy", "typst"} == set()


def test_every_name_of_the_front_door_is_found_where_it_is_said_to_be() -> None:
    """Names are imported when asked for: each is there, and a name that is not is an error like any other."""
    import survey_app.survey as front_door

    for name in front_door.__all__:
        assert getattr(front_door, name) is not None
    assert front_door.restore_backup.__module__ == "survey_app.store.backup"
    with pytest.raises(AttributeError, match="no attribute 'Nothing'"):
        _ = front_door.Nothing
    with pytest.raises(ImportError):
        from survey_app.survey import restore  # noqa: F401


def test_words_bring_their_library_when_they_are_said() -> None:
    """The guard above is no accident of names: saying something loads Fluent."""
    assert "fluent" in loaded("from survey_app.texts import ENGLISH\nENGLISH('nav-start')")


def test_the_front_door_alone_opens_the_records_and_reckons_nothing() -> None:
    """Its parts, and the libraries that read files and reckon, are imported when a part is asked for."""
    found = loaded("from survey_app.survey import Doors, Survey, open_store\nopen_store")

    assert "sqlalchemy" in found
    assert found & HEAVY <= {"sqlalchemy", "alembic", "pydantic", "argon2"}
