"""The little spectrum that the air makes of a star, and its length along a pair."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.sky.seeing import STANDARD_PRESSURE_HPA, dispersion_arcsec

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]

OBLIQUE_SHARE = 0.5  # dispersion along a pair of unknown position angle; calibrated by hand
STANDARD_CELSIUS = 15.0  # Edlen 1966


@dataclass(frozen=True, slots=True)
class SiteAir:
    """The air at the telescope that spreads the colours: pressure in hPa, temperature in C."""

    pressure_hpa: float = STANDARD_PRESSURE_HPA
    temperature_c: float = STANDARD_CELSIUS

    def length_arcsec(self, airmass: ArrayLike) -> Floats:
        """Length of the spectrum, upright in the sky; ``airmass`` of any shape."""
        return dispersion_arcsec(airmass, self.pressure_hpa, self.temperature_c)

    def half_arcsec(self, airmass: ArrayLike) -> Floats:
        """What counts of it where nobody knows how the pair lies."""
        return OBLIQUE_SHARE * self.length_arcsec(airmass)

    def along_arcsec(
        self, airmass: ArrayLike, position_angle_deg: ArrayLike, parallactic_angle_deg: ArrayLike
    ) -> Floats:
        """Its length along pairs: ``|cos(PA - q)|`` of it, half where PA is NaN; broadcast."""
        between = np.radians(np.subtract(position_angle_deg, parallactic_angle_deg))
        along = self.length_arcsec(airmass) * np.abs(np.cos(between))
        return np.where(np.isnan(along), self.half_arcsec(airmass), along)
