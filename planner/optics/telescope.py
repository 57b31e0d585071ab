"""The telescope as it is: what the light meets before the eyepiece."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

from planner.errors import ModelRangeError
from planner.optics.figure import Figure, turned_edge

WIDEST_TURNED_EDGE = 0.1  # zone over the aperture; beyond it the best focus is no longer plain
DEEPEST_TURNED_EDGE_WAVES = 2.0  # at the rim; a deeper zone loses all its light just the same


class Design(StrEnum):
    """How the telescope forms its image."""

    NEWTONIAN = "newtonian"
    REFRACTOR = "refractor"
    CATADIOPTRIC = "catadioptric"


class Mount(StrEnum):
    """How the telescope is moved."""

    HAND_MOVED = "hand-moved alt-azimuth"
    DRIVEN = "driven"


# Near the zenith an alt-azimuth must be swung round for every step; common practice, no source.
GREATEST_ALTITUDE_DEG = {Mount.HAND_MOVED: 80.0, Mount.DRIVEN: 90.0}


@dataclass(frozen=True, slots=True)
class Telescope:
    """One telescope. Lengths in millimetres.

    ``aperture_mm`` is the glass, ``clear_aperture_mm`` what a mask or a cell leaves open;
    every model uses the clear one. ``obstruction_mm`` is the secondary's minor axis (0 for a
    refractor). ``wavefront_rms_waves`` is the RMS error of the wave (not of the glass) at
    550 nm, a turned edge left out. ``transmission`` is the share of light that mirrors and
    lenses pass, 0..1, without the obstruction. ``barrel_mm`` is the focuser's inner barrel,
    ``diagonal_to_focus_mm`` the light path from the secondary to the focus (None where unknown
    or meaningless). ``turned_edge_width_mm`` is the width of a turned zone along the rim of the
    glass, to a tenth of the aperture, ``turned_edge_waves`` the error of the wave at that rim,
    to 2 waves; 0 for a good edge. ``greatest_altitude_deg`` is how high the mount points
    without a struggle.
    """

    name: str
    design: Design
    mount: Mount
    aperture_mm: float
    clear_aperture_mm: float
    focal_length_mm: float
    obstruction_mm: float
    wavefront_rms_waves: float
    transmission: float
    barrel_mm: float
    diagonal_to_focus_mm: float | None = None
    turned_edge_width_mm: float = 0.0
    turned_edge_waves: float = 0.0
    greatest_altitude_deg: float = 90.0

    def __post_init__(self) -> None:
        """Refuse a turned edge that the image model cannot hold."""
        widest = WIDEST_TURNED_EDGE * self.aperture_mm
        if not 0.0 <= self.turned_edge_width_mm <= widest:
            raise ModelRangeError(
                f"turned edge of {self.turned_edge_width_mm:g} mm is outside 0..{widest:g} mm, "
                "a tenth of the aperture; treat a wider error as a zone of the whole figure"
            )
        if not 0.0 <= self.turned_edge_waves <= DEEPEST_TURNED_EDGE_WAVES:
            raise ModelRangeError(
                f"turned edge of {self.turned_edge_waves:g} waves at the rim is outside "
                f"0..{DEEPEST_TURNED_EDGE_WAVES:g}; a deeper one loses its light just the same"
            )

    @property
    def obstruction_ratio(self) -> float:
        """Secondary's minor axis over the clear aperture, 0..1."""
        return self.obstruction_mm / self.clear_aperture_mm

    @property
    def focal_ratio(self) -> float:
        """Focal length over the clear aperture."""
        return self.focal_length_mm / self.clear_aperture_mm

    @property
    def throughput(self) -> float:
        """Share of the light falling on the clear aperture that reaches the eyepiece, 0..1."""
        return self.transmission * (1.0 - self.obstruction_ratio**2)

    @property
    def figure(self) -> Figure:
        """Errors of the wave over what the mask or cell leaves open.

        The turned zone falls off with the square of the distance into it, so what a mask
        leaves of it is a turned edge again: narrower by the ring covered, and shallower by the
        square of the share of the zone left.
        """
        figure = Figure(rms_waves=self.wavefront_rms_waves)
        covered = (self.aperture_mm - self.clear_aperture_mm) / 2.0
        left = (self.turned_edge_width_mm - covered) / max(self.turned_edge_width_mm, 1e-9)
        if left <= 1e-6 or self.turned_edge_waves == 0.0:
            return figure
        width_ratio = left * self.turned_edge_width_mm / (self.clear_aperture_mm / 2.0)
        edge = turned_edge(width_ratio, self.turned_edge_waves * left**2)
        return replace(edge, rms_waves=figure.rms_waves)
