"""The report to the board: what may be published, on paper; no home and no small cell in it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from survey_app.advice.cautions import cautions
from survey_app.forecast import Forecast
from survey_app.policies import PolicyStudy
from survey_app.records import Community
from survey_app.reports.as_pdf import pdf
from survey_app.reports.forecast_report import fan_rows
from survey_app.reports.policy_report import policy_rows
from survey_app.response import PublishedFigures
from survey_app.texts import Texts

__all__ = ["BoardReport", "board_pdf", "fan_svg"]


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardReport:
    """Everything the board is told.

    Parameters
    ----------
    community, as_of
        Whose, and of which day.
    figures
        Counts without small cells.
    forecast
        Losses to come, without single homes.
    policies
        Ten years under each policy; None where nothing can be played yet.
    minimum
        The smallest count that may be shown.
    service_days
        Each plan of service days: job, first day, homes planned, visits done.
    """

    community: Community
    as_of: date
    figures: PublishedFigures
    forecast: Forecast
    policies: PolicyStudy | None
    minimum: int
    service_days: tuple[tuple[str, str, int, int], ...]


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
            "horizons": [
                [f"{h.years:g}", f"{h.everyone.mean:.0f}", f"{h.everyone.low} to {h.everyone.high}"]
                for h in found.horizons
            ],
            "forecast": list(found.sentences),
            "policies": [list(row.values()) for row in policies],
            "policy_head": list(policies[0]) if policies else [],
            "policy_rests": list(report.policies.sentences) if report.policies else [],
            "service": [
                [job, day, few(planned, report.minimum), few(done, report.minimum)]
                for job, day, planned, done in report.service_days
            ],
            "weighing": [[w.name, f"{100 * w.local_weight:.0f} %", w.source] for w in found.weighing[:2]],
            "cautions_head": say("care-cautions-head"),
            "cautions": list(cautions(say)),
        },
        pictures={"fan.svg": fan_svg(found).encode()},
    )


def few(count: int, minimum: int) -> str:
    """A count as it may be published."""
    return f"fewer than {minimum}" if 0 < count < minimum else str(count)


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


def _nice(step: float) -> float:
    """A round step of an axis near `step`."""
    if step <= 0:
        return 1.0
    size = 10.0 ** max(0, len(str(int(step))) - 1)
    return max(1.0, min((size, 2 * size, 5 * size, 10 * size), key=lambda s: abs(s - step)))
