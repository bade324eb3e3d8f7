"""Commands on what neighbors do together: service days and the group purchase."""

from __future__ import annotations

import sys
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from survey_app.cli.base import AsJson, Data, app, finish, opened, out_, stop, tell
from survey_app.texts import ENGLISH

if TYPE_CHECKING:
    from survey_app.purchase.bid_sheet import BidSheet
    from survey_app.purchase.compare import Comparison
    from survey_app.purchase.plan import FormedRounds
    from survey_app.service_days import ServicePlan
    from survey_app.survey import Survey
    from survey_app.survey.purchase_rounds import PurchaseRounds
    from survey_app.survey.service_rounds import ServiceRounds


@app.command(epilog="Example: heater-survey days --job flush --dates 2027-03-01,2027-03-02 --crews 2 --out days")
def days(
    job: Annotated[str, typer.Option(help="What the crews come for, such as flush; any other word lists all jobs.")],
    dates: Annotated[str, typer.Option(help="Days offered, such as 2027-03-01,2027-03-02.")],
    crews: Annotated[int, typer.Option(help="Crews on each day.")] = 1,
    hours: Annotated[float, typer.Option(help="Hours of work from 8 in the morning.")] = 8.0,
    least: Annotated[int | None, typer.Option(help="Fewest homes for a crew to come (else the setting).")] = None,
    most: Annotated[int, typer.Option(help="Most homes a day; 0 for no limit.")] = 0,
    prices: Annotated[str, typer.Option(help="Price of one home: 130, or by homes a day 1:150,10:130,20:115.")] = "",
    contractor: Annotated[str, typer.Option(help="Who comes: name and phone, as the homes are to read it.")] = "",
    iterations: Annotated[int, typer.Option(help="Of the search; 0: by the number of homes.", min=0)] = 0,
    out: Annotated[Path | None, typer.Option(help="Folder for day sheets, notices, map, lists, calendar.")] = None,
    data: Data = None,
    json_: AsJson = False,
) -> None:
    """Plan service days: which homes on which day, in an order a crew can drive."""
    from survey_app.service_days import Asked, job_named

    come_for = job_named(job)
    survey = opened(data)
    steps, one_price = _prices(prices)
    asked = Asked(
        job=come_for,
        dates=_dates(dates),
        crews=crews,
        end_s=_START_OF_WORK_S + round(hours * 3600),
        min_homes=survey.settings().crew_minimum_homes if least is None else least,
        max_homes=most,
        price_steps=steps,
        price_usd=one_price,
        contractor=contractor,
        iterations=iterations,
    )
    rounds = survey.service_rounds()
    plan = rounds.plan(asked, progress=shares)
    if out is not None:
        write_days(rounds, plan, out, survey.now)
    lines = [f"{day}: {len(plan.on(day))} homes" for day in plan.days]
    lines += [f"{len(plan.waiting)} homes wait.", *plan.sentences]
    lines += [
        f"{t.on}: too few; {t.missing} more on {' and '.join(t.streets)} would fill the day." for t in plan.too_few
    ]
    out_(json_, {"plan_id": plan.plan_id, "asked": asked.to_dict(), **plan.to_dict()}, "\n".join(lines))
    finish(bool(plan.waiting or plan.too_few))


_START_OF_WORK_S = 8 * 3600


def shares(share: float, words: str) -> None:
    """A progress line, only where a person is looking."""
    if sys.stderr.isatty():
        print(f"\r{share:4.0%} {words:40}", end="\n" if share >= 1 else "", file=sys.stderr, flush=True)


def write_days(rounds: ServiceRounds, plan: ServicePlan, out: Path, now: datetime) -> None:
    """Every paper of a plan of service days, into a folder."""
    from survey_app.reports.as_file import write_rows
    from survey_app.reports.service_papers import day_rows, day_sheets_pdf, notices_pdf, visit_calendar

    papers = rounds.papers(plan)
    out.mkdir(parents=True, exist_ok=True)
    rows = day_rows(papers, ENGLISH)
    write_rows(rows, out / "visits.csv", columns={k: k for k in rows[0]} if rows else {"day": "day"})
    (out / "day_sheets.pdf").write_bytes(day_sheets_pdf(papers, ENGLISH))
    (out / "door_notices.pdf").write_bytes(notices_pdf(papers, ENGLISH))
    (out / "map_of_days.html").write_text(rounds.map_of_days(plan), encoding="utf-8")
    every = [v.home_id for v in plan.visits]
    (out / "visits.ics").write_bytes(visit_calendar(papers, every, ENGLISH, now=now))
    tell(f"Written to {out}. The files name homes: keep them to yourself and the crews.")


def _prices(text: str) -> tuple[tuple[tuple[int, float], ...], float | None]:
    from survey_app.service_days import read_prices

    try:
        return read_prices(text)
    except ValueError as error:
        stop(str(error))


def _dates(text: str) -> tuple[date, ...]:
    found = []
    for part in filter(None, (p.strip() for p in text.split(","))):
        try:
            found.append(date.fromisoformat(part))
        except ValueError:
            stop(f"'{part}' in --dates is not a date. Write days such as 2027-03-01,2027-03-02.")
    return tuple(found)


@app.command(epilog="Example: heater-survey purchase --bids bids.xlsx --rounds 2 --out purchase")
def purchase(
    bids: Annotated[Path, typer.Option(help="Sheet of bids, .csv or .xlsx; a template is written where none is.")],
    rounds: Annotated[int, typer.Option(help="How many rounds, a quarter of a year apart.", min=1, max=8)] = 2,
    weeks: Annotated[int, typer.Option(help="Weeks of each round.", min=1, max=12)] = 4,
    needed: Annotated[int, typer.Option(help="Firm yes at which a round goes ahead.", min=1)] = 10,
    out: Annotated[Path | None, typer.Option(help="Folder for the request, the comparison, the rounds.")] = None,
    data: Data = None,
    json_: AsJson = False,
) -> None:
    """Compare bids on the same complete job and form the rounds that cost the households least."""
    from survey_app.prices import PriceList, list_rows, price_line
    from survey_app.purchase.bid_sheet import read_bids, write_mend
    from survey_app.purchase.bid_sheet import template as bid_template
    from survey_app.reports.bid_papers import comparison_rows

    survey = opened(data)
    if not bids.exists():
        bid_template(bids)
        stop(f"There was no {bids}: a sheet to fill in was written there. Enter the bids and run it again.")
    bought = survey.purchase_rounds()
    # Rows of a corrected mend file add to the bids on file.
    sheet = read_bids(bids, as_of=survey.today, known=bought.bids())
    for problem in sheet.problems:
        tell(problem.sentence)
    mend = None
    if sheet.rejected:
        mend = write_mend(bids.with_name(f"{bids.stem}_to_mend.xlsx"), sheet)
        tell(f"{len(sheet.rejected)} rows need mending: {mend}")
    made = write_purchase(bought, sheet, rounds, out, survey, weeks=weeks, needed=needed)
    found, prices = _each_kind(bought), PriceList(survey.settings())
    content = {
        "as_of": survey.today,
        "interested": made.rounds.interested,
        "bids": [{"heaters": kinds, **row} for kinds, one in found for row in comparison_rows(one)],
        "set_aside": [s for _, one in found for s in one.set_aside],
        "cautions": [s for _, one in found for s in one.cautions],
        "rejected_rows": len(sheet.rejected),
        "mend_file": str(mend) if mend else None,
        "crossings": [
            {"heaters": kinds, "from_homes": c.from_homes, "order": list(c.order)}
            for kinds, one in found
            for c in one.crossings
        ],
        "sentences": [*(s for _, one in found for s in one.sentences), *made.rounds.sentences],
        "edges": [e.sentence for e in made.rounds.edges],
        "orders": [
            {
                "round": o.round_name,
                "contractor": o.contractor,
                "homes": len(o.homes),
                "home_usd": o.shared_usd,
                "crew_days": len(o.days),
            }
            for o in made.rounds.orders
        ],
        "alone": len(made.rounds.alone),
        "prices_alone": list_rows(prices),
        "other_kinds": made.other_kinds,
        "waiting_for_bids": {str(kind): n for kind, n in bought.waiting_kinds().items()},
        "total_usd": made.rounds.total_usd,
        "saving_usd": made.rounds.saving_usd,
        "saving_over_single_bid_usd": made.rounds.saving_over_single_bid_usd,
        "gap": made.rounds.gap,
    }
    words = [*sheet.notes]
    for kinds, one in found:
        words += [f"Bids for {kinds}:", *one.sentences, *one.cautions]
    words += [f"Alone: {price_line(price)}".replace("**", "") for price in prices.of_kinds()]
    words += made.rounds.sentences
    out_(json_, content, "\n".join(words))
    finish(bool(sheet.rejected or sheet.problems or any(one.set_aside for _, one in found) or not made.rounds.orders))


def _each_kind(bought: PurchaseRounds) -> list[tuple[str, Comparison]]:
    """The bids compared, for each kind of heater by itself."""
    from survey_app.purchase.bids import TANK_KINDS
    from survey_app.reports.bid_papers import kinds_words

    return [(kinds_words(kinds), bought.compare(kinds=kinds)) for kinds in bought.kinds() or [TANK_KINDS]]


def write_purchase(
    bought: PurchaseRounds,
    sheet: BidSheet,
    count: int,
    out: Path | None,
    survey: Survey,
    *,
    weeks: int = 4,
    needed: int = 10,
) -> FormedRounds:
    """Keep the bids, form rounds a quarter apart, and write what came of it into a folder."""
    from survey_app.purchase.bid_sheet import template as bid_template
    from survey_app.purchase.households import PurchaseRound
    from survey_app.purchase.plan import AskedRounds
    from survey_app.reports.as_file import write_rows
    from survey_app.reports.bid_papers import buyer_rows, comparison_rows, request_pdf

    bought.put_bids(sheet.bids)
    first = survey.today + timedelta(days=60)
    times = tuple(
        PurchaseRound(name=f"Round {i + 1}", begins=first + timedelta(weeks=13 * i), weeks=weeks) for i in range(count)
    )
    made = bought.form(AskedRounds(rounds=times, needed=needed))
    if out is None:
        return made
    out.mkdir(parents=True, exist_ok=True)
    request = bought.request(bids_until=survey.today + timedelta(days=28))
    (out / "bid_request.pdf").write_bytes(request_pdf(request, survey.state().community, ENGLISH))
    bid_template(out / "bids_template.xlsx")
    buyers = buyer_rows(bought.buyers())
    compared = [{"heaters": kinds, **row} for kinds, one in _each_kind(bought) for row in comparison_rows(one)]
    for name, rows in (("bids_side_by_side", compared), ("rounds", buyers)):
        columns = {k: k for k in rows[0]} if rows else {"nothing": "There is nothing to list yet."}
        write_rows(rows, out / f"{name}.csv", columns=columns)
    (out / "rounds.txt").write_text("\n".join(made.rounds.sentences) + "\n", encoding="utf-8")
    tell(f"Written to {out}. The list of rounds names homes: keep it to yourself.")
    return made
