"""The ways a household can go, as bars from nothing: the average, and the range in which it is likely to be."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from survey_app.economics.words import WayRow
from survey_app.texts import Texts

__all__ = ["ways_picture"]


def ways_picture(say: Texts, rows: Sequence[WayRow]) -> str:
    """The bars as HTML. Every figure stands beside its bar as text; the bars themselves are hidden from screen readers.

    A bar ends at the average; the line across its end is the range. Which way costs least is said in a word as well.
    """
    most = max((row.usd.high for row in rows), default=0.0)
    if most <= 0:
        return ""

    def place(usd: float) -> str:
        return f"{100 * max(0.0, usd) / most:.1f}%"

    bars = []
    for row in rows:
        low, high = max(0.0, row.usd.low), max(0.0, row.usd.high)
        least = f" <mark>{escape(say('decision-ways-least'))}</mark>" if row.least else ""
        bars.append(
            f"<li><b>{escape(row.label)}</b><span>{escape(row.cost)}, {escape(row.range)}{least}</span>"
            f'<div aria-hidden="true"><i style="width:{place(row.usd.middle)}"></i>'
            f'<u style="left:{place(low)};width:{place(high - low)}"></u></div></li>'
        )
    return f'<ul class="ways">{"".join(bars)}</ul>'
