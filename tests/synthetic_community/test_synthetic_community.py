"""The invented community is what it says: exact, tidy on the ground, lawful in its truth, messy in its sheet."""

from __future__ import annotations

import ast
import csv
import hashlib
import itertools
import json
import math
import subprocess
import sys
from collections import Counter, defaultdict
from datetime import date
from pathlib import Path
from typing import Any

import numpy as np
import pyproj
import pytest
import shapely
from hypothesis import example, given, settings
from hypothesis import strategies as st
from shapely.geometry import shape

import synthetic_community
from synthetic_community import Paths, build
from synthetic_community.heaters import Law, live
from synthetic_community.names import Address, StreetName
from synthetic_community.streets import lay_out
from synthetic_community.typing_habits import Gazetteer, type_address

AS_OF = date(2026, 11, 25)
SQUARE_FEET = 10.7639
TEMPLATE = (
    "address kind tank_gallons installed installed_evidence date_code warranty_years warranty_end place pan "
    "leak_alarm auto_shutoff softener expansion_tank last_flush last_anode anode_work relief_valve_test symptoms "
    "heater_number previous_gone previous_end moved_in flush_day anode_day group_purchase weekdays consent contact "
    "answered_on remarks"
)


def table(path: Path) -> list[dict[str, str]]:
    """The rows of a CSV file."""
    with path.open(encoding="utf-8", newline="") as handle:
        return list(csv.DictReader(handle))


def features(path: Path) -> list[dict[str, Any]]:
    """The features of a GeoJSON file."""
    found: list[dict[str, Any]] = json.loads(path.read_text(encoding="utf-8"))["features"]
    return found


TO_METERS = pyproj.Transformer.from_crs(4326, 32616, always_xy=True)


def in_meters(feature: dict[str, Any]) -> Any:
    """A feature's geometry, projected."""
    return shapely.transform(shape(feature["geometry"]), TO_METERS.transform, interleaved=False)


def years(first: str, second: str) -> float:
    """Years between two ISO dates."""
    return (date.fromisoformat(second) - date.fromisoformat(first)).days / 365.25


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Paths:
    """The default community: 1,200 homes, seed 7."""
    return build(1200, 7, AS_OF, tmp_path_factory.mktemp("sedgewether"))


@pytest.fixture(scope="module")
def large(tmp_path_factory: pytest.TempPathFactory) -> Paths:
    """A community large enough for shares and laws to show."""
    return build(6000, 11, AS_OF, tmp_path_factory.mktemp("large"))


@pytest.fixture(scope="module")
def ground(made: Paths) -> list[tuple[dict[str, Any], Any]]:
    """Parcels with their outlines in meters."""
    return [(f["properties"], in_meters(f)) for f in features(made.parcels)]


# --- Independence, repetition, number of homes


def test_package_imports_neither_survey_app_nor_geo() -> None:
    """Independence: code shared with the program under test would let one mistake cancel itself."""
    allowed = {"synthetic_community", "numpy", "shapely", "pyproj", *sys.stdlib_module_names}
    for file in Path(synthetic_community.__file__).parent.glob("*.py"):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            names = (
                [a.name for a in node.names]
                if isinstance(node, ast.Import)
                else [node.module or "", "synthetic_community"][:1]
                if isinstance(node, ast.ImportFrom)
                else []
            )
            for name in names:
                assert name.split(".")[0] in allowed, f"{file.name} imports {name}"


def test_files_are_byte_identical_for_the_same_seed_in_a_fresh_process(made: Paths, tmp_path: Path) -> None:
    """Determinism, also across processes and hash seeds."""
    subprocess.run(
        [
            *(sys.executable, "-m", "synthetic_community", "--homes", "1200", "--seed", "7"),
            *("--as-of", "2026-11-25", "--out", str(tmp_path)),
        ],
        check=True,
        capture_output=True,
        cwd=Path(synthetic_community.__file__).parent.parent,
        env={"PYTHONHASHSEED": "321", "PATH": "/usr/bin"},
    )
    files = sorted(p.relative_to(made.folder) for p in made.folder.rglob("*") if p.is_file())
    assert len(files) == 11
    for name in files:
        first, second = (hashlib.sha256((d / name).read_bytes()).hexdigest() for d in (made.folder, tmp_path))
        assert first == second, name


def test_another_seed_makes_another_community(made: Paths, tmp_path: Path) -> None:
    """The seed is used everywhere: layout, lives and sheet all change."""
    other = build(1200, 8, AS_OF, tmp_path)
    for one, two in ((made.parcels, other.parcels), (made.heaters, other.heaters), (made.answers, other.answers)):
        assert one.read_bytes() != two.read_bytes()


@pytest.mark.parametrize(("homes", "seed"), [(10, 0), (37, 1), (64, 2), (301, 3), (999, 4), (2503, 5)])
def test_number_of_homes_is_met_exactly(homes: int, seed: int) -> None:
    """Both homes of a duplex count; parcels are fewer."""
    layout = lay_out(homes, seed)
    assert sum(lot.homes for lot in layout.lots) == homes
    assert len(layout.lots) < homes
    assert len({lot.parcel_no for lot in (*layout.lots, *layout.commons)}) == len(layout.lots) + len(layout.commons)


@settings(max_examples=15, deadline=None)
@given(homes=st.integers(10, 260), seed=st.integers(0, 10_000))
@example(homes=155, seed=2207)
def test_any_layout_is_exact_valid_and_without_overlaps(homes: int, seed: int) -> None:
    """Whatever the size and seed: exact count, valid outlines, no two overlapping, unique addresses."""
    layout = lay_out(homes, seed)
    assert sum(lot.homes for lot in layout.lots) == homes
    outlines = [lot.outline for lot in layout.lots] + [c.outline for c in layout.commons]
    assert all(o.is_valid and o.area > 100 for o in outlines)
    assert sum(o.area for o in outlines) - shapely.union_all(outlines).area < 0.5
    assert len({lot.address.base for lot in layout.lots}) == len(layout.lots)
    assert {c.what for c in layout.commons} >= {"pond", "park", "clubhouse"}


def test_bad_requests_are_refused_in_one_sentence(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Too few homes, a negative seed, too early a date: what is wrong and what to do."""
    from synthetic_community.__main__ import main

    for arguments, words in (
        (["--homes", "3"], "ask for 10 or more"),
        (["--seed", "-1"], "use 0 or a positive"),
        (["--as-of", "2009-01-01"], "or later"),
    ):
        assert main([*arguments, "--out", str(tmp_path / "x")]) == 2
        assert words in capsys.readouterr().err


# --- The ground


def test_geojson_follows_rfc_7946(made: Paths) -> None:
    """No crs member (section 4), closed rings, exterior counterclockwise, holes clockwise (3.1.6), degrees."""
    for path in (made.parcels, made.streets):
        whole = json.loads(path.read_text(encoding="utf-8"))
        assert whole["type"] == "FeatureCollection"
        assert "crs" not in whole
        for feature in whole["features"]:
            assert set(feature) == {"type", "properties", "geometry"}
            assert feature["properties"]["NOTE"] == "SYNTHETIC"
    holes = 0
    for feature in features(made.parcels):
        rings = feature["geometry"]["coordinates"]
        holes += len(rings) - 1
        for k, ring in enumerate(rings):
            assert ring[0] == ring[-1]
            assert len(ring) >= 4
            assert shapely.LinearRing(ring).is_ccw == (k == 0)
            assert all(-180 <= x <= 180 and -90 <= y <= 90 for x, y in ring)
    assert holes >= 1, "the park goes round the pond"


def test_parcels_do_not_overlap(ground: list[tuple[dict[str, Any], Any]]) -> None:
    """As written, rounded to 1e-7 degree: any two parcels share at most rounding (0.3 square meters)."""
    outlines = [o for _, o in ground]
    assert all(o.is_valid for o in outlines)
    tree = shapely.STRtree(outlines)
    for i, j in tree.query(outlines, predicate="intersects").T:
        if i < j:
            assert outlines[i].intersection(outlines[j]).area < 0.3, (ground[i][0], ground[j][0])


def test_parcels_have_believable_sizes_and_shapes(ground: list[tuple[dict[str, Any], Any]]) -> None:
    """Lots of a few thousand to some ten thousand square feet; curved streets give more than five vertices."""
    homes = [(p, o) for p, o in ground if p["LAND_USE"] != "common area"]
    area = np.array([o.area for _, o in homes]) * SQUARE_FEET
    assert area.min() > 3_000
    assert area.max() < 16_500
    assert 6_000 < np.median(area) < 9_000
    assert np.mean((area > 4_500) & (area < 12_500)) > 0.93
    corners = np.array([len(o.exterior.coords) for _, o in homes])
    assert np.mean(corners > 6) > 0.2


def test_parcels_front_on_the_street_of_their_address(made: Paths, ground: list[tuple[dict[str, Any], Any]]) -> None:
    """Every lot with a home lies within 16 m of a centerline that carries its street's name, and none lies on one."""
    lines: dict[str, list[Any]] = defaultdict(list)
    for f in features(made.streets):
        lines[f["properties"]["NAME"]].append(in_meters(f))
    merged = {name: shapely.union_all(parts) for name, parts in lines.items()}
    everything = shapely.union_all(list(merged.values()))
    shapely.prepare(everything)
    for properties, outline in ground:
        assert everything.distance(outline) > 5.0
        if properties["LAND_USE"] != "common area":
            street = properties["SITUS_ADDRESS"].partition(" ")[2]
            assert merged[street].distance(outline) < 16.0, properties


def test_streets_meet_end_to_end_in_one_network(made: Paths) -> None:
    """Segments join at exactly equal coordinates, and every street can be reached from every other."""
    parent: dict[tuple[float, float], tuple[float, float]] = {}

    def root(p: tuple[float, float]) -> tuple[float, float]:
        while parent.setdefault(p, p) != p:
            p = parent[p]
        return p

    rows = features(made.streets)
    for f in rows:
        ends = f["geometry"]["coordinates"]
        parent[root(tuple(ends[0]))] = root(tuple(ends[-1]))
    assert len({root(tuple(f["geometry"]["coordinates"][0])) for f in rows}) == 1
    assert {f["properties"]["CLASS"] for f in rows} == {"arterial", "collector", "local", "court"}
    degree = Counter(tuple(f["geometry"]["coordinates"][k]) for f in rows for k in (0, -1))
    courts = {f["properties"]["NAME"] for f in rows if f["properties"]["CLASS"] == "court"}
    assert sum(n == 1 for n in degree.values()) >= len(courts)
    assert sum(n >= 3 for n in degree.values()) > 30


def test_house_numbers_rise_with_odd_and_even_on_opposite_sides() -> None:
    """Along every straight enough street: each side rises with distance, one parity a side."""
    layout = lay_out(1200, 7)
    by_street: dict[str, list[Any]] = defaultdict(list)
    for lot in layout.lots:
        by_street[lot.address.street.text].append(lot)
    lines: dict[str, list[Any]] = defaultdict(list)
    for segment in layout.segments:
        lines[segment.name.text].append(segment.line)
    checked = 0
    for name, lots in by_street.items():
        merged = shapely.line_merge(shapely.MultiLineString([part.tolist() for part in lines[name]]))
        if merged.geom_type != "LineString" or merged.is_ring:
            continue
        for parity in (0, 1):
            side = [x for x in lots if x.address.number % 2 == parity]
            side.sort(key=lambda x: x.address.number)
            # The bulb of a court bends round its end, where projection on the centerline says nothing.
            along = [merged.project(x.outline.centroid) for x in side]
            inner = [a for a in along if 5 < a < merged.length - 40]
            rising = all(b > a - 6 for a, b in itertools.pairwise(inner))
            falling = all(b < a + 6 for a, b in itertools.pairwise(inner))
            assert rising or falling, (name, inner)
            signs = set()
            for x, a in zip(side, along, strict=True):
                if 5 < a < merged.length - 40:
                    here, ahead = (np.array(merged.interpolate(a + d).coords[0]) for d in (0.0, 1.0))
                    toward = np.array(x.outline.centroid.coords[0]) - here
                    step = ahead - here
                    signs.add(bool(step[0] * toward[1] - step[1] * toward[0] > 0))
            assert len(signs) <= 1, name
            checked += len(inner)
    assert checked > 400


def test_parcel_columns_and_common_ground(made: Paths) -> None:
    """Columns as the county's; common ground has no house number; duplexes are one row with two units."""
    rows = [f["properties"] for f in features(made.parcels)]
    assert {tuple(r) for r in rows} == {
        ("PARCEL_NO", "SITUS_ADDRESS", "UNITS", "YEAR_BUILT", "PHASE", "LAND_USE", "NOTE")
    }
    uses = Counter(r["LAND_USE"] for r in rows)
    assert set(uses) == {"single family", "duplex", "common area"}
    for r in rows:
        if r["LAND_USE"] == "common area":
            assert not r["SITUS_ADDRESS"][:1].isdigit() or not r["SITUS_ADDRESS"].split()[0].isdigit()
            assert r["YEAR_BUILT"] is None
        else:
            assert r["SITUS_ADDRESS"].split()[0].isdigit()
        assert (r["UNITS"] == "A;B") == (r["LAND_USE"] == "duplex")
    assert uses["single family"] + 2 * uses["duplex"] == 1200
    about = json.loads(made.community.read_text(encoding="utf-8"))
    assert about["synthetic"] is True
    assert {a["what"] for a in about["amenities"]} == {"pond", "park", "clubhouse"}


def test_phases_are_contiguous_and_built_in_their_years(made: Paths, ground: list[tuple[dict[str, Any], Any]]) -> None:
    """Four to six phases; each is one patch when its lots and greens are widened across the streets between."""
    phases = json.loads(made.community.read_text(encoding="utf-8"))["phases"]
    assert 4 <= len(phases) <= 6
    assert phases[0]["first_year"] >= 2003
    assert phases[-1]["last_year"] <= 2011
    for phase in phases:
        mine = [(p, o) for p, o in ground if p["PHASE"] == phase["phase"]]
        patch = shapely.union_all([o for _, o in mine]).buffer(20)
        assert len(shapely.get_parts(patch)) == 1, phase
        for p, _ in mine:
            if p["YEAR_BUILT"] is not None:
                assert phase["first_year"] <= p["YEAR_BUILT"] <= phase["last_year"]


@pytest.mark.slow
def test_street_names_confuse_on_purpose() -> None:
    """Shared stems, near twins, directions before and after, ordinals, several words, many suffixes."""
    lots = lay_out(6000, 11).lots
    names = {lot.address.street for lot in lots}
    stems = Counter(n.stem for n in names)
    assert sum(c > 1 for c in stems.values()) > 20
    assert {n.before for n in names} >= {"N", "S", "E", "W", ""}
    after = {n.after for n in names}
    assert after >= {"E", "W", ""}
    assert after & {"NE", "NW"}
    assert after & {"SE", "SW"}
    assert len({n.suffix for n in names}) >= 15
    assert sum(" " in n.stem for n in names) > 20
    assert sum(n.stem[0].isdigit() for n in names) >= 4
    numbers: dict[tuple[int, str], set[str]] = defaultdict(set)
    for lot in lots:
        numbers[lot.address.number, lot.address.street.stem].add(lot.address.street.text)
    assert sum(len(streets) > 1 for streets in numbers.values()) > 100, "same number, same stem, another street"


# --- The truth


def test_histories_are_contiguous_from_completion_to_today(made: Paths) -> None:
    """Sequence 1, 2, ...; a gap of at most two weeks; only the last is in service; causes fit what followed."""
    homes = {h["home_id"]: h for h in table(made.homes)}
    rows: dict[str, list[dict[str, str]]] = defaultdict(list)
    for r in table(made.heaters):
        rows[r["home_id"]].append(r)
    assert set(rows) == set(homes)
    assert len(homes) == 1200
    for home, chain in rows.items():
        assert [int(r["sequence"]) for r in chain] == list(range(1, len(chain) + 1))
        start = years(chain[0]["installed"], homes[home]["completed_on"])
        assert 0 <= start < 0.2
        assert homes[home]["completed_on"] <= homes[home]["moved_in"] <= AS_OF.isoformat()
        for now, later in itertools.pairwise(chain):
            assert 0 <= years(now["removed"], later["installed"]) * 365.25 <= 15
            assert now["end_cause"] in {"failed", "replaced before failing", "converted"}
            assert now["fails_on"] == ""
            if now["end_cause"] == "converted":
                assert now["kind"] != "tankless"
                assert later["kind"] == "tankless"
        last = chain[-1]
        assert last["removed"] == last["end_cause"] == ""
        assert last["installed"] <= AS_OF.isoformat()
        assert last["fails_on"] > AS_OF.isoformat() or last["replaced_unless_failed_on"] > AS_OF.isoformat()
        assert min(last["fails_on"], last["replaced_unless_failed_on"]) > AS_OF.isoformat()


def test_acts_of_care_fall_within_the_life_of_their_heater(made: Paths) -> None:
    """No act before installation, after removal or in the future; anodes only in tanks; most heaters have none."""
    heaters = {r["heater_id"]: r for r in table(made.heaters)}
    acts = table(made.service)
    for act in acts:
        heater = heaters[act["heater_id"]]
        assert heater["installed"] < act["done_on"] <= (heater["removed"] or AS_OF.isoformat())
        assert heater["kind"] != "tankless" or not act["act"].startswith("anode")
    flushed = {a["heater_id"] for a in acts if a["act"] == "flush"}
    renewed = {a["heater_id"]: a["done_on"] for a in reversed(acts) if a["act"] == "anode change"}
    assert 0.1 < len(flushed) / len(heaters) < 0.45
    assert 0.02 < len(renewed) / len(heaters) < 0.25
    for heater_id, first in renewed.items():
        assert heaters[heater_id]["anode_renewed"] == first


def expected_hazard(row: dict[str, str], end: str, law: dict[str, Any]) -> float:
    """Cumulative hazard of failing from installation to `end`, from the law as stated and nothing else."""
    age = years(row["installed"], end)
    marks = sorted(
        (years(row["installed"], row[column]), gain)
        for column, gain in (
            ("anode_renewed", law["anode"]),
            ("flush_from", law["flush_per_level"] * int(row["flush_level"])),
        )
        if row[column] and row[column] < end
    )
    # The age an uncared-for heater would have to have lived to be as near its end.
    for at, gain in reversed(marks):
        if age > at:
            age = at + (age - at) * math.exp(-gain)
    scale = law["eta_years"] * math.exp(float(row["log_life_shift"]))
    return float((age / scale) ** law["beta"])


@pytest.mark.slow
def test_failures_follow_the_stated_law(large: Paths) -> None:
    """Observed minus expected failures is within 3.5 standard errors, in all and by age (martingale residuals).

    Under the law, failures minus the summed cumulative hazard has mean 0 and variance the summed hazard
    (counting-process theory; censoring by replacement and by the day of looking does not matter).
    """
    law = json.loads(large.law.read_text(encoding="utf-8"))
    rows = table(large.heaters)
    total = failures = 0.0
    cuts = [0.0, 5.0, 8.0, 11.0, 14.0, 60.0]
    by_age = np.zeros((len(cuts) - 1, 2))
    for row in rows:
        end = row["removed"] or AS_OF.isoformat()
        age = years(row["installed"], end)
        hazard = expected_hazard(row, end, law)
        total += hazard
        failed = row["end_cause"] == "failed"
        failures += failed
        for k, (low, high) in enumerate(itertools.pairwise(cuts)):
            if age > low:
                stop = date.fromordinal(date.fromisoformat(row["installed"]).toordinal() + round(high * 365.25))
                before = date.fromordinal(date.fromisoformat(row["installed"]).toordinal() + round(low * 365.25))
                upper = expected_hazard(row, min(end, stop.isoformat()), law)
                by_age[k] += (failed and age <= high, upper - expected_hazard(row, before.isoformat(), law))
    assert failures > 3000
    assert abs(failures - total) / math.sqrt(total) < 3.5
    for observed, expected in by_age:
        assert abs(observed - expected) / math.sqrt(expected) < 3.5, by_age


@pytest.mark.slow
def test_wrong_law_is_noticed_by_the_same_check(large: Paths) -> None:
    """The check above can fail: with eta 5% longer, failures are far from what would be expected."""
    law = json.loads(large.law.read_text(encoding="utf-8"))
    law["eta_years"] *= 1.05
    rows = table(large.heaters)
    total = sum(expected_hazard(row, row["removed"] or AS_OF.isoformat(), law) for row in rows)
    failures = sum(row["end_cause"] == "failed" for row in rows)
    assert abs(failures - total) / math.sqrt(total) > 5


@pytest.mark.slow
def test_future_failures_of_heaters_in_service_follow_the_conditional_law(large: Paths) -> None:
    """Share of heaters that fail within three years against the law's probability given their age.

    Care still to come shifts it by less than the tolerance of 3.5 binomial standard errors.
    """
    law = json.loads(large.law.read_text(encoding="utf-8"))
    later = date(AS_OF.year + 3, AS_OF.month, AS_OF.day).isoformat()
    chance, failed = [], 0
    for row in table(large.heaters):
        if row["removed"]:
            continue
        step = expected_hazard(row, later, law) - expected_hazard(row, AS_OF.isoformat(), law)
        chance.append(1 - math.exp(-step))
        failed += row["fails_on"] <= later
    p = np.array(chance)
    assert abs(failed - p.sum()) / math.sqrt((p * (1 - p)).sum()) < 3.5


def test_a_later_day_shows_the_same_lives_further_on() -> None:
    """Looking two years later at the same seed: earlier ends stay, and predicted failures have come true."""
    layout = lay_out(600, 5)
    early, late = live(layout, 5, date(2024, 11, 25)), live(layout, 5, AS_OF)
    ends = {
        (int(h), int(s)): (int(r), str(c))
        for h, s, r, c in zip(
            late.heaters.home, late.heaters.sequence, late.heaters.removed, late.heaters.cause, strict=True
        )
    }
    came_true = 0
    t = early.heaters
    for k in range(len(t.home)):
        removed, cause = ends[int(t.home[k]), int(t.sequence[k])]
        if t.removed[k] >= 0:
            assert (removed, cause) == (t.removed[k], t.cause[k])
        elif removed >= 0:
            # A heater put in within days of the first look may be dated up to two weeks apart.
            assert abs(removed - min(int(t.fails[k]), int(t.quits[k]))) <= 15
            came_true += 1
    assert came_true > 40


@pytest.mark.slow
def test_many_heaters_are_past_warranty_and_past_twice(large: Paths) -> None:
    """The stock is old enough for the survey's question: a fifth or more past warranty, some past twice."""
    ages = [
        years(r["installed"], AS_OF.isoformat()) / int(r["warranty_years"])
        for r in table(large.heaters)
        if not r["removed"]
    ]
    assert np.mean(np.array(ages) >= 1) > 0.2
    assert np.mean(np.array(ages) >= 2) > 0.05


# --- The sheet


@pytest.mark.slow
def test_response_is_about_half_and_depends_on_leaks_and_tenancy(large: Paths) -> None:
    """Share 0.45 to 0.50; odds ratio after a failure within 3 standard errors of 1.35; rentals answer less."""
    law = json.loads(large.law.read_text(encoding="utf-8"))
    homes = table(large.homes)
    answered = np.array([h["answered"] == "yes" for h in homes])
    assert 0.45 <= answered.mean() <= 0.51
    owners = np.array([h["rental"] == "no" for h in homes])
    leaked = np.array([h["failed_in_last_5_years"] == "yes" for h in homes])
    cells = [float(np.sum(owners & (leaked == a) & (answered == b))) for a in (True, False) for b in (True, False)]
    log_odds = math.log(cells[0] * cells[3] / (cells[1] * cells[2]))
    error = math.sqrt(sum(1 / c for c in cells))
    assert abs(log_odds - math.log(law["response_odds_leak_5y"])) < 3 * error
    assert answered[~owners].mean() < answered[owners].mean() - 0.1


def test_answer_columns_are_the_template_in_order(made: Paths) -> None:
    """Exactly the columns of the import template."""
    with made.answers.open(encoding="utf-8", newline="") as handle:
        assert next(csv.reader(handle)) == TEMPLATE.split()


def test_join_truth_has_one_row_per_answer_and_points_at_real_homes(made: Paths) -> None:
    """Rows count from 1 in order; parcels and units exist; rows of no home are blank."""
    answers, joins = table(made.answers), table(made.answers_join)
    assert [int(j["row"]) for j in joins] == list(range(1, len(answers) + 1))
    homes = {h["home_id"]: (h["parcel_no"], h["unit"]) for h in table(made.homes)}
    for j in joins:
        if j["home_id"]:
            assert homes[j["home_id"]] == (j["parcel_no"], j["unit"])
            assert j["heater_id"].startswith(j["home_id"])
        else:
            assert j["parcel_no"] == j["unit"] == ""


@pytest.mark.slow
def test_every_kind_of_mess_is_there_at_a_believable_rate(large: Paths) -> None:
    """Shares per row of what goes wrong in addresses, dates and choices (wide bands: it is a random sheet)."""
    joins = table(large.answers_join)
    mess = Counter(tag for j in joins for tag in set(j["mess"].split(";")))
    n = len(joins)
    for tag, low, high in (
        ("address:typo", 0.07, 0.16),
        ("address:suffix_dropped", 0.08, 0.16),
        ("address:suffix_odd", 0.05, 0.12),
        ("address:suffix_spelled", 0.08, 0.2),
        ("address:direction_dropped", 0.005, 0.06),
        ("address:direction_moved", 0.005, 0.06),
        ("address:direction_spelled", 0.005, 0.08),
        ("address:number_wrong", 0.01, 0.03),
        ("address:unit_form", 0.01, 0.12),
        ("address:tail", 0.15, 0.25),
        ("address:upper", 0.08, 0.16),
        ("address:lower", 0.13, 0.23),
        ("address:spaces", 0.05, 0.13),
        ("installed:about", 0.01, 0.2),
        ("installed:range", 0.005, 0.2),
        ("installed:ago", 0.005, 0.2),
        ("installed:question_mark", 0.005, 0.2),
        ("installed:future", 0.001, 0.02),
        ("installed:before_house", 0.001, 0.02),
        ("kind:free_choice", 0.02, 0.12),
        ("warranty_years:unreadable", 0.002, 0.05),
        ("remarks:hostile", 0.002, 0.03),
        ("duplicate", 0.001, 0.03),
        ("duplicate_same", 0.001, 0.03),
        ("duplicate_contradicting", 0.001, 0.03),
        ("replaced_after_answering", 0.002, 0.05),
    ):
        assert low < mess[tag] / n < high, (tag, mess[tag] / n)
    for code in ("code_mmyy", "code_yymm", "code_yyww", "code_letter", "code_worn"):
        assert mess[f"date_code:{code}"] > 5
    assert any(tag.endswith("day_month_swapped") for tag in mess)
    nowhere = sum("nowhere" in j["mess"] for j in joins) / n
    assert 0.015 < nowhere < 0.04
    text = large.answers.read_text(encoding="utf-8")
    for hostile in ("=1+1", "<script>alert(1)</script>", "\u00a0", "ñ"):
        assert hostile in text


@pytest.mark.slow
def test_no_address_reads_exactly_as_another_home(large: Paths) -> None:
    """Fair: ignoring case and spaces, no typed address is word for word another home's, unless marked ambiguous."""
    homes: dict[str, set[str]] = defaultdict(set)
    for h in table(large.homes):
        homes[" ".join(h["address"].lower().split())].add(h["home_id"])
        homes[f"{h['number']} {h['street']}".lower()].add(h["home_id"])
    exact = 0
    for answer, join in zip(table(large.answers), table(large.answers_join), strict=True):
        typed = " ".join(answer["address"].lower().strip(" ,.;\t").split())
        if typed in homes:
            exact += 1
            assert join["home_id"] in homes[typed], (typed, join)
    assert exact > 500


@pytest.mark.slow
def test_few_addresses_are_ambiguous(large: Paths) -> None:
    """Fair: at most 3.5% of the rows leave more than one home possible (a missing unit, suffix or direction)."""
    joins = table(large.answers_join)
    assert 0 < sum("ambiguous" in j["mess"] for j in joins) / len(joins) < 0.035


def test_answers_come_over_four_months_and_describe_what_stood_there_then(made: Paths) -> None:
    """Days from the four months before `as_of`, in order; the heater answered about stood in the home."""
    first = date(2026, 7, 20).isoformat()
    heaters = {r["heater_id"]: r for r in table(made.heaters)}
    days = []
    for answer, join in zip(table(made.answers), table(made.answers_join), strict=True):
        written = answer["answered_on"]
        # A row sent twice word for word keeps its first day.
        if len(written) == 10 and written[4] == "-" and "duplicate_same" not in join["mess"]:
            days.append(written)
            if join["heater_id"]:
                heater = heaters[join["heater_id"]]
                assert heater["installed"] <= written
                assert not heater["removed"] or heater["removed"] >= written or "removed" not in join["mess"]
    assert days == sorted(days)
    assert first <= days[0]
    assert days[-1] <= AS_OF.isoformat()
    assert years(days[0], days[-1]) > 0.25


@pytest.mark.slow
def test_residents_know_nothing_dated_before_they_moved_in_except_the_heater(large: Paths) -> None:
    """ISO-dated acts and removals in the sheet are never older than the household."""
    moved = {h["home_id"]: h["moved_in"] for h in table(large.homes)}
    checked = 0
    for answer, join in zip(table(large.answers), table(large.answers_join), strict=True):
        for column in ("last_flush", "last_anode", "relief_valve_test", "previous_gone"):
            written = answer[column]
            if join["home_id"] and len(written) == 10 and written[4] == "-":
                assert written >= moved[join["home_id"]], (column, answer, join)
                checked += 1
    assert checked > 100


@settings(max_examples=200, deadline=None)
@given(seed=st.integers(0, 2**32 - 1), number=st.integers(100, 1999), unit=st.sampled_from(["", "A", "B"]))
def test_typed_address_keeps_its_house_number_unless_it_says_so(seed: int, number: int, unit: str) -> None:
    """The digits of the house number survive every habit but the ones that are named for changing them."""
    address = Address(number, StreetName("Fernhill", "Ct", "N"), unit)
    text, tags = type_address(address, Gazetteer.of([address]), np.random.default_rng(seed))
    if not {"number_wrong", "number_letters"} & set(tags):
        assert str(number) in text
    assert text.strip()


def test_law_file_states_every_parameter(made: Paths) -> None:
    """Each field of the law is in law.json, with the batch effect of every phase."""
    law = json.loads(made.law.read_text(encoding="utf-8"))
    assert set(Law.__dataclass_fields__) <= set(law)
    phases = json.loads(made.community.read_text(encoding="utf-8"))["phases"]
    assert set(law["batch_by_phase"]) == {p["phase"] for p in phases}
