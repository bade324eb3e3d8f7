"""The report to the board: what may be published, on paper; no home and no small cell in it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date
from xml.sax.saxutils import escape

from survey_app.access import few
from survey_app.forecast import Forecast
from survey_app.policies import PolicyName, TenYears
from survey_app.records import Community, WarrantyClass
from survey_app.reports.as_pdf import pdf
from survey_app.reports.forecast_report import fan_rows
from survey_app.reports.policy_report import chart_values, policy_rows, policy_sentences, what_it_rests_on
from survey_app.reports.response_report import percent
from survey_app.response import Estimate, PublishedFigures, Rates
from survey_app.texts import Texts

__all__ = ["BoardReport", "board_pdf", "fan_svg", "policies_svg", "visits_done"]


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardReport:
    """Everything the board is told.

    Parameters
    ----------
    community, as_of
        Whose, and of which day.
    figures
        Counts without small cells.
    response, twice
        Response rates; and the estimate of homes past twice their warranty, None where too few answered for it.
    forecast
        Losses to come, without single homes.
    policies
        Ten years under each policy; None where nothing can be played yet.
    service_days
        Each plan of service days: job, first day, homes planned, visits done; small counts left out.
    minimum
        The smallest count that may be told.
    """

    community: Community
    as_of: date
    figures: PublishedFigures
    response: Rates
    twice: Estimate | None
    forecast: Forecast
    policies: TenYears | None
    service_days: tuple[tuple[str, str, str, str], ...]
    minimum: int


def board_pdf(report: BoardReport, say: Texts) -> bytes:
    """The report as a PDF with the fan as a vector drawing."""
    figures, found = report.figures, report.forecast

    def shown(n: int | None) -> str:
        return "not shown" if n is None else str(n)

    policies = policy_rows(report.policies) if report.policies else []
    return pdf(
        "board_report",
        {
            "lang": say.language,
            "community": report.community.name,
            "synthetic": say("paper-synthetic") if report.community.synthetic else "",
            "as_of": say.day(report.as_of),
            "classes": [[name, shown(n)] for name, n in figures.classes.items()],
            "phases": [[s.group, str(s.homes), shown(n)] for s, n in figures.phases],
            "homes": figures.homes,
            "response": response_lines(report),
            "horizons": [
                [f"{h.years:g}", f"{h.everyone.mean:.0f}", f"{h.everyone.low} to {h.everyone.high}"]
                for h in found.horizons
            ],
            "forecast": list(found.sentences),
            "policies": [list(row.values()) for row in policies],
            "policy_head": list(policies[0]) if policies else [],
            "policy_says": list(policy_sentences(report.policies)) if report.policies else [],
            "policy_alt": "How much cheaper than waiting each policy is: bars for intervals, diamonds for means",
            "policy_rests": list(what_it_rests_on(report.policies, minimum=report.minimum)) if report.policies else [],
            "service": [list(row) for row in report.service_days],
            "service_pays": say("days-pays"),
            "weighing": [[w.name, f"{100 * w.local_weight:.0f} %", w.source] for w in found.weighing[:2]],
            "cautions_head": say("care-cautions-head"),
            "cautions": [say("care-cautions-short")],
        },
        pictures={
            "fan.svg": fan_svg(found).encode(),
            **({"policies.svg": policies_svg(report.policies).encode()} if report.policies else {}),
        },
    )


def response_lines(report: BoardReport) -> list[str]:
    """Who answered and what it says of all homes, in shares that tell no small count."""
    r = report.response
    said = [
        f"Response rate RR2 {percent(r.rr2)}, RR4 {percent(r.rr4)} (AAPOR Standard Definitions: complete and partial "
        "answers of all homes that are, or are estimated to be, lived in)."
    ]
    told = report.figures.classes.get(str(WarrantyClass.PAST_TWICE))
    if report.twice is not None and told:
        said.append(
            f"About {report.twice.total:.0f} of all {report.twice.homes} homes ({percent(report.twice.share)}; in 95 "
            f"of 100 cases {percent(report.twice.low)} to {percent(report.twice.high)}) have a heater past twice its "
            "warranty, if those who answered are like their phase."
        )
    return said


def visits_done(planned: int, done: int, minimum: int) -> tuple[str, str]:
    """Homes planned and visits done as they may be published: their difference tells no small count either."""
    if minimum <= done < planned < done + minimum:
        return str(planned), f"all but fewer than {minimum}"
    return few(planned, minimum), few(done, minimum)


def fan_svg(found: Forecast) -> str:
    """Losses up to each of ten years: a line in a band, with numbers on both axes; readable in grey."""
    rows = fan_rows(found)
    width, height, left, bottom = 620, 260, 58, 40
    most = max([float(r["high"]) for r in rows], default=1.0) or 1.0
    years = max(len(rows), 1)

    def x(year: float) -> float:
        return left + (width - left - 14) * year / years

    def y(count: float) -> float:
        return (height - bottom) - (height - bottom - 14) * count / most

    points = [(0, 0.0, 0.0, 0.0)] + [
        (int(r["years ahead"]), float(r["up to its end"]), float(r["low"]), float(r["high"])) for r in rows
    ]
    upper = " ".join(f"{x(t):.1f},{y(hi):.1f}" for t, _, _, hi in points)
    lower = " ".join(f"{x(t):.1f},{y(lo):.1f}" for t, _, lo, _ in reversed(points))
    line = " ".join(f"{x(t):.1f},{y(m):.1f}" for t, m, _, _ in points)
    step = _nice(most / 4)
    marks = []
    value = 0.0
    while value <= most:
        marks.append(
            f'<line x1="{left}" x2="{width - 14}" y1="{y(value):.1f}" y2="{y(value):.1f}" stroke="#c9cfd3"/>'
            f'<text x="{left - 6}" y="{y(value) + 4:.1f}" text-anchor="end">{value:.0f}</text>'
        )
        value += step
    ticks = [f'<text x="{x(t):.1f}" y="{height - bottom + 16}" text-anchor="middle">{t}</text>' for t, *_ in points]
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" font-family="DejaVu Sans" '
        f'font-size="12" fill="#1f2a33">{"".join(marks)}<polygon points="{upper} {lower}" fill="#79B4AE" '
        f'fill-opacity="0.55"/><polyline points="{line}" fill="none" stroke="#1D4865" stroke-width="3"/>'
        f'{"".join(ticks)}<text x="{(width + left) / 2:.0f}" y="{height - 6}" text-anchor="middle">years from now'
        "</text>"
        f'<text x="14" y="{height / 2:.0f}" text-anchor="middle" transform="rotate(-90 14 {height / 2:.0f})">heaters '
        "lost, in all</text></svg>"
    )


def policies_svg(found: TenYears) -> str:
    """What each policy saves against waiting: a bar for the interval, a diamond for the mean, the figure in words."""
    drawn = [v for v in chart_values(found, "saved") if v["policy"] != PolicyName.WAIT]
    width, side, row = 620, 12, 50
    height = row * len(drawn) + 46
    least = min(0.0, *(float(v["low"]) for v in drawn))
    most = max(0.0, *(float(v["high"]) for v in drawn)) or 1.0

    def x(usd: float) -> float:
        return side + (width - 2 * side - 20) * (usd - least) / (most - least)

    step = _nice((most - least) / 4)
    parts = []
    for k in range(math.ceil(least / step), int(most / step) + 1):
        at, usd = x(k * step), k * step
        words = "0" if k == 0 else f"{usd / 1e6:g} million" if most >= 1e6 else f"{usd:,.0f}"
        ink = "#1f2a33" if k == 0 else "#c9cfd3"
        parts.append(
            f'<line x1="{at:.1f}" x2="{at:.1f}" y1="6" y2="{height - 40}" stroke="{ink}"/>'
            f'<text x="{at:.1f}" y="{height - 24}" text-anchor="{"start" if k == 0 else "middle"}">{words}</text>'
        )
    for k, v in enumerate(drawn):
        y = 6 + row * k + 34
        low, mean, high = (x(float(v[name])) for name in ("low", "mean", "high"))
        parts.append(
            f'<text x="{x(0.0) + 6:.1f}" y="{y - 14}" font-size="13">{escape(v["words"])}</text>'
            f'<rect x="{low:.1f}" y="{y - 7}" width="{high - low:.1f}" height="14" fill="#79B4AE" stroke="#1D4865"/>'
            f'<path d="M {mean:.1f} {y - 8} l 7 8 l -7 8 l -7 -8 z" fill="#1D4865"/>'
        )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" font-family="DejaVu Sans" '
        f'font-size="11" fill="#1f2a33">{"".join(parts)}<text x="{width / 2:.0f}" y="{height - 6}" '
        f'text-anchor="middle">cheaper than waiting by, dollars of today, {found.years} years, all homes</text></svg>'
    )


def _nice(step: float) -> float:
    """A round step of an axis near `step`."""
    if step <= 0:
        return 1.0
    size = 10.0 ** max(0, len(str(int(step))) - 1)
    return max(1.0, min((size, 2 * size, 5 * size, 10 * size), key=lambda s: abs(s - step)))
