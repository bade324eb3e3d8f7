"""The command line: the same survey as the app, for the person who holds the data folder.

Exit codes: 0 done; 1 done, but something needs your eye (rows to mend, doubtful
addresses, parcels left out); 2 wrong use or unusable input, with one sentence
on the error stream. With ``--json`` the only thing on the output stream is one
JSON object; progress always goes to the error stream.

Commands import what they need when they run, never at the top of their module:
each would pay for the others' libraries, and ``--help`` for all of them.
"""

from __future__ import annotations

import json
import logging
import os
import sys
import time
from collections.abc import Callable
from datetime import datetime
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, NoReturn

import typer

from geo.errors import GeoError
from survey_app.errors import SurveyError
from survey_app.store_place import PLACE_VARIABLE, data_place

if TYPE_CHECKING:
    from survey_app.survey import Survey

app = typer.Typer(
    name="heater-survey",
    help="A survey of a planned community's water heaters: who is past twice the warranty, and what to do about it.",
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    add_completion=False,
)

Data = Annotated[
    str | None,
    typer.Option("--data", help=f"Data folder or database URL (else ${PLACE_VARIABLE}, else ~/heater-survey-data)."),
]
AsJson = Annotated[bool, typer.Option("--json", help="Print one JSON object instead of words.")]


class Audience(StrEnum):
    """Who a map is for."""

    VOLUNTEER = "volunteer"
    PUBLIC = "public"


def main() -> None:
    """Run the command line; people get sentences, never a traceback."""
    try:
        app()
    except (SurveyError, GeoError) as error:
        stop(str(error))
    except OSError as error:
        name = f" ({error.filename})" if error.filename else ""
        stop(f"{error.strerror or error}{name}. Check the name, the rights and the free space, and try again.")
    except Exception as error:
        unforeseen(error)


def unforeseen(error: Exception) -> NoReturn:
    """A fault of the program: a sentence for the person, the details for whoever asks for them."""
    if os.environ.get("HEATER_SURVEY_DEBUG"):
        raise error
    logging.getLogger(__name__).debug("command failed", exc_info=True)
    stop(
        f"Something unforeseen went wrong ({type(error).__name__}). Nothing stored is lost. "
        "Set HEATER_SURVEY_DEBUG=1 and run it again to see the details for a report."
    )


def stop(sentence: str) -> NoReturn:
    """Say one sentence on the error stream and leave with code 2."""
    print(sentence, file=sys.stderr)
    raise SystemExit(2)


def opened(data: str | None) -> Survey:
    """The survey of a data folder, as the volunteer who holds it."""
    from survey_app.access import Actor, Role
    from survey_app.survey import Survey, open_store

    now = datetime.now().replace(microsecond=0)
    again = progress("Answers are read again by this version of the tool. Homes", patience_s=1.0)
    store = open_store(data or data_place(os.environ), now=now, progress=again)
    return Survey(store, Actor(name="command line", role=Role.VOLUNTEER), now=now)


def tell(text: str) -> None:
    """Say something on the error stream."""
    print(text, file=sys.stderr)


def progress(what: str, *, patience_s: float = 0.0) -> Callable[[float, Any], None]:
    """A progress line on the error stream, only where a person is looking and has waited for `patience_s`."""
    begun, last = time.monotonic(), 0.0

    def report(done: float, of: Any) -> None:
        nonlocal last
        now = time.monotonic()
        shown = last > 0.0 or now - begun >= patience_s
        if sys.stderr.isatty() and shown and (now - last > 0.2 or done == of):
            last = now
            print(f"\r{what}: {done} of {of}   ", end="\n" if done == of else "", file=sys.stderr, flush=True)

    return report


def out_(as_json: bool, content: dict[str, Any], words: str) -> None:
    """Print one JSON object, or words."""
    print(json.dumps(content, ensure_ascii=False, default=str) if as_json else words)


def finish(needs_eye: bool) -> None:
    """Leave with code 1 when something needs the user's eye, else 0."""
    raise typer.Exit(1 if needs_eye else 0)


def existing(path: Path) -> Path:
    """The path, if there is such a file."""
    if not path.exists():
        stop(f"There is no file {path}. Check its name and folder.")
    return path
