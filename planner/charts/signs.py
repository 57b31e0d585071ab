"""Signs of what is no star: each common to several printed atlases; sizes are the sky's own."""

from __future__ import annotations

from math import cos, radians, sin
from typing import TYPE_CHECKING

from planner.charts.scene import Ellipse, Pen, Polyline
from planner.targets.kind import Kind

if TYPE_CHECKING:
    from planner.charts.projection import Projection

LEAST_PT = 3.2  # half axis of the smallest sign; own judgement
WIDE_SHARE = 0.6  # an object wider than this of the circle is marked in its middle
BARS_PT = (5.5, 11.0)  # from where to where the bars at a target reach
PAIR_BAR_PT = (8.0, 4.5)  # on the companion's side and on the other
_PENS = {
    Kind.OPEN_CLUSTER: Pen.DOTTED,
    Kind.NEBULA: Pen.DASHED,
}


def sign(
    kind: Kind,
    at: tuple[float, float],
    axes_arcmin: tuple[float, float] | None,
    position_angle_deg: float | None,
    projection: Projection,
) -> tuple[Ellipse, list[Polyline]]:
    """The outline of an object at its position angle, and the strokes that belong to its kind.

    Galaxy solid, open cluster dotted, nebula dashed, globular cluster with a cross, planetary
    with four ticks.
    """
    scale = projection.points_per_deg / 60.0 / 2.0
    major, minor = (max(LEAST_PT, scale * axis) for axis in axes_arcmin or (0.0, 0.0))
    if kind is Kind.GALAXY and major == minor == LEAST_PT:
        minor = 0.6 * LEAST_PT
    turn = projection.direction_deg(position_angle_deg or 0.0)
    x, y = at
    outline = Ellipse(x, y, (major, minor), turn, _PENS.get(kind, Pen.SOLID))
    if kind is Kind.GLOBULAR_CLUSTER:
        return outline, _cross(at, (0.0, major))
    if kind is Kind.PLANETARY_NEBULA:
        return outline, _cross(at, (major, major + 3.0))
    return outline, []


def _cross(
    at: tuple[float, float], reach: tuple[float, float], pen: Pen = Pen.SOLID
) -> list[Polyline]:
    x, y = at
    near, far = reach
    return [
        Polyline(((x + near * dx, y + near * dy), (x + far * dx, y + far * dy)), pen)
        for dx, dy in ((1, 0), (0, 1), (-1, 0), (0, -1))
    ]


def target_bars(clear_pt: float) -> list[Polyline]:
    """Four short bars around the middle, with a gap for what is there."""
    near = max(BARS_PT[0], clear_pt + 2.0)
    return _cross((0.0, 0.0), (near, near + BARS_PT[1] - BARS_PT[0]), Pen.MARK)


def pair_bar(position_angle_deg: float, projection: Projection) -> list[Polyline]:
    """A bar along the position angle, longer on the companion's side."""
    turn = radians(projection.direction_deg(position_angle_deg))
    along = (cos(turn), sin(turn))
    near, far = PAIR_BAR_PT
    inner = 2.5
    return [
        Polyline(((inner * along[0], inner * along[1]), (inner * along[0] + near * along[0],
                 inner * along[1] + near * along[1])), Pen.MARK),
        Polyline(((-inner * along[0], -inner * along[1]), (-inner * along[0] - far * along[0],
                 -inner * along[1] - far * along[1])), Pen.MARK),
    ]  # fmt: skip
