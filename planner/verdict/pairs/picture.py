"""How a pair looks: its picture from the transfer functions that judge it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.eye.acuity import blur_fwhm_arcmin, image_brightness_mag
from planner.optics.image import instrument_mtf, mtf_nodes, psf_matrix
from planner.sky.seeing import (
    apertures_per_r0,
    atmosphere_mtf,
    line_of_sight_fwhm,
)
from planner.verdict.pairs.profiles import RADII, SplitInstrument, blur_mtf
from planner.verdict.pairs.spectrum import SiteAir

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import ArrayLike, NDArray

    from planner.optics.orientation import Orientation

    Floats = NDArray[np.float64]

MOMENTS = (0.6, 1.0, 1.6)  # of tonight's seeing: a good moment, the usual one, a poor one
STEVENS_POINT_EXPONENT = 0.5  # brightness over light of a point; Stevens 1961, Science 133, 80
FAINTEST_GREY = 0.3  # grey of a lone companion's crest; own choice, for a common screen
FEWEST_PIXELS, MOST_PIXELS = 241, 1001
PIXELS_PER_LAMBDA_D = 10.0


@dataclass(frozen=True, slots=True)
class PairSight:
    """One pair in one view of one telescope.

    ``position_angle_deg`` None draws the companion to the east. ``v1`` and ``v2`` are
    catalogue magnitudes, ``extinction_mag`` is lost per airmass, ``zenith_seeing_arcsec`` the
    FWHM of tonight overhead.
    """

    instrument: SplitInstrument
    magnification: float
    exit_pupil_mm: float
    separation_arcsec: float
    position_angle_deg: float | None
    v1: float
    v2: float
    airmass: float
    extinction_mag: float
    zenith_seeing_arcsec: float
    air: SiteAir = SiteAir()

    @property
    def flux_ratio(self) -> float:
        """The second star's light over the first's."""
        return float(10.0 ** (-0.4 * (self.v2 - self.v1)))

    @property
    def blur_arcsec(self) -> float:
        """FWHM of the eye's blur and of the air's spectrum together.

        The eye's for the fainter star's brightness, as in the verdict. The spectrum, of which
        the verdict takes the part along the pair, is drawn round here, at half its length.
        """
        faint = max(self.v1, self.v2) + self.extinction_mag * self.airmass
        brightness = image_brightness_mag(
            faint, self.instrument.clear_aperture_mm, self.exit_pupil_mm
        )
        eye = float(blur_fwhm_arcmin(brightness)) * 60.0 / self.magnification
        return float(np.hypot(eye, self.air.half_arcsec(self.airmass)))


@dataclass(frozen=True, slots=True, eq=False)
class PairPicture:
    """The pair at K moments, (K, n, n): light per square arcsecond, the first star giving 1.

    Rows go up, columns to the right; the middle between the stars is in the centre.
    ``fwhm_arcsec`` (K,) is the seeing in the line of sight; ``first`` and ``second`` are the
    stars' places as (right, up) in arcsec from the centre.
    """

    images: Floats
    half_width_arcsec: float
    fwhm_arcsec: Floats
    first: tuple[float, float]
    second: tuple[float, float]
    orientation: Orientation


def star_psfs(instrument: SplitInstrument, fwhm_arcsec: ArrayLike, blur_arcsec: float) -> Floats:
    """Light per square arcsecond of a star that gives 1 in all: (K, R) over ``RADII``.

    The Hankel transform of instrument x air x blur. ``fwhm_arcsec`` (K,) is the seeing in
    the line of sight, above 0; ``RADII`` are in lambda/D, to 60.5.
    Source: as the tables of ``split_profiles``. Limits: the mean of many moments, without
    speckles or the glare in the eye.
    """
    frequency, _ = mtf_nodes()
    unit = instrument.resolution_arcsec
    broken = apertures_per_r0(instrument.clear_aperture_mm, fwhm_arcsec)
    transfer = (
        instrument_mtf(frequency, instrument.obstruction_ratio, instrument.figure)
        * atmosphere_mtf(frequency, np.atleast_1d(broken)[:, None], instrument.tilt_followed)
        * blur_mtf(frequency, blur_arcsec / unit)
    )
    peak = np.pi / 4.0 * (1.0 - instrument.obstruction_ratio**2) / unit**2  # a perfect image's
    return transfer @ psf_matrix(RADII, instrument.obstruction_ratio) * peak


def pair_picture(
    sight: PairSight, orientation: Orientation, moments: Sequence[float] = MOMENTS
) -> PairPicture:
    """The pair at moments that are so many times tonight's seeing."""
    fwhm = line_of_sight_fwhm(sight.zenith_seeing_arcsec * np.asarray(moments), sight.airmass)
    profiles = np.maximum(star_psfs(sight.instrument, fwhm, sight.blur_arcsec), 0.0)
    unit = sight.instrument.resolution_arcsec
    first, second = _places(sight, orientation)
    half = 0.5 * sight.separation_arcsec + 2.0 * float(np.hypot(np.median(fwhm), 1.2 * unit))
    half = max(half, 0.6 * sight.separation_arcsec)
    pixels = int(np.clip(2.0 * half / unit * PIXELS_PER_LAMBDA_D, FEWEST_PIXELS, MOST_PIXELS))
    axis = np.linspace(-half, half, pixels)
    light = [(first, 1.0), (second, sight.flux_ratio)]
    away = [np.hypot(axis - right, axis[:, None] - up) / unit for (right, up), _ in light]
    images = [
        sum(
            share * np.interp(radius, RADII, profile, right=0.0)
            for radius, (_, share) in zip(away, light, strict=True)
        )
        for profile in profiles
    ]
    return PairPicture(np.array(images), half, fwhm, first, second, orientation)


def _places(
    sight: PairSight, orientation: Orientation
) -> tuple[tuple[float, float], tuple[float, float]]:
    """Both stars as (right, up) in arcsec from the middle between them."""
    angle = np.radians(90.0 if sight.position_angle_deg is None else sight.position_angle_deg)
    north, east = np.array(orientation.north), np.array(orientation.east)
    half = 0.5 * sight.separation_arcsec * (np.cos(angle) * north + np.sin(angle) * east)
    right, up = float(half[0]), float(half[1])
    return (-right, -up), (right, up)


def white_share(flux_ratio: float) -> float:
    """Share, 0..1, of the most light in a picture that is drawn white, for a flux ratio above 0.

    1 for stars not too unlike. Less where a lone fainter star's crest would come out darker
    than a third of white: a screen shows less contrast than a dark eyepiece, so the brighter
    star burns out instead. Source: our own choice, no source.
    """
    faint = min(flux_ratio, 1.0 / flux_ratio)
    return float(min(1.0, faint / FAINTEST_GREY ** (1.0 / STEVENS_POINT_EXPONENT)))


def greys(images: ArrayLike, white: float) -> Floats:
    """Greys 0..1 of light, ``(light / (white most light))^0.5``; one scale for all of an array.

    Source: Stevens 1961, Science 133, 80 (from memory): brightness grows with the root of
    the light of a point.
    """
    light = np.asarray(images, dtype=float)
    return np.asarray(np.minimum(light / (white * light.max()), 1.0) ** STEVENS_POINT_EXPONENT)
