"""Star images of one telescope over a grid of seeing and of other blur."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.constants import LAMBDA_ARCSEC_MM
from planner.errors import ModelRangeError
from planner.optics.figure import Figure
from planner.optics.image import instrument_mtf, mtf_nodes, psf_matrix
from planner.sky.seeing import TILT_FOLLOWED, atmosphere_mtf

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]
    Singles = NDArray[np.float32]

APERTURES_MM = (20.0, 1000.0)  # range the model is meant for
D_OVER_R0 = np.concatenate([[0.0], np.geomspace(0.35, 30.0, 35)])  # seeing axis, (36,)
SEEING_STEPS = np.arcsinh(D_OVER_R0 ** (5.0 / 3.0))  # coordinate it is interpolated in
BLUR_KNEE = 0.3  # square of the blur, (lambda/D)^2, where its axis turns logarithmic
BLUR_STEP = 0.4
BLUR_COUNT = 16
BLURS = np.sqrt(BLUR_KNEE * np.expm1(BLUR_STEP * np.arange(BLUR_COUNT)))  # FWHM, lambda/D
EVERY_BLUR = range(BLUR_COUNT)
RADII = np.concatenate([np.linspace(0.0, 4.0, 201), np.geomspace(4.0, 60.5, 241)[1:]])


@dataclass(frozen=True, slots=True)
class SplitInstrument:
    """What of a telescope and its owner enters the image of a double star.

    ``age_years`` sets the eye's glare, ``tilt_followed`` is the share of the image's motion
    that the owner's eye follows (0.7..1.0; the model's main uncertainty).
    """

    clear_aperture_mm: float
    obstruction_ratio: float
    figure: Figure = Figure()
    age_years: float = 50.0
    tilt_followed: float = TILT_FOLLOWED

    def __post_init__(self) -> None:
        """Refuse what lies outside the model."""
        low, high = APERTURES_MM
        if not low <= self.clear_aperture_mm <= high:
            raise ModelRangeError(
                f"clear aperture of {self.clear_aperture_mm} mm is outside {low:g}..{high:g} mm"
            )
        if not 0.0 <= self.tilt_followed <= 1.0:
            raise ModelRangeError(f"tilt_followed of {self.tilt_followed} is outside 0..1")

    @property
    def resolution_arcsec(self) -> float:
        """lambda/D in arcsec, the unit of every angle in the tables."""
        return LAMBDA_ARCSEC_MM / self.clear_aperture_mm


@dataclass(frozen=True, slots=True)
class StarImages:
    """Profiles (R, S, B) over radius, seeing and blur, and their radii (R,) in lambda/D.

    ``filled`` is the profile with its dark rings filled in: never below what lies further
    out, since real rings are broken and moving and a dark ring is no help.
    """

    profile: Singles
    filled: Singles


def blur_mtf(frequency: ArrayLike, fwhm: ArrayLike) -> Floats:
    """Contrast left by a Gaussian blur of a FWHM in lambda/D; broadcast.

    ``exp(-(pi f FWHM)^2 / (4 ln 2))``, the Fourier transform of the Gaussian.
    """
    product = np.pi * np.asarray(frequency, dtype=float) * np.asarray(fwhm, dtype=float)
    return np.asarray(np.exp(-(product**2) / (4.0 * np.log(2.0))))


def star_images(instrument: SplitInstrument, blurs: range = EVERY_BLUR) -> StarImages:
    """Profiles of a star for every step of seeing, and the steps of blur named."""
    frequency, _ = mtf_nodes()
    optics = instrument_mtf(frequency, instrument.obstruction_ratio, instrument.figure)
    air = atmosphere_mtf(frequency, D_OVER_R0[:, None], instrument.tilt_followed)
    blur = blur_mtf(frequency, BLURS[blurs, None])
    transfer = (optics * air)[:, None, :] * blur
    matrix = psf_matrix(RADII, instrument.obstruction_ratio)
    profile = np.tensordot(matrix, transfer, axes=(0, 2)).astype(np.float32)
    filled = np.maximum.accumulate(profile[::-1], axis=0)[::-1]
    return StarImages(profile, np.ascontiguousarray(filled))


def at_radius(values: Singles, radius: Floats) -> Singles:
    """Values (R, ...) interpolated linearly at radii (any shape, 0..60 lambda/D)."""
    place = np.interp(radius, RADII, np.arange(RADII.size, dtype=float))
    low = np.minimum(place.astype(np.intp), RADII.size - 2)
    share = (place - low).astype(np.float32)
    share = share.reshape(share.shape + (1,) * (values.ndim - 1))
    below = values[low]
    return np.asarray(below + share * (values[low + 1] - below))
