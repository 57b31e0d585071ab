"""The whole glass: the wave of the windows with the turned edge that is told apart."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.optics.figure import strehl
from planner.optics.glass import Glass

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from planner.mirror.reduction import Reduction
    from planner.optics.figure import Figure


def whole_figure(found: Reduction, wave: NDArray[np.float64]) -> Figure:
    """A wave at ``found.rho`` (RADII,) as a figure, its turned edge added."""
    test = found.test
    diameter = test.optical_diameter_mm
    points = zip((found.rho * diameter / 2.0).tolist(), wave.tolist(), strict=True)
    glass = Glass(0.0, test.edge_width_mm, test.edge_waves, tuple(points))
    return glass.figure(diameter, diameter)


def strehl_with_edge(found: Reduction) -> float | None:
    """Strehl ratio of the most likely wave and the turned edge; None without an edge."""
    test = found.test
    if not (test.edge_width_mm and test.edge_waves):
        return None
    return strehl(whole_figure(found, found.wave), 0.0)
