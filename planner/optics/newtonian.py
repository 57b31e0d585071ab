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


def fully_illuminated_field_mm(cone: LightCone) -> float:
    """Diameter in the focal plane, mm, that sees the whole main mirror: ``(a f - L D)/(f - L)``.

    0 where the diagonal is too small even for the middle of the field.
    Source: common practice; Texereau 1984, How to Make a Telescope (from memory).
    """
    a, f, path = cone.secondary_mm, cone.focal_length_mm, cone.diagonal_to_focus_mm
    return max(0.0, (a * f - path * cone.aperture_mm) / (f - path))


def edge_illumination(cone: LightCone, radius_mm: ArrayLike) -> Floats:
    """Share, 0..1, of the main mirror's light that the diagonal sends to a point off the axis.

    At the diagonal the light of that point is a circle of diameter ``D L/f`` centred
    ``r (f - L)/f`` beside the axis; the share is its overlap with the diagonal over its area.
    ``radius_mm`` distance from the middle of the field, scalar or array. The diagonal counts as
    a round stop across the axis; its offset, tube and focuser are left out.
    Source: overlap of two circles, exact geometry.
    """
    beam = cone.aperture_mm * cone.diagonal_to_focus_mm / cone.focal_length_mm / 2.0
    stop = cone.secondary_mm / 2.0
    aside = np.abs(np.asarray(radius_mm, dtype=float))
    aside = aside * (1.0 - cone.diagonal_to_focus_mm / cone.focal_length_mm)
    return np.asarray(_overlap(beam, stop, aside) / (np.pi * beam**2))


def diagonal_offset_mm(cone: LightCone) -> float:
    """How far to shift the diagonal towards the main mirror and away from the focuser, mm.

    ``a (D - H) / (4 f)`` with the fully lit field H; the same amount in both directions. The
    cone is wider on the mirror's side, so the diagonal's middle is not the cone's.
    Source: common practice; small-angle form, good to a few hundredths of a mm at f/5.
    """
    lit = fully_illuminated_field_mm(cone)
    return cone.secondary_mm * (cone.aperture_mm - lit) / (4.0 * cone.focal_length_mm)


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
