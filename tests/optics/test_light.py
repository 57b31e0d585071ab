"""Light grasp, the iris as a stop, and the sky seen through an exit pupil."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.optics.light import (
    light_grasp,
    sky_dimming_mag,
    throughput_through_iris,
    used_aperture_mm,
    wasted_aperture_mm,
)

PUPILS = st.floats(0.2, 12.0)
EYES = st.floats(2.0, 9.0)


def test_light_grasp_agrees_with_handbook_binocular() -> None:
    """A 50 mm glass gathers 51 times the light of a 7 mm pupil (common practice, no source)."""
    assert light_grasp(50.0, 7.0) == pytest.approx(51.0, abs=0.05)


@pytest.mark.parametrize(
    ("exit_pupil", "eye", "used"), [(10.0, 5.0, 76.2), (7.0, 7.0, 152.4), (2.0, 5.0, 152.4)]
)
def test_used_aperture_is_stopped_by_the_iris(exit_pupil: float, eye: float, used: float) -> None:
    """Exit pupil twice the iris: half the aperture is used (geometry)."""
    assert used_aperture_mm(152.4, exit_pupil, eye) == pytest.approx(used, rel=1e-12)


def test_sky_dimming_reproduces_crumey2014_eq66() -> None:
    """Ba = (dmin/p)^2 B / Ft with d = 3.5, p = 7, Ft = 1.33: 2.5 log10(4 x 1.33) mag darker."""
    assert sky_dimming_mag(3.5, 7.0, 1 / 1.33) == pytest.approx(1.815, abs=0.0005)


def test_sky_through_a_large_exit_pupil_is_no_brighter_than_to_the_bare_eye() -> None:
    """Surface brightness never grows in a telescope (conservation of etendue)."""
    np.testing.assert_array_equal(sky_dimming_mag([6.0, 8.0, 12.0], 6.0), [0.0, 0.0, 0.0])


def test_throughput_through_iris_reproduces_plain_obstruction_when_the_pupil_fits() -> None:
    """T (1 - e^2): the usual area rule."""
    assert throughput_through_iris(0.8, 0.25, 2.0, 6.0) == pytest.approx(0.8 * 0.9375, rel=1e-12)


def test_throughput_through_iris_is_nothing_when_the_shadow_fills_the_iris() -> None:
    """Daytime: exit pupil 8 mm, shadow 2.4 mm, iris 2 mm sees only the shadow."""
    assert throughput_through_iris(0.8, 0.3, 8.0, 2.0) == pytest.approx(0.0, abs=1e-12)


def test_sky_behind_a_shadow_that_fills_the_iris_is_dark_yet_finite() -> None:
    """No light at all would be infinitely dark, which no table can show: 15 magnitudes stand."""
    through = throughput_through_iris(0.8, 0.3, 8.0, 2.0)
    assert sky_dimming_mag(8.0, 2.0, through) == pytest.approx(15.0, abs=1e-9)
    assert sky_dimming_mag(8.0, 2.0, 1e-5) == pytest.approx(12.5, abs=1e-9)


@settings(deadline=None, max_examples=60)
@given(PUPILS, EYES, st.floats(0.05, 0.45), st.floats(0.3, 1.0))
def test_iris_never_passes_more_than_the_telescope(
    exit_pupil: float, eye: float, obstruction: float, transmission: float
) -> None:
    """The cut by the iris only ever makes the shadow heavier."""
    share = float(throughput_through_iris(transmission, obstruction, exit_pupil, eye))
    assert 0.0 <= share <= transmission * (1.0 - obstruction**2) + 1e-12


@settings(deadline=None, max_examples=60)
@given(st.floats(30, 600), PUPILS, EYES)
def test_used_and_wasted_aperture_add_up(aperture: float, exit_pupil: float, eye: float) -> None:
    """Nothing is lost between the two, and neither is negative."""
    used = float(used_aperture_mm(aperture, exit_pupil, eye))
    wasted = float(wasted_aperture_mm(aperture, exit_pupil, eye))
    assert used + wasted == pytest.approx(aperture, rel=1e-12)
    assert used > 0.0
    assert wasted >= 0.0


@settings(deadline=None, max_examples=60)
@given(PUPILS, EYES, st.floats(1.05, 3.0))
def test_smaller_exit_pupil_never_brightens_the_sky(
    exit_pupil: float, eye: float, factor: float
) -> None:
    """More power, darker sky."""
    assert sky_dimming_mag(exit_pupil / factor, eye) >= sky_dimming_mag(exit_pupil, eye)
