"""Views: magnification, exit pupil, true field and drift."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.optics.eyepiece import Barlow, Eyepiece
from planner.optics.glass import Glass
from planner.optics.telescope import Design, Mount, Telescope
from planner.optics.view import all_views, drift_s, true_field_deg, view

SIX_INCH_F7 = Telescope(
    "six", Design.NEWTONIAN, Mount.HAND_MOVED, 152.4, 152.4, 1066.8, 38.0, Glass(0.05), 0.8, 31.75
)


def test_view_agrees_with_eyepiece_over_focal_ratio() -> None:
    """25 mm at f/7: exit pupil 25/7 mm, power 1066.8/25 (common practice, no source)."""
    seen = view(SIX_INCH_F7, Eyepiece("25 mm", 25.0, 50.0))
    assert seen.exit_pupil_mm == pytest.approx(25.0 / 7.0, rel=1e-12)
    assert seen.magnification == pytest.approx(42.67, abs=0.005)


def test_true_field_agrees_with_field_stop_angle() -> None:
    """27 mm stop at 1066.8 mm: 1.450 deg (angle = size / distance)."""
    eyepiece = Eyepiece("32 mm", 32.0, 50.0, field_stop_mm=27.0)
    assert true_field_deg(SIX_INCH_F7, eyepiece) == pytest.approx(1.450, abs=0.0005)
    assert view(SIX_INCH_F7, eyepiece).field_is_measured


def test_true_field_without_a_stop_is_apparent_field_over_power() -> None:
    """50 deg at 42.67x (common practice, no source); the view says it is approximate."""
    seen = view(SIX_INCH_F7, Eyepiece("25 mm", 25.0, 50.0))
    assert seen.true_field_deg == pytest.approx(50.0 / 42.672, rel=1e-9)
    assert not seen.field_is_measured


def test_true_field_is_never_wider_than_the_focuser() -> None:
    """A 46 mm stop does not pass a barrel of 31.75 mm."""
    wide = Eyepiece("40 mm", 40.0, 70.0, field_stop_mm=46.0, barrel_mm=50.8)
    assert true_field_deg(SIX_INCH_F7, wide) == pytest.approx(np.degrees(31.75 / 1066.8), rel=1e-9)


@pytest.mark.parametrize("stop_mm", [46.0, None])
def test_true_field_is_never_wider_than_the_eyepieces_own_barrel(stop_mm: float | None) -> None:
    """A barrel of 31.75 mm holds no stop of 46 mm, said or following from 70 deg of field."""
    big = replace(SIX_INCH_F7, barrel_mm=50.8)
    odd = Eyepiece("40 mm", 40.0, 70.0, field_stop_mm=stop_mm)
    assert true_field_deg(big, odd) == pytest.approx(np.degrees(31.75 / 1066.8), rel=1e-9)
    fitting = replace(odd, barrel_mm=50.8)
    assert true_field_deg(big, fitting) > 1.4 * true_field_deg(big, odd)


@pytest.mark.parametrize(("declination", "seconds"), [(0.0, 239.3), (60.0, 478.7), (-60.0, 478.7)])
def test_drift_agrees_with_sidereal_rate(declination: float, seconds: float) -> None:
    """One degree: 86164.09 s/360 at the equator (IERS 2010), twice that at 60 degrees."""
    assert drift_s(1.0, declination) == pytest.approx(seconds, abs=0.06)
    assert drift_s(1.0) == pytest.approx(86164.09 / 360.0, rel=1e-5)


@settings(deadline=None, max_examples=60)
@given(st.floats(2.0, 55.0), st.floats(30.0, 110.0), st.floats(1.1, 5.0))
def test_magnification_times_exit_pupil_is_the_aperture(
    focal: float, field: float, factor: float
) -> None:
    """With and without a Barlow, which also divides the field."""
    eyepiece = Eyepiece("any", focal, field)
    plain = view(SIX_INCH_F7, eyepiece)
    longer = view(SIX_INCH_F7, eyepiece, Barlow("b", factor))
    for seen in (plain, longer):
        assert seen.magnification * seen.exit_pupil_mm == pytest.approx(152.4, rel=1e-12)
    assert longer.magnification == pytest.approx(plain.magnification * factor, rel=1e-12)
    assert longer.true_field_deg < plain.true_field_deg


def test_all_views_holds_every_combination_in_order_of_power() -> None:
    """Two eyepieces and one Barlow make four views."""
    pieces = [Eyepiece("10 mm", 10.0, 60.0), Eyepiece("25 mm", 25.0, 50.0)]
    views = all_views(SIX_INCH_F7, pieces, [Barlow("2x", 2.0)])
    assert [v.name for v in views] == ["25 mm", "25 mm + 2x", "10 mm", "10 mm + 2x"]


def test_all_views_leave_out_what_cannot_be_put_together() -> None:
    """A 2 in eyepiece behind a 1.25 in Barlow; a 2 in eyepiece or Barlow in a 1.25 in focuser."""
    wide = Eyepiece("40 mm", 40.0, 70.0, barrel_mm=50.8)
    narrow = Eyepiece("10 mm", 10.0, 60.0)
    barlows = [Barlow("2x", 2.0), Barlow("big 2x", 2.0, barrel_mm=50.8)]
    big = replace(SIX_INCH_F7, barrel_mm=50.8)
    names = {v.name for v in all_views(big, [wide, narrow], barlows)}
    assert names == {"40 mm", "10 mm", "10 mm + 2x", "10 mm + big 2x", "40 mm + big 2x"}
    small = all_views(SIX_INCH_F7, [wide, narrow], barlows)
    assert [v.name for v in small] == ["10 mm", "10 mm + 2x"]
