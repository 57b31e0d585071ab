"""The faintest star taken apart: every reason has its own rule, and together they are the limit."""

from __future__ import annotations

from dataclasses import replace
from math import log10, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.eye.observer import Observer
from planner.optics.glass import Glass
from planner.optics.telescope import Design, Mount, Telescope
from planner.verdict.faintest_star import faintest_star_mag
from planner.verdict.scope.limit_reasons import Cause, limit_reasons
from planner.verdict.setup import Setup

SIX_INCH = Setup(
    Telescope(
        "six",
        Design.NEWTONIAN,
        Mount.HAND_MOVED,
        152.4,
        152.4,
        1066.8,
        0.0,
        Glass(0.05),
        1 / 1.33,
        31.75,
    ),
    Observer("o", 25.0, 7.0, 2.0, 0.2, 0.7),
    21.83,
    1.5,
    0.2,
)
SAME_SUM_MAG = 1e-9  # only the rounding of floating point
PRINTED_MAG = 0.01  # two printed digits of the paper's examples, read and rounded


def setups() -> st.SearchStrategy[Setup]:
    """Telescopes, eyes and skies of every sensible size."""
    return st.builds(
        _setup,
        st.tuples(st.floats(40.0, 900.0), st.floats(0.0, 0.6), st.floats(0.1, 1.0)),
        st.tuples(st.floats(2.0, 9.0), st.floats(0.5, 30.0), st.booleans()),
        st.tuples(st.floats(15.0, 22.2), st.floats(0.08, 1.5)),
    )


def _setup(
    tube: tuple[float, float, float], eye: tuple[float, float, bool], sky: tuple[float, float]
) -> Setup:
    aperture, hole, transmission = tube
    pupil, factor, measured = eye
    return Setup(
        replace(
            SIX_INCH.telescope,
            aperture_mm=aperture,
            clear_aperture_mm=aperture,
            obstruction_mm=hole * aperture,
            transmission=transmission,
        ),
        Observer("o", 50.0, pupil, factor, sky[1] if measured else 0.0, 0.5),
        sky[0],
        2.0,
        sky[1],
    )


@settings(deadline=None, max_examples=200)
@given(setups(), st.floats(0.2, 15.0))
def test_the_reasons_add_up_to_the_limit(setup: Setup, exit_pupil: float) -> None:
    """Against the limit worked out in one piece, for any instrument, sky and pupil."""
    reasons = limit_reasons(setup, exit_pupil)
    whole = float(faintest_star_mag(setup, exit_pupil))
    assert reasons.limit_mag == pytest.approx(whole, abs=SAME_SUM_MAG)
    assert reasons.totals[-1] == pytest.approx(whole, abs=SAME_SUM_MAG)
    assert len(reasons.totals) == len(Cause) + 1
    assert [cause for cause, _ in reasons.changes] == list(Cause)


@settings(deadline=None, max_examples=100)
@given(setups(), st.floats(0.2, 15.0))
def test_gains_are_gains_and_losses_losses(setup: Setup, exit_pupil: float) -> None:
    """Only a darker sky gains beside the aperture; everything else costs or leaves as it is."""
    changes = dict(limit_reasons(setup, exit_pupil).changes)
    assert changes[Cause.DARKER_SKY] >= -SAME_SUM_MAG
    for cause in set(Cause) - {Cause.DARKER_SKY, Cause.APERTURE}:
        assert changes[cause] <= SAME_SUM_MAG, cause


@settings(deadline=None, max_examples=100)
@given(setups(), st.floats(0.05, 0.95))
def test_beyond_the_black_field_power_gains_nothing(setup: Setup, share: float) -> None:
    """And short of it, from a field a quarter brighter, it does (dark enough for the night law)."""
    dark = replace(setup, zenith_sky_mag=max(setup.zenith_sky_mag, 18.0))
    edge = limit_reasons(dark, 1.0).black_exit_pupil_mm
    at_edge = limit_reasons(dark, edge).limit_mag
    assert limit_reasons(dark, share * edge).limit_mag == pytest.approx(at_edge, abs=SAME_SUM_MAG)
    if edge < 0.8 * dark.observer.dark_pupil_mm:
        assert limit_reasons(dark, 1.12 * edge).limit_mag < at_edge


@pytest.mark.parametrize(("factor", "limit"), [(1.0, 6.93), (2.0, 6.18)])
def test_the_bare_eye_reproduces_crumey2014_section_3(factor: float, limit: float) -> None:
    """Crumey 2014, sect. 3.1: naked-eye limits under 21.83 for field factors 1 and 2."""
    eye = replace(SIX_INCH.observer, field_factor=factor)
    reasons = limit_reasons(replace(SIX_INCH, observer=eye), 1.0)
    assert reasons.bare_eye_mag == pytest.approx(limit, abs=PRINTED_MAG)


def test_the_limit_reproduces_crumey2014_equation_73() -> None:
    """m_cut = 5 log D[cm] + 8.45 - 2.5 log F for p = 7 mm and a loss of 1.33; black at 0.67 mm."""
    reasons = limit_reasons(SIX_INCH, 0.6)
    assert reasons.limit_mag == pytest.approx(
        5.0 * log10(15.24) + 8.45 - 2.5 * log10(2.0), abs=PRINTED_MAG
    )


def test_each_reason_is_its_own_rule() -> None:
    """Plain algebra, each from the numbers of the instrument alone."""
    tube = replace(SIX_INCH.telescope, obstruction_mm=38.1, transmission=0.8)
    eye = replace(SIX_INCH.observer, factor_air_mag=0.0)
    setup = Setup(tube, eye, 21.5, 1.5, 0.23)
    reasons = limit_reasons(setup, 1.0)
    changes = dict(reasons.changes)
    assert changes[Cause.APERTURE] == pytest.approx(5.0 * log10(152.4 / 7.0))
    assert changes[Cause.IRIS] == 0.0
    assert changes[Cause.TRANSMISSION] == pytest.approx(2.5 * log10(0.8))
    assert changes[Cause.OBSTRUCTION] == pytest.approx(2.5 * log10(1.0 - 0.25**2))
    assert changes[Cause.ONE_EYE] == pytest.approx(-2.5 * log10(sqrt(2.0)))
    assert changes[Cause.AIR] == -0.23
    darker = 5.0 * log10(7.0) - 2.5 * log10(0.8 * (1.0 - 0.25**2))
    assert reasons.sky_darker_mag == pytest.approx(darker)
    wide = dict(limit_reasons(setup, 14.0).changes)
    assert wide[Cause.IRIS] == pytest.approx(-5.0 * log10(2.0))
    assert wide[Cause.OBSTRUCTION] == pytest.approx(2.5 * log10(1.0 - 0.5**2))


def test_air_is_not_taken_twice() -> None:
    """An observer's own limit overhead holds the usual air already, and no more than that."""
    assert dict(limit_reasons(SIX_INCH, 1.0).changes)[Cause.AIR] == 0.0
    hazy = replace(SIX_INCH, extinction_mag=0.5)
    assert dict(limit_reasons(hazy, 1.0).changes)[Cause.AIR] == pytest.approx(-0.3)


def test_the_black_field_reproduces_crumey2014_equation_70() -> None:
    """p sqrt(1e-5 Ft / B): under 21.5 B is 2.704e-4 cd/m^2, so 7 mm x 0.2218."""
    reasons = limit_reasons(replace(SIX_INCH, zenith_sky_mag=21.5), 1.0)
    assert reasons.black_exit_pupil_mm == pytest.approx(1.5525, abs=0.001)


def test_colours_reproduce_crumey2014_equation_18() -> None:
    """0.27 mag for each magnitude of B-V, from 0.7."""
    reasons = limit_reasons(SIX_INCH, 1.0)
    assert reasons.blue_gain_mag == pytest.approx(0.27 * 0.7, abs=0.005)
    assert reasons.red_gain_mag == pytest.approx(-0.27 * 0.8, abs=0.005)
