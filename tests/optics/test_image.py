"""The star image against diffraction theory and the classical limits."""

from __future__ import annotations

import numpy as np
import pytest
from annular_theory import (
    annular_profile,
    encircled_energy,
    equal_pair_dip,
    first_bright_ring,
    first_dark_ring,
    separation_for_dip,
    sparrow_separation,
)
from hypothesis import given, settings
from hypothesis import strategies as st
from published_rings import HALF_DIGIT, SCHROEDER2000_TABLE_10_1
from wave_samples import spherical

from planner.constants import LAMBDA_ARCSEC_MM
from planner.errors import ModelRangeError
from planner.optics.figure import Figure, strehl, turned_edge
from planner.optics.image import (
    annular_mtf,
    figure_factor,
    instrument_mtf,
    mtf_nodes,
    psf_matrix,
    wavefront_mtf,
)

INCH_ARCSEC = LAMBDA_ARCSEC_MM / 25.4  # lambda/D in arcsec for one inch
TRANSFER_ERROR = 2e-4  # stated error of the quadrature
PROFILE_ERROR = 1e-6  # stated error of the transform
CLASSICAL_ARCSEC = 0.01  # the classical limits are printed to 0.01 arcsec an inch
DIP_ERROR = 0.002
OVERLAP_ROUNDING = 1e-7  # arc cosines where two circles just touch

# Diffraction theory, from the closed form of the amplitude by an implementation apart from
# this one: obstruction, first crest, Sparrow and 3 % dip in arcsec for one inch.
ANNULAR_THEORY = [
    (0.00, 0.0175, 4.230, 4.549),
    (0.20, 0.0304, 4.167, 4.47),
    (0.25, 0.0380, 4.132, 4.43),
    (0.33, 0.0540, 4.060, 4.34),
]
# The three-term form of O'Neill 1956, J. Opt. Soc. Am. 46, 285, worked out by hand: obstruction,
# frequency, contrast.
ONEILL_BY_HAND = [
    (0.0, 0.25, 0.6850),
    (0.0, 0.50, 0.3910),
    (0.2, 0.25, 0.6302),
    (0.2, 0.50, 0.3674),
    (0.33, 0.25, 0.5412),
    (0.33, 0.50, 0.3252),
    (0.5, 0.25, 0.3771),
    (0.5, 0.50, 0.2236),
    (0.5, 0.70, 0.2221),
]


@pytest.mark.parametrize(("obstruction", "ring", "near", "share"), SCHROEDER2000_TABLE_10_1)
def test_dark_ring_and_energy_reproduce_schroeder2000_table_10_1(
    obstruction: float, ring: float, near: float, share: float
) -> None:
    assert first_dark_ring(obstruction) == pytest.approx(ring, abs=near)
    found = encircled_energy(first_dark_ring(obstruction), obstruction)
    assert found == pytest.approx(share, abs=HALF_DIGIT)


@pytest.mark.parametrize(("obstruction", "frequency", "contrast"), ONEILL_BY_HAND)
def test_annular_mtf_derived_from_the_stated_equation(
    obstruction: float, frequency: float, contrast: float
) -> None:
    """Checks the implementation: worked out by hand from the stated equation."""
    found = float(annular_mtf(frequency, obstruction))
    assert found == pytest.approx(contrast, abs=0.00006)  # four digits kept


@pytest.mark.parametrize(("obstruction", "crest", "sparrow", "notch"), ANNULAR_THEORY)
def test_rings_and_equal_pairs_agree_with_annular_theory(
    obstruction: float, crest: float, sparrow: float, notch: float
) -> None:
    assert first_bright_ring(obstruction) == pytest.approx(crest, abs=0.00006)
    assert sparrow_separation(obstruction) * INCH_ARCSEC == pytest.approx(sparrow, abs=0.002)
    found = separation_for_dip(0.03, obstruction) * INCH_ARCSEC
    assert found == pytest.approx(notch, abs=CLASSICAL_ARCSEC)


def test_equal_pair_dip_agrees_with_rayleigh() -> None:
    """Rayleigh 1879: first dark ring on the other star, 1.22 lambda/D, dip 26.5 %."""
    assert equal_pair_dip(1.2197, 0.0) == pytest.approx(0.265, abs=DIP_ERROR)


def test_equal_pair_dip_agrees_with_dawes() -> None:
    """Dawes 1867, Mem. RAS 35, 137: 4.56" for an inch; the dip there is about 3 %."""
    assert equal_pair_dip(4.56 / INCH_ARCSEC, 0.0) == pytest.approx(0.032, abs=DIP_ERROR)


def test_sparrow_separation_agrees_with_sparrow1916() -> None:
    """Sparrow 1916, Astrophys. J. 44, 76: 0.947 lambda/D for a clear circle."""
    assert sparrow_separation(0.0) == pytest.approx(0.947, abs=HALF_DIGIT)


def test_obstruction_lowers_coarse_contrast_as_a_smaller_clear_aperture() -> None:
    """Towards coarse detail the loss is that of a clear D - d: slope 1/(1-e), any optics text."""
    fine = 1e-3
    clear = 1.0 - float(annular_mtf(fine, 0.0))
    for obstruction in (0.17, 0.25, 0.33):
        blocked = 1.0 - float(annular_mtf(fine, obstruction))
        assert blocked / clear == pytest.approx(1.0 / (1.0 - obstruction), abs=0.003)


@pytest.mark.parametrize("obstruction", [0.0, 0.227, 0.4])
def test_psf_matrix_agrees_with_closed_form(obstruction: float) -> None:
    """The transform of O'Neill's contrast is Airy's (Schroeder's) image, out to 60 lambda/D."""
    radius = np.linspace(0.0, 60.0, 301)
    frequency, _ = mtf_nodes()
    found = annular_mtf(frequency, obstruction) @ psf_matrix(radius, obstruction)
    assert np.max(np.abs(found - annular_profile(radius, obstruction))) < PROFILE_ERROR


def test_wavefront_mtf_of_a_perfect_wave_agrees_with_the_closed_form() -> None:
    """Summed over the pupil, and as the overlap of circles."""
    frequency = np.linspace(0.01, 0.99, 60)
    flat = Figure(profile=((0.0, 0.0), (1.0, 0.0)))
    found = wavefront_mtf(frequency, 0.25, flat)
    assert np.max(np.abs(found - annular_mtf(frequency, 0.25))) < TRANSFER_ERROR


@pytest.mark.parametrize(
    ("figure", "obstruction"),
    [(spherical(0.25), 0.0), (spherical(0.5), 0.25), (turned_edge(1.0 / 24.0, 1.0), 0.25)],
)
def test_peak_of_the_image_is_the_strehl_ratio(figure: Figure, obstruction: float) -> None:
    """Two roads to one number: the transfer function's volume and the mean of exp(i W)."""
    frequency, _ = mtf_nodes()
    transfer = instrument_mtf(frequency, obstruction, figure)
    peak = float((transfer @ psf_matrix([0.0], obstruction))[0])
    assert peak == pytest.approx(strehl(figure, obstruction), abs=TRANSFER_ERROR)


def test_figure_factor_keeps_coarse_contrast_and_costs_fine_contrast_the_strehl() -> None:
    """Extended Marechal: from 1 at no detail to exp(-(2 pi/14)^2) = 0.818 at a wave/14 RMS."""
    assert float(figure_factor(0.0, 1.0 / 14.0)) == 1.0
    assert float(figure_factor(0.9, 1.0 / 14.0)) == pytest.approx(0.818, abs=HALF_DIGIT)


@settings(deadline=None, max_examples=60)
@given(st.floats(0.0, 1.0), st.floats(0.0, 0.6), st.floats(0.0, 0.1), st.floats(0.001, 0.1))
def test_instrument_mtf_never_gains_from_a_worse_figure(
    frequency: float, obstruction: float, rms: float, more: float
) -> None:
    good, bad = (
        float(instrument_mtf([frequency], obstruction, Figure(r))[0]) for r in (rms, rms + more)
    )
    assert bad <= good + OVERLAP_ROUNDING
    assert good <= 1.0 + OVERLAP_ROUNDING


@pytest.mark.parametrize("obstruction", [-0.01, 0.61, 0.8])
def test_annular_mtf_rejects_a_shadow_larger_than_any_telescope_has(
    obstruction: float,
) -> None:
    with pytest.raises(ModelRangeError, match="secondary's minor axis"):
        annular_mtf(0.5, obstruction)


def test_annular_mtf_of_the_widest_shadow_allowed_is_that_of_two_circles() -> None:
    """No detail: 1. Where the hole no longer meets itself or the rim, f above (1 + e)/2, the
    contrast is that of the clear circle over the open area (geometry)."""
    assert float(annular_mtf(0.0, 0.6)) == pytest.approx(1.0, abs=1e-12)
    clear = float(annular_mtf(0.9, 0.0))
    assert float(annular_mtf(0.9, 0.6)) == pytest.approx(clear / (1.0 - 0.36), rel=1e-12)
