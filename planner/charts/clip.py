"""Cuts lines, ellipses and surfaces to the circle about the centre of a scene."""

from __future__ import annotations

from itertools import pairwise
from math import atan2, ceil, cos, hypot, pi, radians, sin, sqrt
from typing import TYPE_CHECKING

from planner.charts.scene import Ellipse, Pen, Polyline

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from planner.charts.scene import Point

ARC_STEP = radians(4.0)  # of the rim, where a surface ends at it
ELLIPSE_STEPS = 72


def clipped_line(points: Sequence[Point], radius_pt: float, pen: Pen) -> list[Polyline]:
    """The parts of a line of straight pieces that lie in the circle, in their order."""
    parts: list[list[Point]] = []
    for start, end in pairwise(points):
        share = _inside(start, end, radius_pt)
        if share is None:
            continue
        first, last = (_between(start, end, s) for s in share)
        if parts and parts[-1][-1] == first:
            parts[-1].append(last)
        else:
            parts.append([first, last])
    return [Polyline(tuple(part), pen) for part in parts]


def clipped_ellipse(ellipse: Ellipse, radius_pt: float) -> tuple[list[Ellipse], list[Polyline]]:
    """The ellipse itself where all of it is in the circle, else the lines that are left of it."""
    points = ellipse_points(ellipse)
    if all(hypot(x, y) <= radius_pt for x, y in points):
        return [ellipse], []
    return [], clipped_line(points, radius_pt, ellipse.pen)


def ellipse_points(ellipse: Ellipse) -> list[Point]:
    """Points around an ellipse, the first again at the end."""
    along, across = ellipse.half_axes_pt
    c, s = cos(radians(ellipse.angle_deg)), sin(radians(ellipse.angle_deg))
    turns = [2.0 * pi * k / ELLIPSE_STEPS for k in range(ELLIPSE_STEPS)]
    points = [
        (
            ellipse.x + along * cos(t) * c - across * sin(t) * s,
            ellipse.y + along * cos(t) * s + across * sin(t) * c,
        )
        for t in turns
    ]
    return [*points, points[0]]


def clipped_area(points: Sequence[Point], radius_pt: float) -> tuple[Point, ...]:
    """A convex or star-shaped surface cut to the circle; it closes along the rim.

    ``points`` go once round the surface. Empty where nothing of it lies in the circle; the whole
    circle where the surface covers it. A surface that leaves the circle and comes back is closed
    the short way between where it left and where it came back, on the side it lies.
    """
    turning = _turning(points)
    result: list[Point] = []
    for start, end in pairwise([*points, points[0]]):
        share = _inside(start, end, radius_pt)
        if share is None:
            continue
        first, last = (_between(start, end, s) for s in share)
        if result and hypot(first[0] - result[-1][0], first[1] - result[-1][1]) > 1e-6:
            result += _arc(result[-1], first, radius_pt, turning)
        result += [first, last]
    if not result:
        return _circle(radius_pt) if _holds((0.0, 0.0), points) else ()
    if hypot(result[0][0] - result[-1][0], result[0][1] - result[-1][1]) > 1e-6:
        result += _arc(result[-1], result[0], radius_pt, turning)
    return tuple(_without_repeats(result))


def _inside(start: Point, end: Point, radius: float) -> tuple[float, float] | None:
    """The stretch of a piece that lies in the circle, as shares of its length."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    a = dx * dx + dy * dy
    c = start[0] ** 2 + start[1] ** 2 - radius * radius
    if a == 0.0:
        return None
    b = start[0] * dx + start[1] * dy
    root = b * b - a * c
    if root <= 0.0:
        return None
    low, high = (-b - sqrt(root)) / a, (-b + sqrt(root)) / a
    low, high = max(low, 0.0), min(high, 1.0)
    return (low, high) if low < high else None


def _between(start: Point, end: Point, share: float) -> Point:
    if share in (0.0, 1.0):
        return start if share == 0.0 else end
    return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])


def _turning(points: Sequence[Point]) -> float:
    """1 where the surface's points run counter-clockwise, -1 where clockwise."""
    area = sum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise([*points, points[0]]))
    return 1.0 if area >= 0.0 else -1.0


def _arc(start: Point, end: Point, radius: float, turning: float) -> list[Point]:
    """Points along the rim from one to another in the sense of the surface, both left out."""
    first = atan2(start[1], start[0])
    sweep = (turning * (atan2(end[1], end[0]) - first)) % (2.0 * pi)
    steps = ceil(sweep / ARC_STEP)
    return [
        (radius * cos(first + turning * sweep * k / steps),
         radius * sin(first + turning * sweep * k / steps))
        for k in range(1, steps)
    ]  # fmt: skip


def _circle(radius: float) -> tuple[Point, ...]:
    steps = ceil(2.0 * pi / ARC_STEP)
    turns = [2.0 * pi * k / steps for k in range(steps)]
    return tuple((radius * cos(t), radius * sin(t)) for t in turns)


def _holds(place: Point, points: Sequence[Point]) -> bool:
    """Whether a place lies in a polygon."""
    inside = False
    for (x1, y1), (x2, y2) in pairwise([*points, points[0]]):
        if (y1 > place[1]) != (y2 > place[1]):
            across = x1 + (place[1] - y1) / (y2 - y1) * (x2 - x1)
            inside ^= across > place[0]
    return inside


def _without_repeats(points: Iterable[Point]) -> list[Point]:
    kept: list[Point] = []
    for point in points:
        if not kept or point != kept[-1]:
            kept.append(point)
    return kept
