"""Marks at the rim: north, east, the drift, the scale, and for the bare eye up and down."""

from __future__ import annotations

from math import cos, radians, sin
from typing import TYPE_CHECKING

from planner.charts.letters import CAP_HEIGHT_EM
from planner.charts.scene import Anchor, Area, Face, Pen, Polyline, Tone, Words

if TYPE_CHECKING:
    from planner.charts.projection import Projection
    from planner.charts.scene import Point

ROUND_ARCSEC = (1, 2, 5, 10, 20, 30, 60, 120, 300, 600, 1200, 1800, 3600, 7200, 18000, 36000, 72000)
BAR_SHARE = 0.36  # longest scale bar, share of the radius
ARROW_PT = 12.0
NEAR_COS = cos(radians(28.0))
SIZE_PT = 8.0


def compass_marks(projection: Projection) -> tuple[list[Polyline], list[Words]]:
    """A tick and a letter outside the rim at north and at east."""
    lines, words = [], []
    radius = projection.radius_pt
    for letter, angle in (("N", 0.0), ("E", 90.0)):
        dx, dy = _unit(projection.direction_deg(angle))
        lines.append(Polyline((_at(radius - 3.0, dx, dy), _at(radius + 3.0, dx, dy)), Pen.TICK))
        x, y = _at(radius + 8.0, dx, dy)
        low = y - CAP_HEIGHT_EM * SIZE_PT / 2.0
        words.append(Words(x, low, letter, SIZE_PT, Anchor.MIDDLE, Face.BOLD))
    return lines, words


def drift_arrow(projection: Projection) -> tuple[Polyline, Area]:
    """An arrow outside the rim at west: the way stars run while the tube rests."""
    dx, dy = _unit(projection.direction_deg(270.0))
    start, end = projection.radius_pt + 2.0, projection.radius_pt + 2.0 + ARROW_PT
    head = end - 4.5
    side = 1.9
    tip = _at(end, dx, dy)
    left = (head * dx - side * dy, head * dy + side * dx)
    right = (head * dx + side * dy, head * dy - side * dx)
    shaft = Polyline((_at(start, dx, dy), _at(head, dx, dy)), Pen.TICK)
    return shaft, Area((tip, left, right), Tone.INK)


def scale_bar(projection: Projection) -> tuple[list[Polyline], Words]:
    """A round length below the circle on the left, and its name."""
    radius, per_arcsec = projection.radius_pt, projection.points_per_deg / 3600.0
    fitting = [a for a in ROUND_ARCSEC if a * per_arcsec <= BAR_SHARE * radius]
    arcsec = max(fitting, default=ROUND_ARCSEC[0])
    left, y = -radius - 2.0, -radius - 3.0
    if _taken(projection, 225.0):  # the lower left is a mark's: to the right, or below it
        if _taken(projection, 315.0):
            y -= 9.0
        else:
            left = radius + 2.0 - arcsec * per_arcsec
    right = left + arcsec * per_arcsec
    points = (
        ((left, y), (right, y)),
        ((left, y - 2), (left, y + 2)),
        ((right, y - 2), (right, y + 2)),
    )
    words = Words(left, y + 4.0, arc_words(arcsec), 7.5)
    return [Polyline(pair, Pen.TICK) for pair in points], words


def _taken(projection: Projection, direction_deg: float) -> bool:
    """Whether north, east or the drift stands at the rim near a direction."""
    marks = (projection.direction_deg(angle) for angle in (0.0, 90.0, 270.0))
    return any(cos(radians(mark - direction_deg)) > NEAR_COS for mark in marks)


def up_and_down(radius_pt: float, down_words: str) -> tuple[list[Area], list[Words]]:
    """For the bare eye: arrowheads at top and bottom, and where the horizon is."""
    areas = [
        Area(((0.0, sign * (radius_pt - 2.0)), (-3.0, sign * (radius_pt - 7.0)),
              (3.0, sign * (radius_pt - 7.0))), Tone.INK)
        for sign in (1.0, -1.0)
    ]  # fmt: skip
    words = [
        Words(0.0, radius_pt + 15.5, "overhead", 7.5, Anchor.MIDDLE),
        Words(0.0, -radius_pt - 20.5, down_words, 7.5, Anchor.MIDDLE),
    ]
    return areas, words


def arc_words(arcsec: float) -> str:
    """A length in the sky in the largest unit that makes it whole: 5°, 20′, 10″."""
    for size, sign in ((3600.0, "°"), (60.0, "′")):
        if arcsec >= size and arcsec % size == 0:
            return f"{arcsec / size:.0f}{sign}"
    return f"{arcsec:.0f}″"


def _unit(direction_deg: float) -> Point:
    return cos(radians(direction_deg)), sin(radians(direction_deg))


def _at(distance: float, dx: float, dy: float) -> Point:
    return distance * dx, distance * dy
