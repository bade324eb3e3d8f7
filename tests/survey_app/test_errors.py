"""One base for every error whose sentence a person may read, and what the commands make of it."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Iterator
from types import ModuleType

import pytest

import geo
import survey_app
from geo.errors import GeoError
from survey_app.cli import base
from survey_app.errors import SurveyError


def _defined(package: ModuleType) -> Iterator[type[Exception]]:
    """Every class of exception that a package defines and lets out; a private one is a signal inside its module.

    Pages are left out, since importing one draws it.
    """
    for module in pkgutil.walk_packages(package.__path__, f"{package.__name__}."):
        if module.name.startswith(("survey_app.ui", "survey_app.__main__", "survey_app.store.migrations")):
            continue
        for thing in vars(importlib.import_module(module.name)).values():
            if not isinstance(thing, type) or not issubclass(thing, Exception) or thing.__name__.startswith("_"):
                continue
            if thing.__module__ == module.name:
                yield thing


@pytest.mark.parametrize(("package", "base_class"), [(survey_app, SurveyError), (geo, GeoError)])
def test_every_error_of_a_package_has_its_base_or_is_a_fault(package: ModuleType, base_class: type[Exception]) -> None:
    """Whoever catches the base shows every sentence; a fault of the program (a RuntimeError) is never taken for one."""
    found = list(_defined(package))
    assert len(found) >= 4
    for kind in found:
        assert issubclass(kind, base_class) is not issubclass(kind, RuntimeError), kind


@pytest.mark.parametrize("kind", [*_defined(survey_app), *_defined(geo)], ids=lambda kind: kind.__name__)
def test_a_command_tells_the_sentence_and_nothing_of_a_fault(
    kind: type[Exception], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Exit code 2 and one line: the error's own sentence, or for a fault the one that says how to see the details."""
    error = kind.__new__(kind)
    error.args = ("Load the parcels first.",)

    def fails() -> None:
        raise error

    monkeypatch.setattr(base, "app", fails)
    monkeypatch.delenv("HEATER_SURVEY_DEBUG", raising=False)
    with pytest.raises(SystemExit) as left:
        base.main()
    told = capsys.readouterr().err

    assert left.value.code == 2
    assert (told == "Load the parcels first.\n") is not issubclass(kind, RuntimeError)
    assert "Something unforeseen" in told or not issubclass(kind, RuntimeError)


@pytest.mark.parametrize("kind", [LookupError, KeyError, ValueError])
def test_an_error_of_the_language_is_no_sentence(
    kind: type[Exception], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """A library's own words are not shown: nobody wrote them for people, and nobody can act on them."""

    def fails() -> None:
        raise kind("unknown encoding: x")

    monkeypatch.setattr(base, "app", fails)
    monkeypatch.delenv("HEATER_SURVEY_DEBUG", raising=False)
    with pytest.raises(SystemExit):
        base.main()
    told = capsys.readouterr().err

    assert "Something unforeseen" in told
    assert "encoding" not in told
