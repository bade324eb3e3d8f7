"""What a command loads before it does anything: held by the modules that are there, not by a clock."""

from __future__ import annotations

import subprocess
import sys

import pytest

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
