"""The picture of a pair against optics, the air and the sense of the sky."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from split_telescope import pairs, sky, tables_of, telescope, worst_of

from planner.optics.orientation import Orientation, orientation_in
from planner.optics.telescope import Design
from planner.verdict.pairs.criteria import SplitClass
from planner.verdict.pairs.picture import (
    FAINTEST_GREY,
    PairSight,
    greys,
    pair_picture,
    star_psfs,
    white_share,
)
from planner.verdict.pairs.profiles import RADII, SplitInstrument

PERFECT = SplitInstrument(154.0, 0.0)
STILL_AIR = 0.01  # seeing, arcsec, in which the air does nothing
SIGHT = PairSight(
    instrument=telescope(), magnification=208.0, exit_pupil_mm=0.74, separation_arcsec=6.0,
    position_angle_deg=0.0, v1=4.0, v2=6.0, airmass=1.0, extinction_mag=0.16,
    zenith_seeing_arcsec=1.5,
)  # fmt: skip


def fwhm_arcsec(profile: np.ndarray, instrument: SplitInstrument) -> float:
    """Full width at half maximum of a profile that falls from its centre."""
    half = int(np.argmax(profile < 0.5 * profile[0]))
    radius = np.interp(0.5 * profile[0], profile[half : half - 2 : -1], RADII[half : half - 2 : -1])
    return float(2.0 * radius * instrument.resolution_arcsec)


def test_profile_in_still_air_has_schroeders_width() -> None:
    """Schroeder 2000: 1.029 lambda/D for a perfect clear circle."""
    (profile,) = star_psfs(PERFECT, [STILL_AIR], 0.0)
    width = fwhm_arcsec(profile, PERFECT) / PERFECT.resolution_arcsec
    assert width == pytest.approx(1.029, abs=0.003)


def test_profile_in_still_air_has_the_peak_of_the_airy_disc() -> None:
    """Born & Wolf 1999, 8.5: pi D^2 / (4 lambda^2) of the light per square radian."""
    (profile,) = star_psfs(PERFECT, [STILL_AIR], 0.0)
    assert profile[0] == pytest.approx(np.pi / 4.0 / PERFECT.resolution_arcsec**2, rel=0.001)


@pytest.mark.parametrize("seeing", [4.0, 6.0])
def test_profile_in_poor_seeing_has_the_seeings_width(seeing: float) -> None:
    """Fried 1966: the long exposure's FWHM is the seeing, plus 2 % from a 300 mm telescope."""
    large = SplitInstrument(300.0, 0.0, tilt_followed=0.0)
    (profile,) = star_psfs(large, [seeing], 0.0)
    assert fwhm_arcsec(profile, large) == pytest.approx(seeing, rel=0.02)


def test_profile_in_wide_blur_is_the_gaussian() -> None:
    """A Gaussian of unit light has a peak of 4 ln 2 / (pi FWHM^2); the Airy wings take a little.

    A circle's contrast falls as 1 - (4/pi) f (O'Neill 1956); over a Gaussian F lambda/D wide the
    mean f is sqrt(pi ln 2) / (pi F). Tolerance: the next terms of the series.
    """
    blur = 10.0 * PERFECT.resolution_arcsec
    (profile,) = star_psfs(PERFECT, [STILL_AIR], blur)
    wings = 4.0 / np.pi * np.sqrt(np.pi * np.log(2.0)) / (np.pi * 10.0)
    peak = 4.0 * np.log(2.0) / (np.pi * blur**2) * (1.0 - wings)
    assert profile[0] == pytest.approx(peak, rel=0.002)
    assert fwhm_arcsec(profile, PERFECT) == pytest.approx(blur, rel=0.03)


@pytest.mark.parametrize("obstruction", [0.0, 0.3])
def test_profile_keeps_all_light(obstruction: float) -> None:
    """Energy: the whole integral is 1; beyond 60 lambda/D lies less than 1 %."""
    instrument = telescope(obstruction_ratio=obstruction)
    for profile in star_psfs(instrument, [0.9, 1.5, 2.4], 0.3):
        radius = RADII * instrument.resolution_arcsec
        fine = np.linspace(0.0, radius[-1], 20001)
        light = np.interp(fine, radius, profile) * 2.0 * np.pi * fine
        assert np.sum(light) * fine[1] == pytest.approx(0.995, abs=0.006)


def test_picture_gives_a_wide_companion_its_share_of_light() -> None:
    """Pogson: 2 mag are a ratio of 10^-0.8; the other star's halo adds less than 0.1 %."""
    sight = replace(SIGHT, separation_arcsec=30.0)
    picture = pair_picture(sight, Orientation.INVERTED)
    axis = np.linspace(-1.0, 1.0, picture.images.shape[-1]) * picture.half_width_arcsec
    north = picture.images[:, axis < 0.0].max(axis=(1, 2))
    south = picture.images[:, axis > 0.0].max(axis=(1, 2))
    assert np.allclose(north / south, 10.0**-0.8, rtol=0.02)  # crests fall between pixels


@pytest.mark.parametrize("orientation", list(Orientation))
@pytest.mark.parametrize("angle", [0.0, 55.0, 90.0, 200.0, 344.0])
def test_picture_puts_the_companion_at_its_position_angle(
    orientation: Orientation, angle: float
) -> None:
    """Definition: position angle runs from north through east."""
    picture = pair_picture(replace(SIGHT, position_angle_deg=angle), orientation)
    image = picture.images[0]
    axis = np.linspace(-1.0, 1.0, image.shape[-1]) * picture.half_width_arcsec
    near = np.hypot(axis - picture.first[0], axis[:, None] - picture.first[1]) < 3.0
    up, right = np.unravel_index(np.argmax(np.where(near, 0.0, image)), image.shape)
    step = np.array([axis[right] - picture.first[0], axis[up] - picture.first[1]])
    found = np.degrees(np.arctan2(step @ orientation.east, step @ orientation.north))
    assert found % 360.0 == pytest.approx(angle, abs=2.0)  # a pixel is 0.1"


def test_orientations_keep_or_mirror_the_sky() -> None:
    """To the eye, east lies a left turn from north; two mirrors keep that, one reverses it."""

    def left_turn(orientation: Orientation) -> float:
        (a, b), (c, d) = orientation.north, orientation.east
        return a * d - b * c

    assert left_turn(Orientation.INVERTED) == 1.0
    assert left_turn(Orientation.MIRRORED) == -1.0
    assert orientation_in(Design.NEWTONIAN) is Orientation.INVERTED
    assert orientation_in(Design.REFRACTOR) is Orientation.MIRRORED
    assert orientation_in(Design.CATADIOPTRIC) is Orientation.MIRRORED


def test_picture_grows_with_airmass_as_roddier_says() -> None:
    """Roddier 1981: FWHM as X^0.6; moments are shares of tonight's."""
    picture = pair_picture(replace(SIGHT, airmass=2.0), Orientation.INVERTED)
    assert np.allclose(picture.fwhm_arcsec, 1.5 * 2.0**0.6 * np.array([0.6, 1.0, 1.6]))


def test_blur_of_a_bright_pair_is_one_minute_at_the_eye() -> None:
    """1' over the power for a bright pair overhead, and more low down, where the air spreads."""
    assert SIGHT.blur_arcsec == pytest.approx(60.0 / 208.0, rel=1e-6)
    assert replace(SIGHT, airmass=2.5).blur_arcsec > SIGHT.blur_arcsec + 0.1


@pytest.mark.parametrize("separation", [1.4, 2.4, 4.0])
def test_picture_shows_the_gap_that_the_verdict_asks_for(separation: float) -> None:
    """An equal pair in just the seeing it stands has a gap of 20 %.

    Same physics along two ways; the tables fill the dark rings and go by steps: 0.03.
    """
    power, pupil = 260.0, 154.0 / 260.0
    tables = tables_of(telescope(), (power,))
    worst = worst_of(pairs(separation, 5.0, 5.0), sky(), tables)[0, 0, SplitClass.JUST - 1]
    sight = replace(
        SIGHT, magnification=power, exit_pupil_mm=pupil, separation_arcsec=separation,
        v1=5.0, v2=5.0, zenith_seeing_arcsec=float(worst),
    )  # fmt: skip
    image = pair_picture(sight, Orientation.MIRRORED, (1.0,)).images[0]
    line = image[:, image.shape[1] // 2]
    assert 1.0 - line[line.size // 2] / line.max() == pytest.approx(0.20, abs=0.03)


def test_greys_show_the_faintest_companion_and_burn_out_the_star() -> None:
    """A lone companion of any faintness has the least grey or more."""
    for difference in (0.0, 2.0, 4.5, 8.0):
        ratio = 10.0 ** (-0.4 * difference)
        star, companion = greys([1.0, ratio], white_share(ratio))
        assert star == 1.0
        assert companion >= FAINTEST_GREY - 1e-9
    assert white_share(10.0**-0.8) == white_share(10.0**0.8) == 1.0
