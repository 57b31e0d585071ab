"""The glass as it was made: what is wrong with the wave from the whole of it."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from planner.errors import ModelRangeError
from planner.optics.figure import Figure, turned_edge, wavefront_error

WIDEST_TURNED_EDGE = 0.1  # zone over the aperture; beyond it the best focus is no longer plain
DEEPEST_TURNED_EDGE_WAVES = 2.0  # at the rim; a deeper zone loses all its light just the same


@dataclass(frozen=True, slots=True)
class Glass:
    """Errors of the wave (not of the glass) at 550 nm from the whole aperture.

    ``rms_waves`` is the RMS with a turned edge left out, ``edge_width_mm`` the width of a turned
    zone along the rim, to a tenth of the aperture, ``edge_waves`` its depth in the wave at that
    rim, to 2 waves; 0 for a good edge. ``profile`` is what a test has mapped: points (radius in mm
    from the middle, error in waves), rising, the edge left out; ``rms_waves`` is then the rest.
    """

    rms_waves: float = 0.0
    edge_width_mm: float = 0.0
    edge_waves: float = 0.0
    profile: tuple[tuple[float, float], ...] = ()

    def check(self, aperture_mm: float) -> None:
        """Refuse a turned edge that the image model cannot hold on a glass of that aperture.

        Raises:
            ModelRangeError: it is wider or deeper.
        """
        widest = WIDEST_TURNED_EDGE * aperture_mm
        if not 0.0 <= self.edge_width_mm <= widest:
            raise ModelRangeError(
                f"turned edge of {self.edge_width_mm:g} mm is outside 0..{widest:g} mm, "
                "a tenth of the aperture; treat a wider error as a zone of the whole figure"
            )
        if not 0.0 <= self.edge_waves <= DEEPEST_TURNED_EDGE_WAVES:
            raise ModelRangeError(
                f"turned edge of {self.edge_waves:g} waves at the rim is outside "
                f"0..{DEEPEST_TURNED_EDGE_WAVES:g}; a deeper one loses its light just the same"
            )

    @property
    def has_turned_edge(self) -> bool:
        """Whether there is a turned zone."""
        return self.edge_width_mm > 0.0 and self.edge_waves > 0.0

    def figure(self, aperture_mm: float, clear_aperture_mm: float) -> Figure:
        """Errors of the wave over what a mask or cell leaves open of the aperture, both in mm.

        The turned zone falls off with the square of the distance into it, so what a mask
        leaves of it is a turned edge again: narrower by the ring covered, and shallower by the
        square of the share of the zone left. A mapped profile is cut at the clear rim.
        """
        edge = self._edge(aperture_mm, clear_aperture_mm)
        if not self.profile:
            return replace(edge, rms_waves=self.rms_waves)
        radius_mm, waves = np.array(self.profile).T
        radii = radius_mm / (clear_aperture_mm / 2.0)
        inside = np.append(radii[radii < 1.0], 1.0)
        nodes = np.union1d(inside, np.array([r for r, _ in edge.profile]))
        errors = np.interp(nodes, radii, waves) + wavefront_error(edge, nodes)
        return Figure(
            rms_waves=self.rms_waves,
            profile=tuple((float(r), float(w)) for r, w in zip(nodes, errors, strict=True)),
        )

    def _edge(self, aperture_mm: float, clear_aperture_mm: float) -> Figure:
        """The turned zone alone, as far as it lies in the open."""
        covered = (aperture_mm - clear_aperture_mm) / 2.0
        left = (self.edge_width_mm - covered) / max(self.edge_width_mm, 1e-9)
        if left <= 1e-6 or self.edge_waves == 0.0:
            return Figure()
        width_ratio = left * self.edge_width_mm / (clear_aperture_mm / 2.0)
        return turned_edge(width_ratio, self.edge_waves * left**2)
