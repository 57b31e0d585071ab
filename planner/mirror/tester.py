"""Zone readings of a knife-edge test at the centre of curvature."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.errors import UsageError

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

FEWEST_ZONES = 3
LEAST_COVERED = 0.5  # of the rim's radius; less is another unit or mirror; own judgement
NODES = 8  # across a window; the travel is a smooth power series


@dataclass(frozen=True, slots=True)
class MirrorTest:
    """Readings of one mirror; all lengths in mm.

    ``zones`` are the windows (inner, outer) of the mask from the middle outwards, ``runs`` one
    reading for each window and run, growing as the knife moves away from the mirror.
    ``fixed_source`` is whether the lamp stays at the centre of curvature or moves with the
    knife. ``edge_width_mm`` and ``edge_waves`` tell a turned edge, depth at the rim.
    ``unit_mm`` is the unit that the readings were written in, for telling them.
    """

    name: str
    optical_diameter_mm: float
    radius_mm: float
    fixed_source: bool
    zones: tuple[tuple[float, float], ...]
    runs: tuple[tuple[float, ...], ...]
    edge_width_mm: float = 0.0
    edge_waves: float = 0.0
    unit_mm: float = 1.0

    def __post_init__(self) -> None:
        """Refuse windows that no mask has and runs of another length."""
        if len(self.zones) < FEWEST_ZONES:
            raise UsageError(
                f"zones: {len(self.zones)} windows; at least {FEWEST_ZONES} are needed"
            )
        before, rim = 0.0, self.optical_diameter_mm / 2.0
        for number, (inner, outer) in enumerate(self.zones, start=1):
            if not before <= inner < outer:
                raise UsageError(
                    f"zones: window {number} from {inner:g} to {outer:g} mm overlaps the one "
                    "before or is turned round; give inner and outer edge, from the middle outwards"
                )
            before = outer
        if before > rim + 1e-6:
            raise UsageError(
                f"zones: the last window ends at {before:g} mm, beyond the rim at {rim:g} mm; "
                "check it and optical_diameter"
            )
        if before < LEAST_COVERED * rim:
            raise UsageError(
                f"zones: the windows end at {before:g} mm, but the rim is at {rim:g} mm; "
                "check unit and optical_diameter"
            )
        if not self.runs:
            raise UsageError("no run; add a [[run]] with its readings")
        for number, run in enumerate(self.runs, start=1):
            if len(run) != len(self.zones):
                raise UsageError(
                    f"run {number}: {len(run)} readings for {len(self.zones)} windows; "
                    "give one each"
                )
            if not np.isfinite(run).all():
                raise UsageError(f"run {number}: a reading is no finite number; write it anew")

    @property
    def inner_mm(self) -> Floats:
        """Inner edges of the windows (zones,)."""
        return np.array([inner for inner, _ in self.zones])

    @property
    def outer_mm(self) -> Floats:
        """Outer edges of the windows (zones,)."""
        return np.array([outer for _, outer in self.zones])

    @property
    def rms_radii_mm(self) -> Floats:
        """The radius that a window's reading belongs to, by its mean slope (zones,)."""
        return np.asarray(np.sqrt((self.inner_mm**2 + self.outer_mm**2) / 2.0))


def theory_mm(test: MirrorTest) -> Floats:
    """Knife travel (zones,) that a paraboloid shows in each window, from the centre, in mm.

    Moving source ``(r1^2 + r2^2)/4R``, exact; fixed source at R
    ``(r1^2 + r2^2)/2R + (r1^4 + r1^2 r2^2 + r2^4)/6R^3``: a window is nulled by its mean slope.
    Source: ray geometry of ``h^2/2R`` and ``h^2/R + h^4/2R^3``, averaged with weight h.
    """
    a, b, radius = test.inner_mm**2, test.outer_mm**2, test.radius_mm
    if not test.fixed_source:
        return np.asarray((a + b) / (4.0 * radius))
    return np.asarray((a + b) / (2.0 * radius) + (a * a + a * b + b * b) / (6.0 * radius**3))


def sag_mm(radius_mm: float, conic: float, h_mm: Floats) -> Floats:
    """Depth of a conic at h (any shape), mm: ``h^2/(R + sqrt(R^2 - (1 + K) h^2))``."""
    return np.asarray(h_mm**2 / (radius_mm + np.sqrt(radius_mm**2 - (1.0 + conic) * h_mm**2)))


def conic_travel_mm(test: MirrorTest, conic: float) -> Floats:
    """Knife travel (zones,) that a conic shows in each window, exact, in mm.

    The normal meets the axis ``-K z`` beyond R, which a moving source shows; the ray from a
    source at R comes back at twice the normal's angle less its own. Mean over the window,
    weight h.
    """
    nodes, weights = np.polynomial.legendre.leggauss(NODES)
    middle, half = (test.inner_mm + test.outer_mm) / 2.0, (test.outer_mm - test.inner_mm) / 2.0
    h = middle[:, None] + half[:, None] * nodes
    sag, radius = sag_mm(test.radius_mm, conic, h), test.radius_mm
    travel = -conic * sag
    if test.fixed_source:
        normal = np.arctan2(h, radius + travel - sag)
        travel = sag + h / np.tan(2.0 * normal - np.arctan2(h, radius - sag)) - radius
    return np.asarray((travel * h) @ weights / (h @ weights))


def _middles_mm(test: MirrorTest) -> Floats:
    return np.asarray((test.inner_mm + test.outer_mm) / 2.0)


def across_mm(test: MirrorTest, along_mm: Floats) -> Floats:
    """Errors of readings (runs, zones) along the axis as errors of the knife across the beam, mm.

    ``h d/R`` with a fixed source, twice that with a moving one, h the window's middle.
    """
    return along_mm * _middles_mm(test) / test.radius_mm * (1.0 if test.fixed_source else 2.0)


def along_mm(test: MirrorTest, across_mm: float) -> Floats:
    """An error of the knife across the beam as an error of each window's reading (zones,), mm."""
    return test.radius_mm * across_mm / _middles_mm(test) / (1.0 if test.fixed_source else 2.0)


@dataclass(frozen=True, slots=True)
class Averaged:
    """Runs brought to one zero.

    ``readings_mm`` (zones,) are the means; ``knife_error_mm`` one setting's error across the
    beam, ``freedom`` the degrees of freedom it rests on: 0 for one run, where it is assumed.
    """

    readings_mm: Floats
    knife_error_mm: float
    freedom: int
    runs: int


ASSUMED_KNIFE_ERROR_MM = 0.002  # one run tells none; own judgement
ASSUMED_FREEDOM = 4  # degrees of freedom that this is worth; own judgement
LEAST_KNIFE_ERROR_MM = 0.0002  # runs alike to the last figure are rounded; own judgement


def averaged(test: MirrorTest) -> Averaged:
    """The runs' means after each run's own zero is taken out, and the error of a setting.

    A setting is equally sure across the beam at every zone: along it the error is
    ``sigma R/h`` with a fixed source, half of it with a moving one, so zeros are weighted by h^2,
    h the window's middle, as in the error of a step across it.
    ``sigma^2 = sum(y^2)/((runs - 1)(zones - 1))``.
    """
    given, radii = np.array(test.runs), _middles_mm(test)
    means = given.mean(axis=0)
    left = given - means
    left -= (left @ radii**2 / (radii**2).sum())[:, None]
    across = across_mm(test, left)
    freedom = (len(given) - 1) * (len(radii) - 1)
    if freedom == 0:
        return Averaged(means, ASSUMED_KNIFE_ERROR_MM, 0, 1)
    error = float(np.sqrt((across**2).sum() / freedom))
    return Averaged(means, max(error, LEAST_KNIFE_ERROR_MM), freedom, len(given))
