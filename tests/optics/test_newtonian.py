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
    clear_ring_mm,
    collimation_tolerance_mm,
    coma_free_radius_mm,
    depth_of_focus_mm,
    diagonal_offset_mm,
    edge_illumination,
    fully_illuminated_field_mm,
    least_diagonal_mm,
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


SHORT_FORM_MM = 0.3  # what (a f - L D)/(f - L) promises too much at f/6, see the rays below


def rays_over_the_diagonal(
    cone: LightCone, radius_mm: float, direction_deg: float
) -> tuple[np.ndarray, np.ndarray]:
    """How far off the diagonal's middle rays cross it, mm, and which begin on the mirror.

    Traced from a grid over the mirror to one point of the field onto the plane at 45 degrees;
    0 degrees is towards the mirror, as seen in the turned light. Both distances are measured
    across the light, in which the diagonal is a round disc.
    """
    f, path = cone.focal_length_mm, cone.diagonal_to_focus_mm
    side = np.linspace(-1.0, 1.0, 801) * cone.aperture_mm / 2.0
    mx, my = np.meshgrid(side, side)
    px, py = (
        radius_mm * np.cos(np.radians(direction_deg)),
        radius_mm * np.sin(np.radians(direction_deg)),
    )
    x = (px + (mx - px) * path / f) / (1.0 - (mx - px) / f)
    y = py + (my - py) * (path + x) / f
    off = np.hypot(x - diagonal_offset_mm(cone), y)
    return off, np.hypot(mx, my) <= cone.aperture_mm / 2.0


def traced_share(cone: LightCone, radius_mm: float) -> float:
    """Share of the rays that the diagonal catches, the mean over all directions in the field."""
    shares = []
    for direction in np.arange(0.0, 360.0, 30.0):
        off, begun = rays_over_the_diagonal(cone, radius_mm, direction)
        shares.append(((off <= cone.secondary_mm / 2.0) & begun).sum() / begun.sum())
    return float(np.mean(shares))


def test_fully_illuminated_field_reproduces_makers_example() -> None:
    """8-inch f/6, diagonal 1.6 in, 8 in to the focus: 0.32 in (a makers' mailing list, 2005).

    Theirs is the short form's value; the field itself is 0.3 mm smaller.
    """
    field = fully_illuminated_field_mm(inches(8, 48, 1.6, 8))
    assert field / INCH_MM == pytest.approx(0.32 - SHORT_FORM_MM / INCH_MM, abs=0.005)


def test_fully_illuminated_field_agrees_with_traced_rays() -> None:
    """At its edge the farthest ray meets the diagonal's rim, to the grid's step; 8-inch f/6."""
    cone = LightCone(200.0, 1200.0, 45.0, 195.0)
    radius = fully_illuminated_field_mm(cone) / 2.0
    for direction in (0.0, 180.0):
        off, begun = rays_over_the_diagonal(cone, radius, direction)
        assert off[begun].max() == pytest.approx(45.0 / 2.0, abs=0.005)
    off, begun = rays_over_the_diagonal(cone, radius + SHORT_FORM_MM / 2.0, 0.0)
    assert off[begun].max() > 45.0 / 2.0 + 0.05  # the short form's field is cut


def test_least_diagonal_agrees_with_exact_geometry() -> None:
    """Exact section of the cone; the short form has 40.875 mm. D 200, f 1200, L 195, H 10."""
    least = float(least_diagonal_mm(200.0, 1200.0, 195.0, 10.0))
    assert least == pytest.approx(41.1328, abs=1e-4)
    cone = LightCone(200.0, 1200.0, least, 195.0)
    assert diagonal_offset_mm(cone) == pytest.approx(1.62817, abs=1e-4)


@settings(deadline=None, max_examples=60)
@given(st.floats(80, 400), st.floats(4, 12), st.floats(0.1, 0.4), st.floats(0.0, 60.0))
def test_least_diagonal_and_fully_illuminated_field_undo_one_another(
    aperture: float, ratio: float, share: float, field: float
) -> None:
    focal = aperture * ratio
    least = float(least_diagonal_mm(aperture, focal, share * focal, field))
    cone = LightCone(aperture, focal, least, share * focal)
    assert fully_illuminated_field_mm(cone) == pytest.approx(field, abs=1e-6)


@pytest.mark.parametrize(
    "cone",
    [
        LightCone(160.0, 1040.0, 28.0, 205.0),  # too small even for the middle
        LightCone(300.0, 1200.0, 63.0, 280.0),  # f/4
    ],
)
def test_edge_illumination_agrees_with_rays_over_an_odd_diagonal(cone: LightCone) -> None:
    """Where the round stop that stands for the tilted one is least good: within 0.01."""
    for radius in (0.0, 6.0, 12.0, 23.0):
        traced = traced_share(cone, radius)
        assert edge_illumination(cone, radius) == pytest.approx(traced, abs=0.01)


def test_clear_ring_takes_no_ray_of_the_field() -> None:
    """A ring 900 mm before a mirror of 160 mm, 1.5 degrees: the outermost ray, by its slope."""
    slope = np.tan(np.radians(0.75))
    assert float(clear_ring_mm(160.0, 900.0, 1.5)) / 2.0 == pytest.approx(80.0 + 900.0 * slope)


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
    """Share of a fine grid of rays over the mirror that passes the tilted diagonal, 6-inch f/7."""
    for radius in (0.0, 4.0, 8.0, 12.0, 15.0, 25.0):
        counted = traced_share(SIX_INCH_F7, radius)
        assert edge_illumination(SIX_INCH_F7, radius) == pytest.approx(counted, abs=0.002)  # grid


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
