"""The telescope's summary against handbook figures for a six-inch."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.eye.observer import Observer
from planner.optics.glass import Glass
from planner.optics.telescope import Design, Mount, Telescope
from planner.verdict.powers import Bound, highest_powers, lowest_power
from planner.verdict.scope.instrument import instrument_summary
from planner.verdict.setup import Setup

SIX_INCH_F7 = Telescope(
    "six",
    Design.NEWTONIAN,
    Mount.HAND_MOVED,
    152.4,
    152.4,
    1066.8,
    38.1,
    Glass(1 / 14),
    0.8,
    31.75,
    220.0,
)
YOUNG_EYE = Observer("o", 25.0, 7.0, 2.0, 0.0, 0.5)
SIX_INCH = Setup(SIX_INCH_F7, YOUNG_EYE, 21.5, 1.5, 0.2)


def test_summary_reproduces_six_inch_handbook_figures() -> None:
    """Dawes 0.76" (1867); Rayleigh 138/D; Strehl 0.82 at 1/14 wave; 474 pupils of 7 mm."""
    summary = instrument_summary(SIX_INCH)
    assert summary.dawes_arcsec == pytest.approx(0.76, abs=0.005)
    assert summary.rayleigh_arcsec == pytest.approx(138.0 / 152.4, rel=0.005)
    assert summary.strehl == pytest.approx(0.82, abs=0.005)
    assert summary.light_grasp == pytest.approx(474.0 * 0.8 * (1 - 0.25**2), rel=1e-3)


def test_summary_reproduces_schroeder2000_light_share_at_quarter_obstruction() -> None:
    """Share of light in the disc 0.838 clear (Schroeder 2000, table 10.1), less with 25 %."""
    summary = instrument_summary(SIX_INCH)
    assert summary.clear_light_share == pytest.approx(0.838, abs=0.0005)
    assert 0.682 < summary.central_light_share < 0.764  # table's neighbours, 30 % and 20 %
    assert summary.dark_ring_arcsec < summary.rayleigh_arcsec


def test_newtonian_part_reproduces_handbook_rules_for_f7() -> None:
    """Coma-free field 0.022 F^3 mm across, +-2 lambda F^2 focus (common practice, rounded)."""
    summary = instrument_summary(SIX_INCH)
    assert summary.newtonian is not None
    assert summary.newtonian.coma_free_field_mm == pytest.approx(0.022 * 343.0, rel=0.05)
    assert summary.depth_of_focus_mm == pytest.approx(0.054, abs=0.0005)
    assert summary.newtonian.collimation_tolerance_mm < summary.newtonian.collimation_limit_mm


def test_fully_lit_field_is_none_when_the_diagonal_is_not_measured() -> None:
    """No guess is made."""
    unknown = replace(SIX_INCH, telescope=replace(SIX_INCH_F7, diagonal_to_focus_mm=None))
    newtonian = instrument_summary(unknown).newtonian
    assert newtonian is not None
    assert newtonian.fully_lit_field_mm is None
    assert newtonian.diagonal_offset_mm is None
    assert newtonian.coma_free_field_mm > 0.0


def test_refractor_has_no_newtonian_part() -> None:
    """Coma of a paraboloid says nothing about a lens."""
    lens = Telescope(
        "lens", Design.REFRACTOR, Mount.DRIVEN, 80.0, 80.0, 600.0, 0.0, Glass(0.05), 0.92, 50.8
    )
    summary = instrument_summary(replace(SIX_INCH, telescope=lens))
    assert summary.newtonian is None
    assert summary.central_light_share == summary.clear_light_share


def test_lowest_power_agrees_with_pupil_rule() -> None:
    """Aperture over dark pupil: 152.4/7 = 21.8x (common practice, no source)."""
    bound = lowest_power(SIX_INCH)
    assert bound.magnification == pytest.approx(21.8, abs=0.05)
    assert bound.bound is Bound.EYE_PUPIL


def test_highest_powers_agree_with_aperture_rules() -> None:
    """The eye has Dawes's limit at about D in mm; 0.5 mm is 2 D (common practice, rounded 5 %)."""
    bounds = {b.bound: b.magnification for b in highest_powers(SIX_INCH)}
    assert bounds[Bound.RESOLUTION] == pytest.approx(152.4, rel=0.05)
    assert bounds[Bound.LEAST_EXIT_PUPIL] == pytest.approx(2 * 152.4, rel=1e-9)
    assert bounds[Bound.SEEING] == pytest.approx(200.0, rel=1e-9)


@settings(deadline=None, max_examples=60)
@given(st.floats(0.5, 8.0), st.floats(1.05, 3.0))
def test_worse_seeing_never_bears_more_power(seeing: float, factor: float) -> None:
    """And the bounds always come lowest first."""
    good = highest_powers(replace(SIX_INCH, seeing_arcsec=seeing))
    bad = highest_powers(replace(SIX_INCH, seeing_arcsec=seeing * factor))
    assert bad[0].magnification <= good[0].magnification
    for bounds in (good, bad):
        powers = [b.magnification for b in bounds]
        assert powers == sorted(powers)


def test_zenith_loss_is_not_counted_twice() -> None:
    """A factor fitted to the owner's naked-eye limit already contains the air overhead."""
    measured = replace(SIX_INCH, observer=replace(YOUNG_EYE, factor_air_mag=0.2))
    assert SIX_INCH.zenith_loss_mag == 0.2
    assert measured.zenith_loss_mag == 0.0
