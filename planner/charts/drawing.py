"""A chart while it is made: everything is clipped to its circle as it is added."""

from __future__ import annotations

from dataclasses import dataclass, field
from math import hypot
from typing import TYPE_CHECKING

from planner.charts.clip import clipped_ellipse, clipped_line

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from planner.charts.labels import Label
    from planner.charts.scene import Area, Dot, Ellipse, Pen, Polyline


@dataclass(slots=True)
class Drawing:
    """A scene while it is made."""

    radius: float
    areas: list[Area] = field(default_factory=list)
    lines: list[Polyline] = field(default_factory=list)
    ellipses: list[Ellipse] = field(default_factory=list)
    dots: list[Dot] = field(default_factory=list)
    labels: list[Label] = field(default_factory=list)

    def line(self, points: list[tuple[float, float]], pen: Pen) -> None:
        """Add what of a line lies in the circle."""
        self.lines += clipped_line(points, self.radius, pen)

    def ellipse(self, ellipse: Ellipse) -> None:
        """Add an ellipse, or the parts of it in the circle."""
        whole, parts = clipped_ellipse(ellipse, self.radius)
        self.ellipses += whole
        self.lines += parts


def chart_point(pair: NDArray[np.float64]) -> tuple[float, float]:
    """A place on the chart, points from its centre."""
    return float(pair[0]), float(pair[1])


def towards(a: tuple[float, float], b: tuple[float, float], by: float) -> tuple[float, float]:
    """A place moved so many points towards another, at most four tenths of the way."""
    length = hypot(b[0] - a[0], b[1] - a[1])
    share = min(0.4, by / length) if length else 0.0
    return a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])
