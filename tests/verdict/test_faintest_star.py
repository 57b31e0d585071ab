"""The faintest star overhead: two models, their spread, and an old rule beside them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.eye.observer import Observer
from planner.optics.glass import Glass
from planner.optics.telescope import Design, Mount, Telescope
from planner.verdict.faintest_star import (
    faintest_star,
    faintest_star_mag,
    handbook_faintest_mag,
    second_faintest_star_mag,
)
from planner.verdict.setup import Setup

SIX_INCH = Setup(
    Telescope(
        "six",
        Design.NEWTONIAN,
        Mount.HAND_MOVED,
        152.4,
        152.4,
        1066.8,
        38.0,
        Glass(0.05),
        0.8,
        31.75,
    ),
    Observer("o", 25.0, 7.0, 2.0, 0.0, 0.7),
    21.5,
    1.5,
    0.2,
)
PERSON_TO_PERSON_MAG = 0.5  # spread of observers; Schaefer 1990


@pytest.mark.parametrize(("aperture", "limit"), [(50.0, 11.2), (100.0, 12.7), (150.0, 13.6)])
def test_handbook_faintest_mag_reproduces_handbook_table(aperture: float, limit: float) -> None:
    """Common handbook table of visual limits by aperture, to its 0.1 mag."""
    assert handbook_faintest_mag(aperture) == pytest.approx(limit, abs=0.05)


def test_faintest_star_agrees_with_published_spread_for_six_inches() -> None:
    """Published limits of six-inch telescopes run from 12.7 to 13.6 (club and handbook tables)."""
    faintest = faintest_star(SIX_INCH, [6.0, 3.0, 1.0])
    assert 12.7 <= faintest.low_mag <= 13.6
    assert faintest.high_mag <= 13.6 + 2 * PERSON_TO_PERSON_MAG


def test_faintest_star_gives_the_spread_of_the_models() -> None:
    """Low and high are the models' own, at a pupil the observer likes; the handbook is beside."""
    faintest = faintest_star(SIX_INCH, [0.3, 1.0, 5.0])
    mags = dict(faintest.by_model)
    assert set(mags) == {"Crumey", "Schaefer"}
    assert faintest.low_mag == min(mags.values())
    assert faintest.high_mag == max(mags.values())
    assert faintest.handbook_mag == handbook_faintest_mag(152.4)
    assert faintest.exit_pupil_mm == 1.0
    assert faintest_star(SIX_INCH, [0.3]).exit_pupil_mm == 0.3


def test_a_bright_sky_is_not_talked_up_by_the_handbook() -> None:
    """The rule knows no sky: under a city's it stays as it is, and does not move the spread."""
    city = faintest_star(replace(SIX_INCH, zenith_sky_mag=17.0), [3.0])
    assert city.handbook_mag > city.high_mag > city.low_mag


def test_measured_factor_takes_no_extinction_twice() -> None:
    """The same F, once from a book and once fitted overhead: one airmass apart."""
    fitted = replace(SIX_INCH, observer=replace(SIX_INCH.observer, factor_air_mag=0.2))
    difference = faintest_star_mag(fitted, 1.0) - faintest_star_mag(SIX_INCH, 1.0)
    assert difference == pytest.approx(0.2, abs=1e-9)


@settings(deadline=None, max_examples=60)
@given(st.floats(60, 400), st.floats(1.05, 2.5), st.floats(0.5, 6.9), st.floats(18.0, 21.9))
def test_larger_aperture_and_darker_sky_never_show_less(
    aperture: float, growth: float, exit_pupil: float, sky: float
) -> None:
    """At the same exit pupil, by both models."""

    def setup(diameter: float, zenith_sky_mag: float) -> Setup:
        telescope = replace(
            SIX_INCH.telescope,
            aperture_mm=diameter,
            clear_aperture_mm=diameter,
            obstruction_mm=0.2 * diameter,
        )
        return replace(SIX_INCH, telescope=telescope, zenith_sky_mag=zenith_sky_mag)

    for model in (faintest_star_mag, second_faintest_star_mag):
        small = model(setup(aperture, sky), exit_pupil)
        assert model(setup(aperture * growth, sky), exit_pupil) > small
        assert model(setup(aperture, sky + 0.1), exit_pupil) >= small


def test_array_call_equals_scalar_calls() -> None:
    """One call with an array is the same as one call per element."""
    pupils = np.array([0.7, 2.0, 8.0])
    for model in (faintest_star_mag, second_faintest_star_mag):
        np.testing.assert_allclose(
            model(SIX_INCH, pupils), [model(SIX_INCH, p) for p in pupils], rtol=1e-12
        )
