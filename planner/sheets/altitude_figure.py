"""The night at a glance: how high each target stands, twilight and Moon, and the order."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING, Any

import numpy as np

from planner.charts.scene import Anchor, Face, Pen, Tone, Words
from planner.ephemeris.moments import later, seconds_between
from planner.night.evening.outing import USUAL_LOOK_MIN

if TYPE_CHECKING:
    import datetime as dt

    from numpy.typing import NDArray

    from planner.charts.paint import Canvas
    from planner.night.evening.outing import Call, Outing

    Box = tuple[float, float, float, float]  # left, bottom, width, height

BANDS = ((-6.0, Tone.SHADE), (-18.0, Tone.GROUND))  # civil, then the rest of twilight
BAR_PT = 2.4


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
    taken: list[tuple[float, float]] = []
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
        _number(canvas, call.number, bar, taken)


def _thick(bar: list[tuple[float, float]]) -> list[tuple[float, float]]:
    half = BAR_PT / 2.0
    return [(a, b + half) for a, b in bar] + [(a, b - half) for a, b in reversed(bar)]


def _number(
    canvas: Canvas, number: int, bar: list[tuple[float, float]], taken: list[tuple[float, float]]
) -> None:
    """The number above or below its bar, where it is farthest from the others."""
    a, b = bar[len(bar) // 2]
    places = [(a, b + up) for up in (4.0, -10.0, 12.0, -18.0)]

    def crowd(place: tuple[float, float]) -> float:
        near = [1.0 for p, q in taken if abs(p - place[0]) < 11.0 and abs(q - place[1]) < 7.5]
        return 10.0 * sum(near) + places.index(place)

    place = min(places, key=crowd)
    taken.append(place)
    canvas.words(Words(*place, str(number), 7.5, Anchor.MIDDLE, Face.BOLD, True))


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
