"""One telescope, one observer and one usual sky, as every judge wants them."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from planner.eye.stars import EyeAtTelescope
from planner.sky.seeing import TILT_FOLLOWED

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from planner.eye.observer import Observer
    from planner.optics.telescope import Telescope

    Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Settings:
    """What of the model was set by hand and differs from person to person.

    ``tilt_followed`` is the share of the image's motion that the eye follows, 0..1.
    ``companion_handicap_mag`` is by how much harder than the model's an unequal companion is, in
    magnitudes for each magnitude of difference from 1 to 2; 0 takes the model as it is.
    """

    tilt_followed: float = TILT_FOLLOWED
    companion_handicap_mag: float = 0.0


@dataclass(frozen=True, slots=True)
class Setup:
    """One telescope, one observer and one usual sky.

    ``zenith_sky_mag`` is the moonless zenith, V mag per square arcsecond, ``seeing_arcsec`` the
    full width of a star at half its light, ``extinction_mag`` the magnitudes lost per airmass.
    """

    telescope: Telescope
    observer: Observer
    zenith_sky_mag: float
    seeing_arcsec: float
    extinction_mag: float
    settings: Settings = field(default_factory=Settings)

    @property
    def zenith_loss_mag(self) -> float:
        """Magnitudes the air takes overhead beyond those the observer's factor contains."""
        return self.extinction_mag - self.observer.factor_air_mag

    @property
    def eye(self) -> EyeAtTelescope:
        """The observer's eye behind the telescope, as the eye models want it."""
        telescope, observer = self.telescope, self.observer
        return EyeAtTelescope(
            aperture_mm=telescope.clear_aperture_mm,
            obstruction_mm=telescope.obstruction_mm,
            transmission=telescope.transmission,
            eye_pupil_mm=observer.dark_pupil_mm,
            field_factor=observer.field_factor,
        )

    def dimming_mag(self, airmass: ArrayLike) -> Floats:
        """Magnitudes the air takes at an airmass (any shape), against the observer's factor."""
        beyond = np.asarray(airmass, dtype=float) - 1.0
        return np.asarray(self.extinction_mag * beyond + self.zenith_loss_mag)
