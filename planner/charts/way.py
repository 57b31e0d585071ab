"""The way to a target on a chart: rings around its stars, and the legs."""

from __future__ import annotations

from math import hypot
from typing import TYPE_CHECKING

from planner.charts.drawing import chart_point, towards
from planner.charts.labels import Label
from planner.charts.letters import printed
from planner.charts.scene import Ellipse, Face, Pen

if TYPE_CHECKING:
    from planner.charts.drawing import Drawing
    from planner.charts.projection import Projection
    from planner.hops.hop import Hop, Stop

STOP_PRIORITY = 1
LEG_GAP_PT = 5.0  # a leg ends so far from the middle of what it joins
STOP_LETTERS = "ABCDEFGH"


def way_stops(hop: Hop) -> list[Stop]:
    """The stars of a way from its start on, without the target."""
    if hop.start is None:
        return []
    return [hop.start, *(leg.to for leg in hop.legs[:-1])]


def ringed_stops(hop: Hop, legs: bool) -> list[Stop]:
    """The stars of a way that a chart rings: all beside its legs, else the start alone."""
    return way_stops(hop) if legs else way_stops(hop)[:1]


def draw_way(drawing: Drawing, projection: Projection, hop: Hop, legs: bool) -> None:
    """Rings around the stars of the way with their names, and in the finder the legs."""
    stops = ringed_stops(hop, legs)
    points = [chart_point(projection.place(s.ra_deg, s.dec_deg)[0]) for s in stops]
    for number, (stop, point) in enumerate(zip(stops, points, strict=True)):
        if hypot(*point) > drawing.radius - 5.0:
            continue
        drawing.ellipse(Ellipse(*point, (5.0, 5.0), 0.0, Pen.RING))
        unnamed = STOP_LETTERS[number - 1] if number else "start"
        name = printed(stop.name) or unnamed
        drawing.labels.append(Label(*point, name, STOP_PRIORITY, 8.0, Face.BOLD, 5.6, True))
    if legs:
        ends = [*points, (0.0, 0.0)]
        for a, b in zip(ends[:-1], ends[1:], strict=True):
            if hypot(b[0] - a[0], b[1] - a[1]) > 2.5 * LEG_GAP_PT:
                last = 1.6 if b == (0.0, 0.0) else 1.0
                drawing.line([towards(a, b, LEG_GAP_PT), towards(b, a, last * LEG_GAP_PT)],
                             Pen.LEG)  # fmt: skip
