"""The Newtonian's diagonal, coma and tolerances against published examples."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from wave_samples import coma_rms_waves

from planner.errors import ModelRangeError
from planner.optics.glass import Glass
from planner.optics.newtonian import (
    LightCone,
    collimation_tolerance_mm,
    coma_free_radius_mm,
    depth_of_focus_mm,
    diagonal_offset_mm,
    edge_illumination,
    fully_illuminated_field_mm,
    light_cone,
)
from planner.optics.resolution import strehl
from planner.optics.telescope import Design, Mount, Telescope

INCH_MM = 25.4
SIX_INCH_F7 = LightCone(152.4, 1066.8, 38.1, 220.0)
CONES = st.builds(
    LightCone, st.floats(80, 400), st.floats(700, 2400), st.floats(15, 120), st.floats(100, 500)
)


def inches(aperture: float, focal: float, secondary: float, path: float) -> LightCone:
    """A light cone described in inches, as the old makers do."""
    return LightCone(*(x * INCH_MM for x in (aperture, focal, secondary, path)))


def test_fully_illuminated_field_reproduces_makers_example() -> None:
    """8-inch f/6, diagonal 1.6 in, 8 in to the focus: 0.32 in (a makers' mailing list, 2005)."""
    field = fully_illuminated_field_mm(inches(8, 48, 1.6, 8))
    assert field / INCH_MM == pytest.approx(0.32, abs=0.005)


def test_fully_illuminated_field_is_zero_when_the_diagonal_is_too_small() -> None:
    """A diagonal of 25 mm in a cone of 31 mm."""
    assert fully_illuminated_field_mm(LightCone(152.4, 1066.8, 25.0, 220.0)) == 0.0


def test_diagonal_offset_reproduces_makers_example() -> None:
    """8-inch f/7, diagonal 1.52 in: 'a little over 0.05 in', both ways (makers' article)."""
    offset = diagonal_offset_mm(inches(8, 56, 1.52, 8)) / INCH_MM
    assert 0.050 <= offset <= 0.055


def test_diagonal_offset_agrees_with_exact_minimum_diagonal() -> None:
    """Smallest diagonal that lights the axis: exact k^2 L/(1 - k^2), k = D/2f (ray geometry).

    The smallest diagonal itself is 2 k L/(1 - k^2); allowed is the small-angle error, k^2.
    """
    aperture, focal, path = 200.0, 1000.0, 250.0
    k = aperture / (2.0 * focal)
    exact = k**2 * path / (1.0 - k**2)
    smallest = LightCone(aperture, focal, 2.0 * k * path / (1.0 - k**2), path)
    assert diagonal_offset_mm(smallest) == pytest.approx(exact, rel=3.0 * k**2)


def test_edge_illumination_agrees_with_counted_rays() -> None:
    """Share of a fine grid of rays over the mirror that passes the diagonal, 6-inch f/7."""
    cone = SIX_INCH_F7
    side = np.linspace(-1.0, 1.0, 1201) * cone.aperture_mm / 2.0
    x, y = np.meshgrid(side, side)
    inside = np.hypot(x, y) <= cone.aperture_mm / 2.0
    step = cone.diagonal_to_focus_mm / cone.focal_length_mm
    for radius in (0.0, 4.0, 8.0, 12.0, 15.0, 25.0):
        at_diagonal = np.hypot(radius + (x - radius) * step, y * step)
        passed = (at_diagonal <= cone.secondary_mm / 2.0) & inside
        counted = passed.sum() / inside.sum()
        assert edge_illumination(cone, radius) == pytest.approx(counted, abs=0.002)  # grid


@settings(deadline=None, max_examples=60)
@given(CONES, st.floats(0.0, 40.0), st.floats(0.1, 20.0))
def test_edge_illumination_never_grows_outwards(
    cone: LightCone, radius: float, further: float
) -> None:
    """Between 0 and 1, and falling from the middle outwards."""
    inner, outer = edge_illumination(cone, [radius, radius + further])
    assert 0.0 <= outer <= inner + 1e-12
    assert inner <= 1.0 + 1e-9


@settings(deadline=None, max_examples=60)
@given(CONES, st.floats(0.0, 1.0))
def test_whole_mirror_lights_the_fully_illuminated_field(cone: LightCone, share: float) -> None:
    """Two independent formulas agree on where the light begins to fall."""
    field = fully_illuminated_field_mm(cone)
    assume(field > 0.0)
    assert edge_illumination(cone, share * field / 2.0) == pytest.approx(1.0, abs=1e-6)
    assert edge_illumination(cone, field / 2.0 + 0.5) < 1.0


def test_coma_free_radius_agrees_with_handbook_rule() -> None:
    """Diffraction-limited field 0.022 F^3 mm across, f/7 (common practice, rounded to 5 %)."""
    assert 2.0 * coma_free_radius_mm(7.0) == pytest.approx(0.022 * 343.0, rel=0.05)


@pytest.mark.parametrize("ratio", [5.0, 6.5])
def test_coma_free_radius_agrees_with_a_fitted_wavefront(ratio: float) -> None:
    """Marechal's 1/14 wave, Strehl 0.82 (Born & Wolf 9.3), a hundredth for the grid's edge."""
    rms = coma_rms_waves(float(coma_free_radius_mm(ratio)), ratio)
    assert rms == pytest.approx(1.0 / 14.0, rel=0.01)
    assert strehl(rms) == pytest.approx(0.82, abs=0.005)


def test_collimation_aim_is_well_inside_the_coma_free_circle() -> None:
    """Half of it: coma of about 1/30 wave (common practice, no source)."""
    rms = coma_rms_waves(float(collimation_tolerance_mm(5.0)), 5.0)
    assert rms == pytest.approx(1 / 30, rel=0.05)


def test_depth_of_focus_agrees_with_quarter_wave_defocus() -> None:
    """Shift z defocuses the edge of an f/7 cone by z/(8 F^2): a quarter of 550 nm."""
    shift = float(depth_of_focus_mm(7.0))
    assert shift == pytest.approx(0.0539, abs=0.00005)
    assert shift / (8.0 * 49.0) / 550e-6 == pytest.approx(0.25, rel=1e-9)


@pytest.mark.parametrize("path", [0.0, -10.0, 1066.8, 2000.0])
def test_light_cone_rejects_a_diagonal_outside_the_tube(path: float) -> None:
    """The diagonal sits between the main mirror and the focus."""
    with pytest.raises(ModelRangeError, match="diagonal to focus"):
        LightCone(152.4, 1066.8, 38.1, path)


def test_light_cone_rejects_a_diagonal_of_no_size() -> None:
    """It sends no light anywhere, so that a share of it means nothing."""
    with pytest.raises(ModelRangeError, match="secondary 0"):
        LightCone(152.4, 1066.8, 0.0, 220.0)


@pytest.mark.parametrize(
    ("design", "path", "secondary", "known"),
    [
        (Design.NEWTONIAN, 205.0, 35.0, True),
        (Design.NEWTONIAN, None, 35.0, False),
        (Design.NEWTONIAN, 205.0, 0.0, False),
        (Design.CATADIOPTRIC, 205.0, 35.0, False),
    ],
)
def test_light_cone_is_only_known_for_a_measured_newtonian(
    design: Design, path: float | None, secondary: float, known: bool
) -> None:
    """None is the answer elsewhere, not a guess."""
    telescope = Telescope(
        "t",
        design,
        Mount.HAND_MOVED,
        158.0,
        154.0,
        1027.0,
        secondary,
        Glass(0.05),
        0.79,
        31.75,
        path,
    )
    assert (light_cone(telescope) is not None) is known
