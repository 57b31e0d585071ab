"""The night at a glance: how high each target stands, twilight and Moon, and the order."""

from __future__ import annotations

from datetime import timedelta
from itertools import product
from math import hypot
from typing import TYPE_CHECKING, Any

import numpy as np

from planner.charts.letters import CAP_HEIGHT_EM, width_pt
from planner.charts.scene import Anchor, Face, Pen, Tone, Words
from planner.ephemeris.moments import later, seconds_between
from planner.night.evening.outing import USUAL_LOOK_MIN

if TYPE_CHECKING:
    import datetime as dt

    from numpy.typing import NDArray

    from planner.charts.paint import Canvas
    from planner.night.evening.outing import Call, Outing

    Box = tuple[float, float, float, float]  # left, bottom, width, height
    Spot = tuple[float, float, float, float]  # left, bottom, right, top
    Point = tuple[float, float]

BANDS = ((-6.0, Tone.SHADE), (-18.0, Tone.GROUND))  # civil, then the rest of twilight
BAR_PT = 2.4
NUMBER_PT, APART_PT, LEADER_PT = 7.5, 0.8, 13.0
# Where a number may stand from its bar, the nearest first; those beside it count a little more.
STEPS = sorted(
    product(range(-63, 64, 9), (-42, -34, -26, -18, -10, -3, 4, 12, 20, 28, 36)),
    key=lambda step: (hypot(1.2 * step[0], step[1] + 3.0), step),
)


def draw_altitudes(canvas: Canvas, outing: Outing, box: Box) -> None:
    """A thin line for each target while it can be used, a thick bar where it is planned."""
    left, low, width, height = box
    curves = outing.curves
    seconds = np.array([seconds_between(curves.instants[0], t) for t in curves.instants])
    span = max(float(seconds[-1]), 1.0)
    x = left + seconds / span * width

    def y(altitude: float) -> float:
        return low + max(0.0, min(90.0, altitude)) / 90.0 * height

    _twilight(canvas, outing, x, (low, height))
    for level in (0, 30, 60, 90):
        pen = Pen.TICK if level in (0, 90) else Pen.FAINT
        canvas.line([(left, y(level)), (left + width, y(level))], pen)
        canvas.words(Words(left - 3.0, y(level) - 2.5, f"{level}°", 7.5, Anchor.END))
    canvas.line([(left, low), (left, low + height)], Pen.TICK)
    canvas.line([(left + width, low), (left + width, low + height)], Pen.TICK)
    _hours(canvas, outing, (left, low, width, span))
    moon = [(float(a), y(h)) for a, h in zip(x, curves.moon_deg, strict=True) if h > 0.0]
    if len(moon) > 1:
        canvas.line(moon, Pen.FIELD)
        top = max(moon, key=lambda point: point[1])
        canvas.words(Words(top[0], top[1] + 3.0, "Moon", 7.5, Anchor.MIDDLE, Face.OBLIQUE, True))
    bars: list[tuple[int, list[Point]]] = []
    for row, call in enumerate(outing.calls):
        heights = curves.target_deg[row]
        _window(canvas, call, outing, (x, heights, y))
        start = seconds_between(curves.instants[0], call.start)
        length = (
            60.0 * USUAL_LOOK_MIN if call.end is None else seconds_between(call.start, call.end)
        )
        inside = np.linspace(start, min(start + length, span), 6)
        bar = [
            (left + float(s) / span * width, y(float(np.interp(s, seconds, heights))))
            for s in inside
        ]
        canvas.area(_thick(bar), Tone.INK)
        bars.append((call.number, bar))
    _numbers(canvas, bars, box)


def _thick(bar: list[tuple[float, float]]) -> list[tuple[float, float]]:
    half = BAR_PT / 2.0
    return [(a, b + half) for a, b in bar] + [(a, b - half) for a, b in reversed(bar)]


def _numbers(canvas: Canvas, bars: list[tuple[int, list[Point]]], box: Box) -> None:
    """Each number beside its bar, the nearest place free of bars and numbers; far off with a line.

    The places of all bars are known first, so that none is covered.
    """
    taken = [_around(bar, 1.5) for _, bar in bars]
    for number, bar in bars:
        x, y = bar[len(bar) // 2]
        width = width_pt(str(number), NUMBER_PT, Face.BOLD)
        places = [
            (x + dx, y + dy) for dx, dy in STEPS
            if box[0] + width / 2.0 < x + dx < box[0] + box[2] - width / 2.0
            and box[1] < y + dy < box[1] + box[3] - CAP_HEIGHT_EM * NUMBER_PT
        ]  # fmt: skip
        spots = [_spot(place, width) for place in places]
        free = [k for k, spot in enumerate(spots) if not any(_meet(spot, t) for t in taken)]
        best = free[0] if free else 0
        place = places[best]
        taken.append(spots[best])
        middle = place[1] + CAP_HEIGHT_EM * NUMBER_PT / 2.0
        if hypot(place[0] - x, middle - y) > LEADER_PT:
            canvas.line([(x, y), (place[0], middle)], Pen.TICK)
        canvas.words(Words(*place, str(number), NUMBER_PT, Anchor.MIDDLE, Face.BOLD, True))


def _around(points: list[Point], by: float) -> Spot:
    x, y = zip(*points, strict=True)
    return min(x) - by, min(y) - by, max(x) + by, max(y) + by


def _spot(place: Point, width: float) -> Spot:
    x, low = place
    return x - width / 2.0, low, x + width / 2.0, low + CAP_HEIGHT_EM * NUMBER_PT


def _meet(one: Spot, other: Spot) -> bool:
    return (
        one[0] < other[2] + APART_PT
        and other[0] < one[2] + APART_PT
        and one[1] < other[3] + APART_PT
        and other[1] < one[3] + APART_PT
    )


def _window(canvas: Canvas, call: Call, outing: Outing, curve: tuple[Any, ...]) -> None:
    x, heights, y = curve
    first, last = call.target.window_start, call.target.window_end
    points = [
        (float(a), y(float(h)))
        for a, h, t in zip(x, heights, outing.curves.instants, strict=True)
        if h > 0.0 and (first is None or last is None or first <= t <= last)
    ]
    if len(points) > 1:
        canvas.line(points, Pen.FAINT)


def _twilight(
    canvas: Canvas, outing: Outing, x: NDArray[np.float64], rows: tuple[float, float]
) -> None:
    low, height = rows
    sun = outing.curves.sun_deg
    for limit, tone in reversed(BANDS):
        bright = np.flatnonzero(sun > limit)
        for run in np.split(bright, np.flatnonzero(np.diff(bright) > 1) + 1):
            if len(run) > 1:
                a, b = float(x[run[0]]), float(x[run[-1]])
                canvas.area([(a, low), (b, low), (b, low + height), (a, low + height)], tone)


def _hours(canvas: Canvas, outing: Outing, frame: tuple[float, float, float, float]) -> None:
    left, low, width, span = frame
    begin = outing.curves.instants[0]
    hour: dt.datetime = begin.replace(minute=0, second=0, microsecond=0)
    for step in range(1, int(span / 3600.0) + 2):
        moment = later(hour, 3600.0 * step).astimezone(begin.tzinfo)
        a = left + seconds_between(begin, moment) / span * width
        if left <= a <= left + width:
            canvas.line([(a, low), (a, low - 3.0)], Pen.TICK)
            canvas.words(Words(a, low - 11.0, f"{moment + timedelta(0):%H}", 7.5, Anchor.MIDDLE))
