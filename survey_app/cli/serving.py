"""Commands that serve the app, and the demo that runs the whole round."""

from __future__ import annotations

import json
import os
import shutil
import signal
import subprocess
import sys
import time
import urllib.request
import webbrowser
from datetime import datetime, timedelta
from pathlib import Path
from typing import Annotated

import typer

from survey_app.cli.base import Data, app, opened, progress, stop, tell
from survey_app.cli.records import import_words
from survey_app.cli.together import shares, write_days, write_purchase
from survey_app.store_place import PLACE_VARIABLE, data_place


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
    from survey_app.survey import Doors, open_store

    place = data or data_place(os.environ)
    now = datetime.now().replace(microsecond=0)
    again = progress("Answers are read again by this version of the tool. Homes", patience_s=1.0)
    store = open_store(place, now=now, progress=again)  # a folder that cannot be used is told here, not in a page
    code = Doors(store).set_up_code(now=now)
    store.close()
    raise typer.Exit(_serve(str(place), port, open_browser, address, first_code=code))


def _serve(
    place: str,
    port: int,
    open_browser: bool,
    address: str = "127.0.0.1",
    *,
    first_code: str | None = None,
    here_alone: bool = False,
) -> int:
    """Run the app until it is stopped; its settings are here so that a user's own configuration cannot loosen them.

    `first_code` lets whoever reads this terminal name the first volunteer. It is asked for on this machine, too: other
    people of the machine reach the same port. It is put into no address, which others could read in the list of
    programs or a browser's history. `here_alone` answers to this machine's own names only: the demo's doors stand open,
    and a page elsewhere whose name is made to mean this machine (DNS rebinding) must not walk in.
    """
    entry = Path(__file__).parents[1] / "ui" / "app.py"
    options = {
        "server.port": port,
        "server.address": address,
        "server.headless": True,  # else the first start on a machine stops to ask for an e-mail address
        "server.enableCORS": True,  # no page of another origin opens the websocket
        "server.enableXsrfProtection": True,
        "server.maxUploadSize": 10,
        "server.enableStaticServing": False,
        "server.fileWatcherType": "none",
        # A phone that sleeps or loses the network finds its form as it was; a sign-in still ends by a pause.
        "server.disconnectedSessionTTL": 1800,
        "browser.gatherUsageStats": False,
        "client.showErrorDetails": "none",
        "client.toolbarMode": "viewer",
        "runner.magicEnabled": False,
        "runner.postScriptGC": False,
        "theme.base": "light",
        "theme.primaryColor": "#1D4865",
        "theme.textColor": "#1F2A33",
        "theme.backgroundColor": "#FFFFFF",
        "theme.secondaryBackgroundColor": "#F1F3EE",
    }
    flags = [f"--{key}={str(value).lower() if isinstance(value, bool) else value}" for key, value in options.items()]
    # Whatever ends this command ends the app with it: one left behind would go on serving, unseen.
    signal.signal(signal.SIGTERM, signal.default_int_handler)
    server = subprocess.Popen(
        [sys.executable, "-m", "streamlit", "run", str(entry), *flags],
        env={**os.environ, **_KEPT_SHUT, **({"STREAMLIT_SERVER_ALLOWED_HOSTS": _HERE} if here_alone else {})}
        | {PLACE_VARIABLE: place},
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
    )
    try:
        url = f"http://localhost:{port}"
        if _answers(f"{url}/_stcore/health", server):
            tell(f"The survey is at {url} (stop it with Ctrl+C)")
            if first_code is not None:
                tell(f"Nobody can sign in yet. To name the first volunteer, at the volunteer's door: {first_code}")
                tell("The code is good once, for seven days; each start shows a new one.")
            if open_browser and not webbrowser.open(url):
                tell("No browser could be opened here: open that address by hand.")
        code = server.wait()
    except KeyboardInterrupt:
        server.terminate()
        # Not a moment after this command: whoever starts another one, or takes the folder away, finds nobody there.
        try:
            server.wait(timeout=10)
        except subprocess.TimeoutExpired:
            server.kill()
        return 0
    if code not in (0, -15):
        stop(f"The app did not start. Is port {port} taken by another program? Try --port {port + 1}.")
    return 0


# As variables, which a version that does not know one of them passes over, where an unknown option would stop it.
_KEPT_SHUT = {
    "STREAMLIT_SERVER_ENABLE_AGENT_API": "false",
    "STREAMLIT_SERVER_SCRIPT_HEALTH_CHECK_ENABLED": "false",
    "STREAMLIT_SERVER_TRUSTED_USER_HEADERS": "{}",
    "STREAMLIT_SERVER_MAX_WIDGET_STATE_SIZE": "2",  # megabytes in all fields of one screen; files go another way
    "STREAMLIT_CLIENT_ALLOWED_ORIGINS": "http://localhost",  # who may steer the app from a frame around it
}
_HERE = "localhost 127.0.0.1"


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
    import synthetic_community
    from geo.parcels import read_parcels, street_lines
    from survey_app.csv_import import read_rows, write_mend_file, write_template
    from survey_app.purchase.bid_sheet import read_bids
    from survey_app.reports.as_file import write_rows
    from survey_app.reports.policy_report import policy_rows, policy_sentences
    from survey_app.reports.standing_table import STANDING_COLUMNS, standing_rows
    from survey_app.service_days import FLUSH, Asked, CannotPlan

    place = out / "data"
    out.mkdir(parents=True, exist_ok=True)
    if place.exists():
        if not (place / _DEMO_MARK).exists():
            stop(f"{place} holds records that are not a demo's. Choose another folder with --out.")
        shutil.rmtree(place)
    place.mkdir(mode=0o700)
    (place / _DEMO_MARK).write_text("Synthetic records made by the demo; the next demo replaces them.\n")
    survey = opened(str(place))
    tell(f"1. Inventing a community of {homes} homes (synthetic, seed {seed})")
    files = synthetic_community.build(homes=homes, seed=seed, as_of=survey.today, out=out / "synthetic_files")
    about = json.loads(files.community.read_text(encoding="utf-8"))
    survey.set_up().name_community(f"{about['name']} (synthetic)", synthetic=True, open_doors=True)
    tell("2. Loading its parcels and streets")
    read = read_parcels(files.parcels)
    loaded = survey.set_up().load_parcels(read)
    survey.set_up().load_streets(street_lines(files.streets))
    tell(f"   {loaded.homes} homes on {loaded.parcels} parcels")
    tell("3. Importing its answers")
    sheet = read_rows(files.answers)
    report = survey.answers().import_answers(sheet, progress=progress("   rows checked"))
    if report.imported.rejected:
        write_mend_file(out / "mend.xlsx", report.imported.rejected, sheet=sheet)
    tell("   " + import_words(report, out / "mend.xlsx" if report.imported.rejected else None).splitlines()[1])
    tell("4. Working out where every home stands")
    found = survey.standings()
    outlines = survey.figures().outlines()
    rows = standing_rows(found)
    for name in ("standing.csv", "standing.xlsx", "survey.gpkg", "survey.geojson"):
        write_rows(rows, out / name, columns=STANDING_COLUMNS, outlines=[outlines[s.home.parcel_id] for s in found])
    (out / "map_for_the_volunteer.html").write_text(survey.figures().whole_map(), encoding="utf-8")
    (out / "map_to_publish.html").write_text(survey.figures().public_map(), encoding="utf-8")
    tell("5. Foreseeing what will be lost")
    foreseen = survey.foresight().forecast()
    (out / "forecast.json").write_text(json.dumps(foreseen.to_dict(), indent=1), encoding="utf-8")
    (out / "map_of_expected_losses.html").write_text(survey.foresight().losses_map(), encoding="utf-8")
    tell(f"   {foreseen.sentences[0]}" if foreseen.sentences else "")
    tell("6. Planning flush days for the homes that asked")
    monday = survey.today + timedelta(days=14 - survey.today.weekday())
    asked = Asked(job=FLUSH, dates=tuple(monday + timedelta(days=i) for i in range(5)), crews=2, iterations=400)
    rounds = survey.service_rounds()
    try:
        plan = rounds.plan(asked, progress=shares)
        write_days(rounds, plan, out / "service_days", survey.now)
        tell(f"   {len(plan.visits)} homes on {len(plan.days)} days; {len(plan.waiting)} wait")
    except CannotPlan as why:
        tell(f"   {' '.join(why.problems)}")
    tell("7. Comparing synthetic bids and forming rounds")
    bids = read_bids(files.bids, as_of=survey.today)
    write_purchase(survey.purchase_rounds(), bids, 2, out / "group_purchase", survey)
    tell("8. Playing ten years under each policy")
    study = survey.figures().policies()
    rows = policy_rows(study)
    write_rows(rows, out / "ten_years.csv", columns={k: k for k in rows[0]})
    tell(f"   {policy_sentences(study)[0]}")
    write_template(out / "answers_template.xlsx")
    for key, n in survey.figures().totals().items():
        print(f"{n:6d}  {key}")
    print(f"Everything is in {out}. All of it is synthetic.")
    if open_app:
        raise typer.Exit(_serve(str(place), port, open_browser=True, here_alone=True))


_DEMO_MARK = "SYNTHETIC_DEMO.txt"
