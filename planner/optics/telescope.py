"""The telescope as it is: what the light meets before the eyepiece."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from typing import TYPE_CHECKING

from planner.optics.glass import Glass

if TYPE_CHECKING:
    from planner.optics.figure import Figure
    from planner.optics.stand import Stand


class Design(StrEnum):
    """How the telescope forms its image."""

    NEWTONIAN = "newtonian"
    REFRACTOR = "refractor"
    CATADIOPTRIC = "catadioptric"


class Diagonal(StrEnum):
    """What stands before the eyepiece of a refractor or catadioptric; a Newtonian has none."""

    MIRROR = "mirror"
    ERECTING = "erecting"
    NONE = "none"


class Mount(StrEnum):
    """How the telescope is moved."""

    HAND_MOVED = "hand-moved alt-azimuth"
    DRIVEN = "driven"


# Near the zenith an alt-azimuth must be swung round for every step; common practice, no source.
GREATEST_ALTITUDE_DEG = {Mount.HAND_MOVED: 80.0, Mount.DRIVEN: 90.0}


@dataclass(frozen=True, slots=True)
class Telescope:
    """One telescope. Lengths in millimetres.

    ``aperture_mm`` is the glass, ``clear_aperture_mm`` what a mask or a cell leaves open; every
    model uses the clear one. ``obstruction_mm`` is the secondary's minor axis (0 for a
    refractor). ``glass`` holds the errors of the wave. ``transmission`` is the share of light
    that mirrors and lenses pass, 0..1, without the obstruction. ``barrel_mm`` is the focuser's
    inner barrel, ``diagonal_to_focus_mm`` the light path from the secondary to the focus (None
    where unknown or meaningless). ``greatest_altitude_deg`` is how high the mount points
    without a struggle. ``stand`` tells how high the eyepiece stands, None where unknown.
    ``focuser_angle_deg`` is where the focuser or the diagonal points, seen along the tube towards
    the sky: 0 right, 90 on top, 180 left; None where it is not told.
    ``glass_band`` is the glass as poor and as good as a mirror test allows, None without one.
    """

    name: str
    design: Design
    mount: Mount
    aperture_mm: float
    clear_aperture_mm: float
    focal_length_mm: float
    obstruction_mm: float
    glass: Glass
    transmission: float
    barrel_mm: float
    diagonal_to_focus_mm: float | None = None
    greatest_altitude_deg: float = 90.0
    stand: Stand | None = None
    focuser_angle_deg: float | None = None
    diagonal: Diagonal = Diagonal.NONE
    glass_band: tuple[Glass, Glass] | None = None

    def __post_init__(self) -> None:
        """Refuse a turned edge that the image model cannot hold."""
        self.glass.check(self.aperture_mm)

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
    def as_tested(self) -> tuple[Telescope, Telescope] | None:
        """The telescope with its glass as poor and as good as a mirror test allows, or None."""
        if self.glass_band is None:
            return None
        poor, good = self.glass_band
        return replace(self, glass=poor), replace(self, glass=good)

    @property
    def figure(self) -> Figure:
        """Errors of the wave over what the mask or cell leaves open."""
        return self.glass.figure(self.aperture_mm, self.clear_aperture_mm)
