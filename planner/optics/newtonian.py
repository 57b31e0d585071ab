"""The Newtonian reflector: its diagonal, its coma, and how exactly it must be set."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.constants import WAVELENGTH_NM
from planner.errors import ModelRangeError
from planner.optics.telescope import Design, Telescope

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]

WAVELENGTH_MM = WAVELENGTH_NM * 1e-6
DIFFRACTION_LIMIT_RMS_WAVES = 1.0 / 14.0  # Strehl 0.82: Marechal's limit, Born & Wolf 9.3
COMA_RMS_DIVISOR = 32.0 * 72.0**0.5  # W = h/(32 F^3), rms of x(x^2+y^2), balanced: 1/sqrt(72)
CAREFUL_COLLIMATION = 0.005  # mm at F = 1, for high power: common practice, no source


@dataclass(frozen=True, slots=True)
class LightCone:
    """The converging light and the diagonal in it; all in mm, all above 0.

    ``secondary_mm`` is the diagonal's minor axis, ``diagonal_to_focus_mm`` the path from the
    diagonal's centre to the focus. Raises ``ModelRangeError`` where the focus lies nearer to
    the diagonal than 0 or farther than the main mirror, and for a diagonal of no size.
    """

    aperture_mm: float
    focal_length_mm: float
    secondary_mm: float
    diagonal_to_focus_mm: float

    def __post_init__(self) -> None:
        """Refuse a diagonal that is not between the main mirror and its focus."""
        if not 0.0 < self.diagonal_to_focus_mm < self.focal_length_mm:
            raise ModelRangeError(
                f"diagonal to focus {self.diagonal_to_focus_mm} mm must be above 0 and below "
                f"the focal length, {self.focal_length_mm} mm"
            )
        if not self.secondary_mm > 0.0:
            raise ModelRangeError(f"secondary {self.secondary_mm} mm must be above 0 mm")


def light_cone(telescope: Telescope) -> LightCone | None:
    """The light cone of a Newtonian; None for another design or an unknown diagonal.

    A secondary of 0 hides nothing, being off the axis: how large it is remains unknown.
    """
    if telescope.design is not Design.NEWTONIAN or telescope.diagonal_to_focus_mm is None:
        return None
    if telescope.obstruction_mm == 0.0:
        return None
    return LightCone(
        aperture_mm=telescope.clear_aperture_mm,
        focal_length_mm=telescope.focal_length_mm,
        secondary_mm=telescope.obstruction_mm,
        diagonal_to_focus_mm=telescope.diagonal_to_focus_mm,
    )


def least_diagonal_mm(
    aperture_mm: float, focal_length_mm: float, path_mm: float, field_mm: ArrayLike
) -> Floats:
    """The least minor axis, mm, that lights a field of ``field_mm`` across fully.

    ``(H + k L) / (1 - k^2/4)`` with ``k = (D - H)/f``, the diagonal set off as
    :func:`diagonal_offset_mm` tells. D aperture, f focal length, L from the diagonal to the
    focus, H the field, all in mm; H scalar or array, from 0. ``k`` below 2, as for all f/1.
    Source: the section of a round cone at 45 degrees, exact geometry.
    """
    field = np.asarray(field_mm, dtype=float)
    k = (aperture_mm - field) / focal_length_mm
    return np.asarray((field + k * path_mm) / (1.0 - k**2 / 4.0))


def fully_illuminated_field_mm(cone: LightCone) -> float:
    """Diameter in the focal plane, mm, that sees the whole main mirror.

    :func:`least_diagonal_mm` solved for the field; the diagonal is set off as it should be. 0
    where it is too small even for the middle. The shorter form ``(a f - L D)/(f - L)`` promises
    0.3 mm more at f/6. Source: exact geometry.
    """
    return max(0.0, cone.aperture_mm - _cone_slope(cone) * cone.focal_length_mm)


def edge_illumination(cone: LightCone, radius_mm: ArrayLike) -> Floats:
    """Share, 0..1, of the main mirror's light that the diagonal sends to a point off the axis.

    At the diagonal the light of that point is a circle of diameter ``D L/f`` centred
    ``r (f - L)/f`` beside the axis; the share is its overlap with a round stop over its area.
    The stop is ``a (1 - k^2/4)`` wide, k as for :func:`least_diagonal_mm`, which makes the share
    begin to fall where rays traced over the tilted diagonal do.
    ``radius_mm`` distance from the middle of the field, scalar or array. The diagonal is set off
    as it should be; tube and focuser are left out.
    Source: overlap of two circles, exact geometry. Limits: within 0.01 of traced rays from f/4,
    as the mean over all directions from the middle; towards the tube's two ends they differ.
    """
    beam = cone.aperture_mm * cone.diagonal_to_focus_mm / cone.focal_length_mm / 2.0
    stop = cone.secondary_mm * (1.0 - _cone_slope(cone) ** 2 / 4.0) / 2.0
    aside = np.abs(np.asarray(radius_mm, dtype=float))
    aside = aside * (1.0 - cone.diagonal_to_focus_mm / cone.focal_length_mm)
    return np.asarray(_overlap(beam, stop, aside) / (np.pi * beam**2))


def diagonal_offset_mm(cone: LightCone) -> float:
    """How far to shift the diagonal towards the main mirror and away from the focuser, mm.

    ``a k / 4``, ``k = (D - H)/f`` with the fully lit field H; the same amount in both
    directions. The cone is wider on the mirror's side, so the diagonal's middle is not the
    cone's. Source: exact geometry where the diagonal is no larger than H needs.
    """
    lit = fully_illuminated_field_mm(cone)
    return cone.secondary_mm * (cone.aperture_mm - lit) / (4.0 * cone.focal_length_mm)


def clear_ring_mm(aperture_mm: float, distance_mm: ArrayLike, field_deg: float) -> Floats:
    """The least inner diameter, mm, of a ring or tube that takes no light from a field.

    ``D + 2 l tan(field/2)``: the light of a field ``field_deg`` across on its way to a mirror of
    ``aperture_mm`` is as wide at ``distance_mm`` before it, scalar or array. Source: geometry.
    """
    spread = 2.0 * np.asarray(distance_mm, dtype=float) * np.tan(np.radians(field_deg) / 2.0)
    return np.asarray(aperture_mm + spread)


def _cone_slope(cone: LightCone) -> float:
    """``k`` of the widest cone that goes over the diagonal: ``D - k(f - L) - a + a k^2/4 = 0``.

    Where no k solves it, as below about f/1, the one that comes nearest.
    """
    a, free = cone.secondary_mm, cone.focal_length_mm - cone.diagonal_to_focus_mm
    root = np.sqrt(max(0.0, free**2 - a * (cone.aperture_mm - a)))
    return float(2.0 * (cone.aperture_mm - a) / (free + root))


def coma_free_radius_mm(
    focal_ratio: ArrayLike, rms_waves: float = DIFFRACTION_LIMIT_RMS_WAVES
) -> Floats:
    """Radius in the focal plane, mm, within which coma stays below ``rms_waves``.

    The RMS of the wave at a height h is ``h / (32 sqrt(72) F^3)``, with the best tilt taken out,
    as the eye does; solved for h: about ``0.0107 F^3`` for 1/14 wave. (The often quoted
    ``0.022 F^3`` is the diameter.) ``focal_ratio`` above 0, scalar or array.
    Source: Born & Wolf 1999, sec. 9.2 (Zernike coma).
    """
    cube = np.asarray(focal_ratio, dtype=float) ** 3
    return np.asarray(rms_waves * COMA_RMS_DIVISOR * WAVELENGTH_MM * cube)


def collimation_tolerance_mm(focal_ratio: ArrayLike) -> Floats:
    """How near the main mirror's axis should pass the eyepiece's middle, mm: ``0.005 F^3``.

    The careful aim for high power: coma of about 1/30 wave RMS in the middle of the field.
    Beyond :func:`coma_free_radius_mm` the middle is no longer sharp to the diffraction limit.
    ``focal_ratio`` above 0, scalar or array. Source: common practice, no source.
    """
    return np.asarray(CAREFUL_COLLIMATION * np.asarray(focal_ratio, dtype=float) ** 3)


def depth_of_focus_mm(focal_ratio: ArrayLike) -> Floats:
    """How far to either side the focus may be off, mm: ``2 lambda F^2``, a quarter wave.

    ``focal_ratio`` above 0, scalar or array; 550 nm. Source: Rayleigh's quarter-wave rule.
    """
    return np.asarray(2.0 * WAVELENGTH_MM * np.asarray(focal_ratio, dtype=float) ** 2)


def _overlap(radius: float, other: float, distance: Floats) -> Floats:
    """Area common to two circles whose centres are ``distance`` apart."""
    d = np.clip(distance, max(abs(radius - other), 1e-12), radius + other)  # inside .. apart
    half_1 = np.arccos(np.clip((d**2 + radius**2 - other**2) / (2.0 * d * radius), -1.0, 1.0))
    half_2 = np.arccos(np.clip((d**2 + other**2 - radius**2) / (2.0 * d * other), -1.0, 1.0))
    return np.asarray(
        radius**2 * (half_1 - np.sin(2.0 * half_1) / 2.0)
        + other**2 * (half_2 - np.sin(2.0 * half_2) / 2.0)
    )
