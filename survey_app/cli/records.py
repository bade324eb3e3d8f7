"""Commands on records: parcels, answers, addresses, standing, maps, forecast, export."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from survey_app.cli.base import AsJson, Audience, Data, app, existing, finish, opened, out_, progress, stop, tell

if TYPE_CHECKING:
    from geo.parcels import Notice
    from survey_app.survey import DoubtfulAnswer, ImportReport, LoadReport


@app.command(epilog="Example: heater-survey parcels county_parcels.zip --phase SUBDIV")
def parcels(
    file: Annotated[Path, typer.Argument(help="A zipped shapefile, GeoJSON, GeoPackage or CSV with coordinates.")],
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
    streets: Annotated[
        Path | None, typer.Option(help="A file of street lines: for the map, walking and service days.")
    ] = None,
    name: Annotated[str | None, typer.Option(help="Name of the community.")] = None,
    drop_missing: Annotated[
        bool, typer.Option("--drop-missing", help="Homes that are not in this file go, unless something is on file.")
    ] = False,
    data: Data = None,
    json_: AsJson = False,
) -> None:
    """Load the county's parcels; says what it repaired, what it left out, and why."""
    from geo.parcels import read_parcels, street_lines
    from survey_app.survey import HomesWouldGo

    survey = opened(data)
    read = read_parcels(
        existing(file),
        id_column=id,
        address_column=address,
        built_column=built,
        phase_column=phase,
        land_use_column=land_use,
        units_column=units,
        crs=crs,
    )
    try:
        report = survey.set_up().load_parcels(
            read, home_uses=frozenset(home_use) if home_use else None, drop_missing=drop_missing
        )
    except HomesWouldGo as missing:
        stop(f"{missing} (--drop-missing)")
    if name:
        survey.set_up().name_community(name, synthetic=False)
    if streets is not None:
        survey.set_up().load_streets(street_lines(existing(streets)))
    out_(
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
    finish(bool(report.refused or report.kept_without_parcel))


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


@app.command(epilog="Example: heater-survey template answers.xlsx")
def template(file: Annotated[Path, typer.Argument(help="Where to write it: .csv or .xlsx.")]) -> None:
    """Write the import template with a data dictionary."""
    from survey_app.csv_import import write_template

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
    from survey_app.csv_import import read_rows, write_mend_file

    survey = opened(data)
    sheet = read_rows(existing(file))
    report = survey.answers().import_answers(sheet, progress=progress("Rows checked"))
    if report.imported.rejected:
        mend = mend or file.with_name(f"{file.stem}_mend{file.suffix.lower()}")
        write_mend_file(mend, report.imported.rejected, sheet=sheet)
    else:
        mend = None
    out_(
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
        import_words(report, mend),
    )
    finish(report.needs_eye)


def import_words(report: ImportReport, mend: Path | None) -> str:
    """What an import did, in words."""
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
    survey = opened(data)
    for pair in accept or []:
        answer, _, home = pair.partition("=")
        if not home:
            stop(f"'{pair}' does not say which home. Write --accept ANSWER=HOME.")
        survey.answers().accept(answer, home)
    for answer in reject or []:
        survey.answers().set_aside(answer)
    waiting = survey.answers().doubtful()
    out_(json_, {"doubtful": [_doubt(d) for d in waiting]}, _doubt_words(waiting))
    finish(bool(waiting))


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
    from survey_app.reports.standing_table import STANDING_COLUMNS, standing_rows
    from survey_app.standing import class_counts

    survey = opened(data)
    found = survey.standings()
    rows = standing_rows(found)
    if csv is not None:
        from survey_app.reports.as_file import write_rows

        write_rows(rows, csv, columns=STANDING_COLUMNS)
        tell(f"Written: {csv}")
    counts = class_counts(found)
    words = "\n".join(f"{n:6d}  {key}" for key, n in counts.items())
    out_(json_, {"as_of": str(survey.today), "counts": dict(counts), "homes": rows}, words)


@app.command(name="map", epilog="Example: heater-survey map neighborhood.html --audience public")
def map_(
    file: Annotated[Path, typer.Argument(help="Where to write the page.")],
    audience: Annotated[Audience, typer.Option(help="volunteer: every home; public: groups only.")] = Audience.PUBLIC,
    data: Data = None,
) -> None:
    """Write the map as one page that asks nothing of any network."""
    survey = opened(data)
    page = survey.figures().whole_map() if audience is Audience.VOLUNTEER else survey.figures().public_map()
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
    survey = opened(data)
    found = survey.foresight().forecast(as_of=as_of.date() if as_of else None)
    lines = [
        f"Within {h.years:g} year{'' if h.years == 1 else 's'}: about {h.everyone.mean:.0f} of {h.everyone.homes} "
        f"heaters (90% interval {h.everyone.low} to {h.everyone.high})"
        for h in found.horizons
    ]
    out_(json_, found.to_dict(), "\n".join([*lines, "", *found.sentences]))
    finish(found.refusal is not None)


@app.command(epilog="Example: heater-survey export survey.gpkg")
def export(
    file: Annotated[Path, typer.Argument(help="Ends in .gpkg, .geojson, .csv or .xlsx.")],
    data: Data = None,
) -> None:
    """Write every home with its standing, for a GIS or a spreadsheet."""
    from survey_app.reports.as_file import write_rows
    from survey_app.reports.standing_table import STANDING_COLUMNS, standing_rows

    survey = opened(data)
    found = survey.standings()
    outlines = survey.figures().outlines()
    write_rows(
        standing_rows(found), file, columns=STANDING_COLUMNS, outlines=[outlines[s.home.parcel_id] for s in found]
    )
    print(f"Written: {file} ({len(found)} homes). It holds addresses with their equipment: keep it to yourself.")
