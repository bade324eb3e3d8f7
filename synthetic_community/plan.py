"""Streets drawn in a plain plane and bent: the plan of a pod, and the warp that makes it a place.

A pod is a loop with courts, a ladder, a spine with courts, a ring or a
serpentine, drawn with its collector along y = 0, in meters.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from synthetic_community.names import StreetName

__all__ = ["HALF_WIDTH", "Points", "Street", "Warp", "dense", "draw_pod", "insert"]

Points = NDArray[np.float64]

_TURN = math.radians(-19.0)

HALF_WIDTH = {"arterial": 17.0, "collector": 12.0, "local": 7.6, "court": 7.0}
"""Half the width of the right of way by class of street, in meters."""
_MARGIN = 41.5
_PITCH = 83.0


@dataclass(slots=True)
class Street:
    """A street while it is being drawn: `base` in the plain plane, `line` after the warp."""

    role: str
    klass: str
    base: Points
    bulb: bool = False
    inner_lots: bool = True
    name: StreetName | None = None
    start_number: int = 100
    line: Points = field(default_factory=lambda: np.empty((0, 2)))


class Warp:
    """A smooth one-to-one bending of the plane, gentle enough never to fold."""

    def __init__(self, rng: np.random.Generator) -> None:
        waves = []
        for length, height in ((1150.0, 34.0), (760.0, 13.0), (430.0, 5.0)):
            for axis in (0, 1):
                angle = rng.uniform(0, 2 * math.pi)
                waves.append((axis, length, height, angle, rng.uniform(0, 2 * math.pi)))
        self._waves = waves

    def __call__(self, points: Points) -> Points:
        """Points of the plain plane, in meters from the community's corner."""
        out = np.array(points, dtype=float)
        for axis, length, height, angle, start in self._waves:
            run = points[:, 0] * math.cos(angle) + points[:, 1] * math.sin(angle)
            out[:, axis] += height * np.sin(2 * math.pi * run / length + start)
        turn = np.array([[math.cos(_TURN), -math.sin(_TURN)], [math.sin(_TURN), math.cos(_TURN)]])
        return np.asarray(out @ turn.T)


def dense(points: Points, step: float = 9.0) -> Points:
    """A polyline with a vertex at least every `step` meters; given vertices are kept exactly."""
    parts = []
    for a, b in itertools.pairwise(points):
        n = max(1, math.ceil(float(np.hypot(*(b - a))) / step))
        parts.append(a + (b - a) * (np.arange(n) / n)[:, None])
    parts.append(points[-1:])
    return np.concatenate(parts)


def _rounded(corners: Sequence[tuple[float, float]], radius: float) -> Points:
    """A polyline through `corners` with each inner corner replaced by an arc."""
    pts = np.asarray(corners, dtype=float)
    out = [pts[0]]
    for before, here, after in zip(pts[:-2], pts[1:-1], pts[2:], strict=True):
        u, v = before - here, after - here
        lu, lv = float(np.hypot(*u)), float(np.hypot(*v))
        r = min(radius, 0.49 * lu, 0.49 * lv)
        p, q = here + u / lu * r, here + v / lv * r
        # A quadratic curve is close enough to an arc at this scale.
        for t in np.linspace(0.0, 1.0, 8):
            out.append((1 - t) ** 2 * p + 2 * t * (1 - t) * here + t**2 * q)
    out.append(pts[-1])
    return np.asarray(out)


def insert(line: Points, point: Points) -> Points:
    """The polyline with `point`, which lies on it, among its vertices."""
    a, b = line[:-1], line[1:]
    d = b - a
    length2 = np.maximum((d**2).sum(1), 1e-12)
    t = np.clip(((point - a) * d).sum(1) / length2, 0, 1)
    gap = np.hypot(*(a + d * t[:, None] - point).T)
    k = int(np.argmin(gap))
    if gap[k] > 1e-6 or np.hypot(*(line[k] - point)) < 1e-6 or np.hypot(*(line[k + 1] - point)) < 1e-6:
        return line
    return np.insert(line, k + 1, point, axis=0)


# ---------------------------------------------------------------------------
# Pod templates. Each is drawn with its collector along y = 0.


def _loop(w: float, h: float, rng: np.random.Generator) -> list[Street]:
    m = _MARGIN
    top = h - m
    streets = [Street("main loop", "local", _rounded([(m, 0), (m, top), (w - m, top), (w - m, 0)], 30.0))]
    n = max(1, int((w - 2 * m - _PITCH + 12) // _PITCH))
    gap = (w - 2 * m) / (n + 1)
    for i in range(n):
        x = m + gap * (i + 1)
        if rng.random() < 0.6:
            line = [(x, top), (x, 60.0 + rng.uniform(0, 12))]
        else:
            line = [(x, 0.0), (x, top - _MARGIN - 46.0)]
        streets.append(Street("court", "court", np.asarray(line), bulb=True))
    return streets


def _ladder(w: float, h: float, rng: np.random.Generator) -> list[Street]:
    m = _MARGIN
    n = 1 + int((w - 2 * m + 6) // _PITCH)
    xs = m + (w - 2 * m) / (n - 1) * np.arange(n)
    streets = [Street("rung", "local", np.asarray([(x, 0.0), (x, h - m)])) for x in xs]
    streets.append(Street("bar", "local", np.asarray([(x, h - m) for x in xs])))
    return streets


def _spine(w: float, h: float, rng: np.random.Generator, through: bool = False) -> list[Street]:
    first = 55.0
    n = max(2, int((h - first - _MARGIN) // _PITCH) + 1)
    ys = first + (h - first - _MARGIN) / (n - 1) * np.arange(n)
    x = w / 2
    spine = [(x, 0.0), *((x, y) for y in ys)]
    if through:
        spine.append((x, h))
    streets = [Street("spine", "local", np.asarray(spine))]
    for y in ys:
        for role, end in (("court west", 48.0), ("court east", w - 48.0)):
            end += rng.uniform(-1, 1) * 5 + (0 if rng.random() < 0.8 else math.copysign(20, x - end))
            streets.append(Street(role, "court", np.asarray([(x, y), (end, y)]), bulb=True))
    return streets


def _ring(w: float, h: float, rng: np.random.Generator, green: bool = False) -> list[Street]:
    cx, cy, rx, ry = w / 2, h / 2 + 5, w / 2 - _MARGIN, h / 2 - _MARGIN - 5
    angle = -math.pi / 2 + np.linspace(0, 2 * math.pi, 73)
    power = 0.75  # between an ellipse and a rounded rectangle: fills its pod better
    c, s = np.cos(angle), np.sin(angle)
    ring = np.column_stack([cx + rx * np.sign(c) * np.abs(c) ** power, cy + ry * np.sign(s) * np.abs(s) ** power])
    ring[-1] = ring[0]
    link = np.asarray([(ring[0, 0], 0.0), tuple(ring[0])])
    streets = [
        Street("ring", "local", ring, inner_lots=not green),
        Street("link", "local", link),
    ]
    if not green and w > 300:
        # A short court into the middle from the far side.
        far = ring[36]
        streets.append(Street("court", "court", np.asarray([tuple(far), (far[0], far[1] - 52)]), bulb=True))
    return streets


def _serpentine(w: float, h: float, rng: np.random.Generator) -> list[Street]:
    m = _MARGIN
    pitch = (h - m - 55.0) / 2
    y1, y2, y3 = 55.0, 55.0 + pitch, h - m
    corners = [(m, 0), (m, y1), (w - m, y1), (w - m, y2), (m, y2), (m, y3), (w - 50, y3)]
    if rng.random() < 0.5:
        corners = [(w - x, y) for x, y in corners]
    return [Street("snake", "local", _rounded(corners, 38.0), bulb=True)]


def draw_pod(template: str, w: float, h: float, rng: np.random.Generator) -> list[Street]:
    """Draw a pod `w` wide and `h` deep (meters), entered from y = 0, from one of the templates."""
    if template == "loop":
        return _loop(w, h, rng)
    if template == "ladder":
        return _ladder(w, h, rng)
    if template == "spine":
        return _spine(w, h, rng)
    if template == "spine through":
        return _spine(w, h, rng, through=True)
    if template == "green ring":
        return _ring(w, h, rng, green=True)
    if template == "ring":
        return _ring(w, h, rng)
    return _serpentine(w, h, rng)
