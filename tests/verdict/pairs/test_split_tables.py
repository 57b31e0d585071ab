"""Tables of one telescope, and the famous pairs in it."""

from __future__ import annotations

import numpy as np
import pytest
from split_telescope import (
    FAMOUS,
    POWERS,
    famous,
    pairs,
    six_inch,
    sky,
    tables_of,
    telescope,
    worst_of,
)

from planner.errors import ModelRangeError
from planner.eye.glare import glare_per_sr
from planner.verdict.pairs.choice import in_view
from planner.verdict.pairs.criteria import SplitClass
from planner.verdict.pairs.need import SEPARATIONS, core_variance
from planner.verdict.pairs.profiles import (
    BLURS,
    D_OVER_R0,
    SplitInstrument,
    blur_mtf,
    star_images,
)
from planner.verdict.pairs.tables import build_split_tables, table_shape, veil_over_peak

NOTCHED, JUST = SplitClass.NOTCHED - 1, SplitClass.JUST - 1
PIN = 0.05  # regression pins: a change of the model beyond this wants a look


def test_tables_have_the_shape_they_say() -> None:
    assert six_inch().steps.shape == table_shape(len(POWERS))
    assert np.all(np.isfinite(six_inch().steps))


def test_profiles_of_perfect_air_have_schroeders_width() -> None:
    """Schroeder 2000: FWHM of a perfect circle 1.029 lambda/D (1.02 to 1.03 in the texts)."""
    images = star_images(SplitInstrument(154.0, 0.0))
    width = np.sqrt(core_variance(images)[0, 0] * 8.0 * np.log(2.0))
    assert width == pytest.approx(1.029, abs=0.003)


def test_profiles_in_wide_blur_have_the_blurs_width() -> None:
    """Widths of Gaussians add in squares; the star's rings, wider than any, add 2 %."""
    images = star_images(telescope())
    width = np.sqrt(core_variance(images)[0, -1] * 8.0 * np.log(2.0))
    assert width == pytest.approx(np.hypot(BLURS[-1], 1.02), rel=0.03)


def test_profiles_in_poor_seeing_have_kolmogorovs_width() -> None:
    """Roddier 1981: 0.976 lambda/r0, plus the telescope, for an eye that follows nothing."""
    images = star_images(telescope(tilt_followed=0.0))
    widths = np.sqrt(core_variance(images)[:, 0] * 8.0 * np.log(2.0))
    assert widths[-5] == pytest.approx(0.976 * D_OVER_R0[-5], rel=0.02)


def test_blur_mtf_falls_to_half_where_a_gaussian_does() -> None:
    """Fourier pair of the Gaussian: FWHM times half-width of the transfer = 2 ln 2 / pi."""
    half = 2.0 * np.log(2.0) / np.pi
    assert float(blur_mtf(half, 1.0)) == pytest.approx(0.5)


def test_veil_over_peak_agrees_with_light_spread_by_hand() -> None:
    """One lux star: peak pi/4 (1-e^2) (d/lambda)^2 cd/m2, d in the exit pupil; CIE veil."""
    instrument = telescope()
    veil = veil_over_peak(instrument, 154.0, 1.0)
    i = 100
    degrees = SEPARATIONS[i] * instrument.resolution_arcsec * 154.0 / 3600.0
    peak = np.pi / 4.0 * (1.0 - 0.227**2) * (1.0 / 550e-6) ** 2
    assert veil[i] == pytest.approx(float(glare_per_sr(degrees, 50.0)) / peak, rel=1e-4)


def test_build_split_tables_rejects_an_aperture_in_metres() -> None:
    with pytest.raises(ModelRangeError, match="clear aperture"):
        telescope(clear_aperture_mm=0.154)


def test_build_split_tables_rejects_views_without_exit_pupils() -> None:
    with pytest.raises(ValueError, match="zip"):
        build_split_tables(telescope(), [50.0, 100.0], [3.0])


def _closest_arcsec_inches(inches: float, v1: float, v2: float, seeing: float, index: int) -> float:
    """Closest separation of a class, arcsec times inches, at the better of two high powers."""
    aperture = inches * 25.4
    separation = np.geomspace(0.25, 12.0, 1500)
    tables = tables_of(telescope(clear_aperture_mm=aperture), (aperture / 0.75, aperture / 0.5))
    limit = 13.3 + 5.0 * np.log10(inches / 6.0)
    worst = worst_of(pairs(separation, v1, v2), sky(limit=limit), tables).max(axis=1)
    return float(separation[np.argmax(worst[:, index] >= seeing)] * inches)


# Lewis 1914, The Observatory 37, 378: means of the closest pairs measured by many observers,
# arcsec times inches, with the mean magnitudes of the class (from memory; paper not read).
LEWIS1914_CLASSES = [
    ("faint equal", 8.5, 9.1, 8.5),
    ("unequal", 6.2, 9.5, 16.5),
    ("very unequal", 4.7, 10.4, 36.0),
]


@pytest.mark.parametrize(("name", "v1", "v2", "mean"), LEWIS1914_CLASSES)
def test_closest_pairs_bracket_lewis1914_means(
    name: str, v1: float, v2: float, mean: float
) -> None:
    """A mean over telescopes and nights lies between a glimpse with six inches in 1" and a
    split with twelve in 1.5": a wide bracket, for no one telescope meets all class means."""
    assert _closest_arcsec_inches(6.0, v1, v2, 1.0, NOTCHED) < mean, name
    assert _closest_arcsec_inches(12.0, v1, v2, 1.5, JUST) > mean, name


def test_closest_bright_pairs_miss_lewis1914_by_less_than_a_third() -> None:
    """Lewis' bright equal class, 5.7 and 6.4 mag, 4.8" (from memory): best moments of good
    nights, close to Dawes. The model asks for more: known and stated, 20 % in 0.7"."""
    found = _closest_arcsec_inches(6.0, 5.7, 6.4, 0.7, NOTCHED)
    assert 1.0 < found / 4.8 < 1.33


# The model's own output: a power, then worst seeing there: elongated, notched, just, clean.
REGRESSION_FAMOUS = [
    ("Castor AB", 58.0, (9.21, 5.63, 5.03, 3.97)),
    ("Izar", 104.0, (2.44, 2.44, 2.22, 1.64)),
    ("eps1 Lyr", 149.0, (4.73, 2.85, 2.46, 1.79)),
    ("eps2 Lyr", 104.0, (5.25, 3.87, 3.07, 2.17)),
    ("Porrima", 104.0, (6.45, 4.96, 3.91, 2.87)),
    ("zeta Aqr", 104.0, (5.24, 3.68, 2.97, 2.11)),
    ("mu Cyg", 208.0, (2.33, 1.62, 1.37, 0.84)),
    ("36 And", 208.0, (2.66, 1.64, 1.08, 0.00)),
    ("eps Ari", 208.0, (3.29, 2.38, 1.87, 1.17)),
    ("del Cyg", 208.0, (1.95, 1.95, 1.65, 0.84)),
    ("theta Aur", 208.0, (2.31, 2.31, 1.99, 1.36)),
    ("zeta Her", 208.0, (0.91, 0.91, 0.00, 0.00)),
    ("Rigel", 208.0, (3.67, 3.67, 2.77, 2.02)),
    ("Antares", 260.0, (1.41, 1.41, 0.42, 0.00)),
    ("Sirius", 260.0, (0.00, 0.00, 0.00, 0.00)),
    ("Polaris", 149.0, (6.22, 6.22, 4.70, 3.49)),
    ("gam And BC", 260.0, (0.00, 0.00, 0.00, 0.00)),
    ("eta CrB", 260.0, (0.00, 0.00, 0.00, 0.00)),
]


@pytest.mark.parametrize("pin", REGRESSION_FAMOUS, ids=[p[0] for p in REGRESSION_FAMOUS])
def test_regression_famous_pairs_limiting_seeing(pin: tuple[str, float, tuple[float, ...]]) -> None:
    """At the zenith, 13.0 mag; guards against change only."""
    name, power, seeing = pin
    tables, worst = six_inch(), worst_of(famous())
    i = [row[0] for row in FAMOUS].index(name)
    view = np.full(len(FAMOUS), tables.powers.tolist().index(power))
    assert in_view(worst, view)[i] == pytest.approx(seeing, rel=PIN)
