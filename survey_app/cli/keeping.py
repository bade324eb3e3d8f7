"""Commands that keep the survey for years: backup, restore, letters, the report to the board."""

from __future__ import annotations

import os
from datetime import datetime, timedelta
from pathlib import Path
from typing import Annotated

import typer

from survey_app.cli.base import Data, app, opened, progress, stop, tell
from survey_app.store_place import data_place
from survey_app.texts import ENGLISH, LANGUAGES, texts

__all__ = ["archive", "backup", "letters", "report", "restore"]


def _folder(data: str | None) -> Path:
    place = str(data or data_place(os.environ))
    if "://" in place:
        stop("A database at a URL is backed up with its own tools. backup and restore are for a data folder.")
    return Path(place).expanduser()


@app.command(epilog="Example: heater-survey backup survey_2027-01-01.zip")
def backup(
    file: Annotated[Path, typer.Argument(help="Where to write the backup; ends in .zip.")],
    data: Data = None,
) -> None:
    """Write a consistent copy of the records while they may be in use, and check it."""
    from survey_app.survey import back_up, verify_backup

    report = back_up(_folder(data), file, now=datetime.now().replace(microsecond=0))
    verify_backup(file)
    print(f"Written and checked: {file} ({report.size / 1e6:.1f} MB, {sum(report.rows.values())} rows).")
    opened(str(_folder(data))).year_end().note_backup(file.name)
    tell("It holds everything personal in the survey: keep it as you keep the records.")


@app.command(epilog="Example: heater-survey archive survey_2026.zip")
def archive(
    file: Annotated[Path, typer.Argument(help="Where to write the archive; ends in .zip.")],
    data: Data = None,
) -> None:
    """Write all records in open formats (tables, a map layer, settings) for keeping when this tool is gone."""
    from survey_app.reports.archive import write_archive

    content = opened(data).year_end().content()
    size = write_archive(content, file)
    print(f"Written: {file} ({size / 1e6:.1f} MB, {len(content.standings)} homes). SHA256SUMS inside checks it.")
    tell("It holds everything personal but codes and passwords: keep it as you keep the records.")


@app.command(epilog="Example: heater-survey restore survey_2027-01-01.zip --data new_folder")
def restore(
    file: Annotated[Path, typer.Argument(help="A backup.")],
    replace: Annotated[bool, typer.Option("--replace", help="Set aside the records that are there.")] = False,
    data: Data = None,
) -> None:
    """Verify a backup, then put it into the data folder; records that are there are never deleted."""
    from survey_app.survey import restore_backup

    folder = _folder(data)
    report, aside = restore_backup(file, folder, replace=replace, now=datetime.now())
    opened(str(folder)).state()  # brings the tables of an earlier version up to date
    print(f"Restored into {folder}: {sum(report.rows.values())} rows, as of {report.made_at:%d %B %Y, %H:%M}.")
    if aside is not None:
        tell(f"The records that were there are in {aside}.")


@app.command(
    epilog="Example: heater-survey letters letters.pdf --address https://survey.example.org --ask 'Vera, 555-0100'"
)
def letters(
    file: Annotated[Path, typer.Argument(help="Where to write the letters; ends in .pdf.")],
    address: Annotated[str, typer.Option(help="Where the survey is reached, for the QR and in print.")],
    ask: Annotated[str, typer.Option(help="Whom people can ask and bring the paper to: a name with phone or e-mail.")],
    homes: Annotated[str, typer.Option(help="Home ids, by commas, to print again; else all homes.")] = "",
    until: Annotated[
        datetime | None, typer.Option(formats=["%Y-%m-%d"], help="Please answer by; else 21 days from now.")
    ] = None,
    anew: Annotated[
        bool, typer.Option("--number-anew", help="Walk the community anew; every sheet's number changes.")
    ] = False,
    language: Annotated[str, typer.Option(help=f"Of letter and form: {', '.join(LANGUAGES)}.")] = "en",
    data: Data = None,
) -> None:
    """Write a letter for each home with a new private code; the codes before stop working."""
    from survey_app.reports.letters import Sender, letters_pdf, survey_address

    if language not in LANGUAGES:
        stop(f"There is no language '{language}'. There are: {', '.join(LANGUAGES)}.")
    survey_address(address)  # before any code is made anew
    survey = opened(data)
    wanted = [h.strip() for h in homes.split(",") if h.strip()] or None
    if anew and wanted:
        stop("--number-anew is for printing all letters: the others would keep numbers that are void.")
    sender = Sender(
        address=address,
        ask=ask,
        until=(until or datetime.now() + timedelta(days=21)).date(),
        keep_years=survey.settings().keep_answers_years,
    )
    sheets = survey.sheets().number_anew() if anew else survey.sheets().numbers()
    issued = survey.sign_in_rights().issue_codes(wanted, progress=progress("Codes"))
    if not issued:
        stop("There is no such home. Look at the ids in `standing --csv`.")
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_bytes(letters_pdf(issued, sheets, survey.state().community, sender, texts(language)))
    print(f"Written: {file} ({len(issued)} letters, numbered in walking order).")
    tell("Each code opens its home: send the letters, then delete this file. Earlier codes of these homes are void.")


@app.command(epilog="Example: heater-survey report board.pdf")
def report(
    file: Annotated[Path, typer.Argument(help="Where to write the report; ends in .pdf.")],
    data: Data = None,
) -> None:
    """Write the report to the board: no home is named, no small count shown."""
    from survey_app.reports.board_report import board_pdf

    made = board_pdf(opened(data).figures().board_report(), ENGLISH)
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_bytes(made)
    print(f"Written: {file} ({len(made) / 1000:.0f} kB). It may be published.")
