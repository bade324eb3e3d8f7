"""The command line: the same survey as the app, for the person who holds the data folder.

Exit codes: 0 done; 1 done, but something needs your eye (rows to mend, doubtful
addresses, parcels left out); 2 wrong use or unusable input, with one sentence
on the error stream. With ``--json`` the only thing on the output stream is one
JSON object; progress always goes to the error stream.
"""

from __future__ import annotations

import json
import logging
import os
import shutil
import subprocess
import sys
import time
import urllib.request
import webbrowser
from collections.abc import Callable
from datetime import date, datetime, timedelta
from enum import StrEnum
from pathlib import Path
from typing import Annotated, Any, NoReturn

import geopandas as gpd
import typer

import synthetic_community
from geo.parcels import Notice, UnusableParcelFile, read_parcels
from survey_app.access import Actor, NotAllowed, Role
from survey_app.csv_import import UnusableAnswerFile, read_rows, write_mend_file, write_template
from survey_app.reports.as_file import UnknownFormat, write_rows
from survey_app.reports.service_papers import day_rows, day_sheets_pdf, notices_pdf, visit_calendar
from survey_app.reports.standing_table import STANDING_COLUMNS, standing_rows
from survey_app.service_days import Asked, CannotPlan, Job, ServicePlan, read_price_steps
from survey_app.settings import UnusableSettings
from survey_app.store_place import PLACE_VARIABLE, data_place
from survey_app.survey import (
    DoubtfulAnswer,
    ImportReport,
    LoadReport,
    ServiceRounds,
    SignInRefused,
    Survey,
    UnusableData,
    open_store,
)
from survey_app.texts import ENGLISH

__all__ = ["app", "main"]

app = typer.Typer(
    name="heater-survey",
    help="A survey of a planned community's water heaters: who is past twice the warranty, and what to do about it.",
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    add_completion=False,
)

UNUSABLE = (
    UnusableParcelFile,
    UnusableAnswerFile,
    UnusableData,
    UnusableSettings,
    UnknownFormat,
    NotAllowed,
    SignInRefused,
    LookupError,
    CannotPlan,
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
    except UNUSABLE as error:
        if isinstance(error, (KeyError, IndexError)):
            _unforeseen(error)
        _stop(str(error.args[0]) if error.args else str(error))
    except OSError as error:
        name = f" ({error.filename})" if error.filename else ""
        _stop(f"{error.strerror or error}{name}. Check the name, the rights and the free space, and try again.")
    except Exception as error:
        _unforeseen(error)


def _unforeseen(error: Exception) -> NoReturn:
    """A fault of the program: a sentence for the person, the details for whoever asks for them."""
    if os.environ.get("HEATER_SURVEY_DEBUG"):
        raise error
    logging.getLogger(__name__).debug("command failed", exc_info=True)
    _stop(
        f"Something unforeseen went wrong ({type(error).__name__}). Nothing stored is lost. "
        "Set HEATER_SURVEY_DEBUG=1 and run it again to see the details for a report."
    )


def _stop(sentence: str) -> NoReturn:
    print(sentence, file=sys.stderr)
    raise SystemExit(2)


def _survey(data: str | None) -> Survey:
    place = data or data_place(os.environ)
    return Survey(
        open_store(place), Actor(name="command line", role=Role.VOLUNTEER), now=datetime.now().replace(microsecond=0)
    )


def _say(text: str) -> None:
    print(text, file=sys.stderr)


def _progress(what: str) -> Callable[[float, Any], None]:
    """A progress line on the error stream, only where a person is looking."""
    last = 0.0

    def report(done: float, of: Any) -> None:
        nonlocal last
        if sys.stderr.isatty() and (time.monotonic() - last > 0.2 or done == of):
            last = time.monotonic()
            print(f"\r{what}: {done} of {of}   ", end="\n" if done == of else "", file=sys.stderr, flush=True)

    return report


def _out(as_json: bool, content: dict[str, Any], words: str) -> None:
    print(json.dumps(content, ensure_ascii=False, default=str) if as_json else words)


def _finish(needs_eye: bool) -> None:
    raise typer.Exit(1 if needs_eye else 0)


def _existing(path: Path) -> Path:
    if not path.exists():
        _stop(f"There is no file {path}. Check its name and folder.")
    return path


@app.command(epilog="Example: heater-survey parcels county_parcels.zip --phase SUBDIV")
def parcels(
    file: Annotated[Path, typer.Argument(help="Any vector file GDAL reads, or a CSV with coordinates.")],
    id: Annotated[str | None, typer.Option(help="Column with the parcel number.")] = None,
    address: Annotated[str | None, typer.Option(help="Column with the site address.")] = None,
    built: Annotated[str | None, typer.Option(help="Column with the year built.")] = None,
    phase: Annotated[str | None, typer.Option(help="Column with the building phase.")] = None,
    crs: Annotated[str | None, typer.Option(help="EPSG code, where the file does not say or says it wrong.")] = None,
    land_use: Annotated[str | None, typer.Option(help="Column with the land use.")] = None,
    home_use: Annotated[
        list[str] | None, typer.Option(help="Only parcels of this land use are homes (repeat).")
    ] = None,
    units: Annotated[str | None, typer.Option(help="Column that lists a parcel's units, such as A;B.")] = None,
    streets: Annotated[Path | None, typer.Option(help="A file of street lines for the map's background.")] = None,
    name: Annotated[str | None, typer.Option(help="Name of the community.")] = None,
    data: Data = None,
    json_: AsJson = False,
) -> None:
    """Load the county's parcels; says what it repaired, what it left out, and why."""
    survey = _survey(data)
    read = read_parcels(
        _existing(file),
        id_column=id,
        address_column=address,
        built_column=built,
        phase_column=phase,
        land_use_column=land_use,
        units_column=units,
        crs=crs,
    )
    if name:
        survey.name_community(name, synthetic=False)
    report = survey.load_parcels(read, home_uses=frozenset(home_use) if home_use else None)
    if streets is not None:
        survey.load_streets(_street_lines(_existing(streets)))
    _out(
        json_,
        {
            "parcels": report.parcels,
            "homes": report.homes,
            "phases": report.phases,
            "source_crs": read.source_crs,
            "columns": read.columns_used,
            "assumed": list(report.assumed),
            "repaired": [_notice(n) for n in report.repaired],
            "refused": [_notice(n) for n in report.refused],
            "kept_without_parcel": list(report.kept_without_parcel),
        },
        _parcel_words(report),
    )
    _finish(bool(report.refused or report.kept_without_parcel))


def _notice(notice: Notice) -> dict[str, Any]:
    return {"row": notice.row, "parcel": notice.parcel_id, "what": notice.what, "remedy": notice.remedy}


def _parcel_words(report: LoadReport) -> str:
    lines = [f"{report.parcels} parcels with {report.homes} homes in {report.phases} phases are loaded."]
    lines += [f"Assumed: {line}" for line in report.assumed]
    for title, notices in (("Repaired or noted", report.repaired), ("Left out", report.refused)):
        kinds: dict[str, list[Notice]] = {}
        for notice in notices:
            kinds.setdefault(notice.kind or notice.what, []).append(notice)
        if kinds:
            lines.append(f"{title}: {len(notices)}")
        for kind, alike in sorted(kinds.items(), key=lambda item: -len(item[1])):
            first = alike[0]
            lines.append(f"  {len(alike)} x {kind}; the first: row {first.row}, parcel {first.parcel_id or '?'}.")
            lines.append(f"      {first.what} {first.remedy}")
    if report.repaired or report.refused:
        lines.append("--json lists every one of them.")
    lines += [f"Not in the new file, kept because it has answers: {a}" for a in report.kept_without_parcel]
    return "\n".join(lines)


def _street_lines(path: Path) -> list[tuple[str, str, bytes]]:
    frame = gpd.read_file(path).to_crs(4326)
    columns = {c.lower(): c for c in frame.columns}
    names = frame[columns["name"]] if "name" in columns else [""] * len(frame)
    kinds = frame[columns["class"]] if "class" in columns else [""] * len(frame)
    return [(str(n or ""), str(k or ""), w) for n, k, w in zip(names, kinds, frame.geometry.to_wkb(), strict=True) if w]


@app.command(epilog="Example: heater-survey template answers.xlsx")
def template(file: Annotated[Path, typer.Argument(help="Where to write it: .csv or .xlsx.")]) -> None:
    """Write the import template with a data dictionary."""
    written = write_template(file)
    print("Written: " + ", ".join(str(path) for path in written))


@app.command(epilog="Example: heater-survey answers spring.xlsx --mend mend.xlsx")
def answers(
    file: Annotated[Path, typer.Argument(help="Answers as .csv or .xlsx.")],
    mend: Annotated[Path | None, typer.Option(help="Where to write the rows that need mending.")] = None,
    data: Data = None,
    json_: AsJson = False,
) -> None:
    """Import answers and join them to homes; importing the same file twice changes nothing."""
    survey = _survey(data)
    sheet = read_rows(_existing(file))
    report = survey.import_answers(sheet, progress=_progress("Rows checked"))
    if report.imported.rejected:
        mend = mend or file.with_name(f"{file.stem}_mend{file.suffix.lower()}")
        write_mend_file(mend, report.imported.rejected, sheet=sheet)
    else:
        mend = None
    _out(
        json_,
        {
            "rows": report.rows,
            "new": report.new,
            "already_there": report.already_there,
            "joined": report.joined,
            "doubtful": report.doubtful,
            "no_such_home": report.no_such_home,
            "rejected": [
                {"row": r.number, "reason": r.reason, "what_to_do": r.what_to_do} for r in report.imported.rejected
            ],
            "mend_file": str(mend) if mend else None,
            "notes": list(report.imported.notes),
        },
        _import_words(report, mend),
    )
    _finish(report.needs_eye)


def _import_words(report: ImportReport, mend: Path | None) -> str:
    lines = [
        f"{report.rows} rows: {report.new} new answers stored, {report.already_there} there already.",
        f"Joined to their home: {report.joined}. Doubtful: {report.doubtful}. No such home: {report.no_such_home}.",
    ]
    if mend:
        lines.append(f"{len(report.imported.rejected)} rows need mending: correct them in {mend} and import that file.")
        lines += [f"  row {r.number}: {r.reason}" for r in report.imported.rejected[:8]]
    lines += list(report.imported.notes)
    return "\n".join(lines)


@app.command(epilog="Example: heater-survey matches --accept 0f3a=R-104")
def matches(
    accept: Annotated[
        list[str] | None, typer.Option(help="ANSWER=HOME: this answer is for this home (repeat).")
    ] = None,
    reject: Annotated[list[str] | None, typer.Option(help="ANSWER: it is for none of our homes (repeat).")] = None,
    data: Data = None,
    json_: AsJson = False,
) -> None:
    """List doubtful addresses with the homes they may be, or decide them."""
    survey = _survey(data)
    for pair in accept or []:
        answer, _, home = pair.partition("=")
        if not home:
            raise LookupError(f"'{pair}' does not say which home. Write --accept ANSWER=HOME.")
        survey.accept(answer, home)
    for answer in reject or []:
        survey.set_aside(answer)
    waiting = survey.doubtful()
    _out(json_, {"doubtful": [_doubt(d) for d in waiting]}, _doubt_words(waiting))
    _finish(bool(waiting))


def _doubt(item: DoubtfulAnswer) -> dict[str, Any]:
    return {
        "answer": item.answer.answer_id,
        "typed": item.answer.address_as_typed,
        "state": str(item.state),
        "why": item.why,
        "candidates": [
            {"home": c.place_id, "address": c.address, "score": round(c.score, 1), "why": c.why}
            for c in item.candidates
        ],
    }


def _doubt_words(waiting: list[DoubtfulAnswer]) -> str:
    if not waiting:
        return "Nothing waits: every answer is joined to its home or set aside."
    lines = [f"{len(waiting)} answers wait for a decision."]
    for item in waiting:
        lines.append(f"{item.answer.answer_id}  “{item.answer.address_as_typed}”: {item.why}")
        lines += [f"    {c.place_id}  {c.address} ({c.why})" for c in item.candidates]
    return "\n".join(lines)


@app.command(epilog="Example: heater-survey standing --csv standing.csv")
def standing(
    csv: Annotated[Path | None, typer.Option(help="Write the table to this .csv (or .xlsx) file.")] = None,
    data: Data = None,
    json_: AsJson = False,
) -> None:
    """A row for every home: age, warranty, class, what is due, what it rests on."""
    survey = _survey(data)
    rows = standing_rows(survey.standings())
    if csv is not None:
        write_rows(rows, csv, columns=STANDING_COLUMNS)
        _say(f"Written: {csv}")
    counts = survey.totals()
    words = "\n".join(f"{n:6d}  {key}" for key, n in counts.items())
    _out(json_, {"as_of": str(survey.today), "counts": dict(counts), "homes": rows}, words)


@app.command(name="map", epilog="Example: heater-survey map neighborhood.html --audience public")
def map_(
    file: Annotated[Path, typer.Argument(help="Where to write the page.")],
    audience: Annotated[Audience, typer.Option(help="volunteer: every home; public: groups only.")] = Audience.PUBLIC,
    data: Data = None,
) -> None:
    """Write the map as one page that asks nothing of any network."""
    survey = _survey(data)
    page = survey.whole_map() if audience is Audience.VOLUNTEER else survey.public_map()
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(page, encoding="utf-8")
    private = " It shows single homes: keep it to yourself." if audience is Audience.VOLUNTEER else ""
    print(f"Written: {file} ({len(page.encode()) / 1000:.0f} kB).{private}")


@app.command(epilog="Example: heater-survey forecast --as-of 2027-01-01 --json")
def forecast(
    as_of: Annotated[datetime | None, typer.Option(formats=["%Y-%m-%d"], help="Count the years from this day.")] = None,
    data: Data = None,
    json_: AsJson = False,
) -> None:
    """How many heaters will be lost in 1, 3 and 5 years, how sure that is, and what it rests on."""
    survey = _survey(data)
    found = survey.forecast(as_of=as_of.date() if as_of else None)
    lines = [
        f"Within {h.years:g} year{'' if h.years == 1 else 's'}: about {h.everyone.mean:.0f} of {h.everyone.homes} "
        f"heaters (90% interval {h.everyone.low} to {h.everyone.high})"
        for h in found.horizons
    ]
    _out(json_, found.to_dict(), "\n".join([*lines, "", *found.sentences]))
    _finish(found.refusal is not None)


@app.command(epilog="Example: heater-survey days --job flush --dates 2027-03-01,2027-03-02 --crews 2 --out days")
def days(
    job: Annotated[Job, typer.Option(help="What the crews come for.")],
    dates: Annotated[str, typer.Option(help="Days offered, such as 2027-03-01,2027-03-02.")],
    crews: Annotated[int, typer.Option(help="Crews on each day.")] = 1,
    hours: Annotated[float, typer.Option(help="Hours of work from 8 in the morning.")] = 8.0,
    least: Annotated[int | None, typer.Option(help="Fewest homes for a crew to come (else the setting).")] = None,
    most: Annotated[int, typer.Option(help="Most homes a day; 0 for no limit.")] = 0,
    prices: Annotated[str, typer.Option(help="Price of one home by homes a day, such as 1:150,10:130,20:115.")] = "",
    iterations: Annotated[int, typer.Option(help="Of the search; 0: by the number of homes.", min=0)] = 0,
    out: Annotated[Path | None, typer.Option(help="Folder for day sheets, notices, map, lists, calendar.")] = None,
    data: Data = None,
    json_: AsJson = False,
) -> None:
    """Plan service days: which homes on which day, in an order a crew can drive."""
    survey = _survey(data)
    asked = Asked(
        job=job,
        dates=_dates(dates),
        crews=crews,
        end_s=_START_OF_WORK_S + round(hours * 3600),
        min_homes=survey.settings().crew_minimum_homes if least is None else least,
        max_homes=most,
        price_steps=_price_steps(prices),
        iterations=iterations,
    )
    rounds = survey.service_rounds()
    plan = rounds.plan(asked, progress=_shares)
    if out is not None:
        _write_days(rounds, plan, out, survey.now)
    lines = [f"{day}: {len(plan.on(day))} homes" for day in plan.days]
    lines += [f"{len(plan.waiting)} homes wait.", *plan.sentences]
    lines += [
        f"{t.on}: too few; {t.missing} more on {' and '.join(t.streets)} would fill the day." for t in plan.too_few
    ]
    _out(json_, {"plan_id": plan.plan_id, "asked": asked.to_dict(), **plan.to_dict()}, "\n".join(lines))
    _finish(bool(plan.waiting or plan.too_few))


_START_OF_WORK_S = 8 * 3600


def _shares(share: float, words: str) -> None:
    if sys.stderr.isatty():
        print(f"\r{share:4.0%} {words:40}", end="\n" if share >= 1 else "", file=sys.stderr, flush=True)


def _write_days(rounds: ServiceRounds, plan: ServicePlan, out: Path, now: datetime) -> None:
    papers = rounds.papers(plan)
    out.mkdir(parents=True, exist_ok=True)
    rows = day_rows(papers, ENGLISH)
    write_rows(rows, out / "visits.csv", columns={k: k for k in rows[0]} if rows else {"day": "day"})
    (out / "day_sheets.pdf").write_bytes(day_sheets_pdf(papers, ENGLISH))
    (out / "door_notices.pdf").write_bytes(notices_pdf(papers, ENGLISH))
    (out / "map_of_days.html").write_text(rounds.map_of_days(plan), encoding="utf-8")
    every = [v.home_id for v in plan.visits]
    (out / "visits.ics").write_bytes(visit_calendar(papers, every, ENGLISH, now=now))
    _say(f"Written to {out}. The files name homes: keep them to yourself and the crews.")


def _price_steps(text: str) -> tuple[tuple[int, float], ...]:
    try:
        return read_price_steps(text)
    except ValueError as error:
        _stop(str(error))


def _dates(text: str) -> tuple[date, ...]:
    found = []
    for part in filter(None, (p.strip() for p in text.split(","))):
        try:
            found.append(date.fromisoformat(part))
        except ValueError:
            _stop(f"'{part}' in --dates is not a date. Write days such as 2027-03-01,2027-03-02.")
    return tuple(found)


@app.command(epilog="Example: heater-survey export survey.gpkg")
def export(
    file: Annotated[Path, typer.Argument(help="Ends in .gpkg, .geojson, .csv or .xlsx.")],
    data: Data = None,
) -> None:
    """Write every home with its standing, for a GIS or a spreadsheet."""
    survey = _survey(data)
    found = survey.standings()
    outlines = survey.outlines()
    write_rows(
        standing_rows(found), file, columns=STANDING_COLUMNS, outlines=[outlines[s.home.parcel_id] for s in found]
    )
    print(f"Written: {file} ({len(found)} homes). It holds addresses with their equipment: keep it to yourself.")


@app.command(epilog="Example: heater-survey start --port 8600")
def start(
    port: Annotated[int, typer.Option(help="Port on this machine.", min=1, max=65535)] = 8501,
    open_browser: Annotated[bool, typer.Option("--open/--no-open", help="Open the browser.")] = True,
    address: Annotated[
        str, typer.Option(help="Who can reach it: this machine alone, or 0.0.0.0 for the whole local network.")
    ] = "127.0.0.1",
    data: Data = None,
) -> None:
    """Serve the app on the data folder."""
    place = data or data_place(os.environ)
    open_store(place).close()  # a folder that cannot be used is told here, not in a page
    raise typer.Exit(_serve(str(place), port, open_browser, address))


def _serve(place: str, port: int, open_browser: bool, address: str = "127.0.0.1") -> int:
    """Run the app until it is stopped; its settings are here so that a user's own configuration cannot loosen them."""
    entry = Path(__file__).parent / "ui" / "app.py"
    options = {
        "server.port": port,
        "server.address": address,
        "server.headless": True,  # else the first start on a machine stops to ask for an e-mail address
        "server.maxUploadSize": 10,
        "server.enableStaticServing": False,
        "server.fileWatcherType": "none",
        "browser.gatherUsageStats": False,
        "client.showErrorDetails": "none",
        "client.toolbarMode": "viewer",
        "runner.postScriptGC": False,
        "theme.base": "light",
        "theme.primaryColor": "#1D4865",
        "theme.textColor": "#1F2A33",
        "theme.backgroundColor": "#FFFFFF",
        "theme.secondaryBackgroundColor": "#F1F3EE",
    }
    flags = [f"--{key}={str(value).lower() if isinstance(value, bool) else value}" for key, value in options.items()]
    server = subprocess.Popen(
        [sys.executable, "-m", "streamlit", "run", str(entry), *flags],
        env={**os.environ, PLACE_VARIABLE: place},
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
    )
    try:
        url = f"http://localhost:{port}"
        if _answers(f"{url}/_stcore/health", server):
            _say(f"The survey is at {url} (stop it with Ctrl+C)")
            if open_browser and not webbrowser.open(url):
                _say("No browser could be opened here: open that address by hand.")
        code = server.wait()
    except KeyboardInterrupt:
        server.terminate()
        return 0
    if code not in (0, -15):
        _stop(f"The app did not start. Is port {port} taken by another program? Try --port {port + 1}.")
    return 0


def _answers(url: str, server: subprocess.Popen[bytes]) -> bool:
    """Wait until the app answers; False when it stopped first, or after two minutes."""
    for _ in range(480):
        if server.poll() is not None:
            return False
        try:
            with urllib.request.urlopen(url, timeout=1):
                return True
        except OSError:
            time.sleep(0.25)
    return False


@app.command(epilog="Example: heater-survey demo --homes 1200 --out demo_out --no-open")
def demo(
    homes: Annotated[int, typer.Option(help="How many homes.", min=10, max=50_000)] = 1200,
    seed: Annotated[int, typer.Option(help="Seed of the invented community.", min=0)] = 7,
    out: Annotated[Path, typer.Option(help="Where every output goes.")] = Path("heater_survey_demo"),
    port: Annotated[int, typer.Option(help="Port of the app.", min=1, max=65535)] = 8501,
    open_app: Annotated[bool, typer.Option("--open/--no-open", help="Start the app at the end.")] = True,
) -> None:
    """Build a synthetic community, run the whole round, write every output, and start the app."""
    place = out / "data"
    out.mkdir(parents=True, exist_ok=True)
    if place.exists():
        if not (place / _DEMO_MARK).exists():
            _stop(f"{place} holds records that are not a demo's. Choose another folder with --out.")
        shutil.rmtree(place)
    place.mkdir(mode=0o700)
    (place / _DEMO_MARK).write_text("Synthetic records made by the demo; the next demo replaces them.\n")
    survey = _survey(str(place))
    _say(f"1. Inventing a community of {homes} homes (synthetic, seed {seed})")
    files = synthetic_community.build(homes=homes, seed=seed, as_of=survey.today, out=out / "synthetic_files")
    about = json.loads(files.community.read_text(encoding="utf-8"))
    survey.name_community(f"{about['name']} (synthetic)", synthetic=True, open_doors=True)
    _say("2. Loading its parcels and streets")
    read = read_parcels(files.parcels)
    loaded = survey.load_parcels(read)
    survey.load_streets(_street_lines(files.streets))
    _say(f"   {loaded.homes} homes on {loaded.parcels} parcels")
    _say("3. Importing its answers")
    sheet = read_rows(files.answers)
    report = survey.import_answers(sheet, progress=_progress("   rows checked"))
    if report.imported.rejected:
        write_mend_file(out / "mend.xlsx", report.imported.rejected, sheet=sheet)
    _say("   " + _import_words(report, out / "mend.xlsx" if report.imported.rejected else None).splitlines()[1])
    _say("4. Working out where every home stands")
    found = survey.standings()
    outlines = survey.outlines()
    rows = standing_rows(found)
    for name in ("standing.csv", "standing.xlsx", "survey.gpkg", "survey.geojson"):
        write_rows(rows, out / name, columns=STANDING_COLUMNS, outlines=[outlines[s.home.parcel_id] for s in found])
    (out / "map_for_the_volunteer.html").write_text(survey.whole_map(), encoding="utf-8")
    (out / "map_to_publish.html").write_text(survey.public_map(), encoding="utf-8")
    _say("5. Foreseeing what will be lost")
    foreseen = survey.forecast()
    (out / "forecast.json").write_text(json.dumps(foreseen.to_dict(), indent=1), encoding="utf-8")
    (out / "map_of_expected_losses.html").write_text(survey.losses_map(), encoding="utf-8")
    _say(f"   {foreseen.sentences[0]}" if foreseen.sentences else "")
    _say("6. Planning flush days for the homes that asked")
    monday = survey.today + timedelta(days=14 - survey.today.weekday())
    asked = Asked(job=Job.FLUSH, dates=tuple(monday + timedelta(days=i) for i in range(5)), crews=2, iterations=400)
    rounds = survey.service_rounds()
    try:
        plan = rounds.plan(asked, progress=_shares)
        _write_days(rounds, plan, out / "service_days", survey.now)
        _say(f"   {len(plan.visits)} homes on {len(plan.days)} days; {len(plan.waiting)} wait")
    except CannotPlan as why:
        _say(f"   {' '.join(why.problems)}")
    write_template(out / "answers_template.xlsx")
    for key, n in survey.totals().items():
        print(f"{n:6d}  {key}")
    print(f"Everything is in {out}. All of it is synthetic.")
    if open_app:
        raise typer.Exit(_serve(str(place), port, open_browser=True))


_DEMO_MARK = "SYNTHETIC_DEMO.txt"
