"""Star limits: printed figures, handbook rules, and that more is never less."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.errors import ModelRangeError
from planner.eye.stars import (
    EyeAtTelescope,
    black_exit_pupil_mm,
    eyepiece_background_cd_m2,
    field_factor_from_limit,
    light_loss_factor,
    naked_eye_limit_mag,
    telescopic_limit_mag,
)

# The paper's worked telescope: a third of the light lost, pupil 7 mm, typical observer.
SIX_INCH = EyeAtTelescope(152.4, 0.0, 1.0 / 1.33, 7.0, 2.0)
SKIES = st.floats(4.0, 22.0)
UNITS = st.floats(0.0, 1.0)
ROUNDING = 1e-9


@pytest.mark.parametrize(("field_factor", "limit"), [(1.0, 6.93), (2.0, 6.18)])
def test_naked_eye_limit_reproduces_crumey2014_section31(field_factor: float, limit: float) -> None:
    """Crumey 2014, MNRAS 442, 2600, sect. 3.1, at 21.83 mag/arcsec^2."""
    assert naked_eye_limit_mag(21.83, field_factor) == pytest.approx(limit, abs=0.01)


def test_naked_eye_limit_reproduces_crumey2014_linear_laws() -> None:
    """Eq 54 for 20..22 (to 0.01 as seen in its printed digits), eq 55 for 21..25 (stated 0.04)."""
    near = np.linspace(20.0, 22.0, 9)
    assert naked_eye_limit_mag(near, 1.0) == pytest.approx(0.3834 * near - 1.4400, abs=0.01)
    dark = np.linspace(21.0, 25.0, 9)
    assert naked_eye_limit_mag(dark, 1.0) == pytest.approx(0.4260 * dark - 2.3650, abs=0.04)


def test_naked_eye_limit_derived_from_the_stated_equation() -> None:
    """Checks the implementation: eq 53 at 21.5, F = 1."""
    assert naked_eye_limit_mag(21.5, 1.0) == pytest.approx(6.800, abs=0.002)


@pytest.mark.parametrize(("aperture_mm", "limit"), [(100.0, 12.70), (152.4, 13.61), (254.0, 14.72)])
def test_black_field_limit_reproduces_crumey2014_eq73(aperture_mm: float, limit: float) -> None:
    """m_cut = 5 log D_cm + 8.45 - 2.5 log F; 100 mm, F = 2 printed 12.70, the others by it."""
    eye = replace(SIX_INCH, aperture_mm=aperture_mm)
    found = telescopic_limit_mag(eye, 0.9, 21.5)
    assert found == pytest.approx(limit, abs=0.01)
    laboratory = telescopic_limit_mag(replace(eye, field_factor=1.0), 0.9, 21.5)
    assert laboratory - 5.0 * np.log10(aperture_mm / 10.0) == pytest.approx(8.45, abs=0.005)


@pytest.mark.parametrize("aperture_mm", [60.0, 80.0, 100.0, 150.0, 200.0, 300.0])
def test_black_field_limit_agrees_with_the_handbook_rule(aperture_mm: float) -> None:
    """2.7 + 5 log D(mm), handbook rule: 150 mm gives 13.58; the law meets it to 0.02."""
    eye = replace(SIX_INCH, aperture_mm=aperture_mm)
    rule = 2.7 + 5.0 * np.log10(aperture_mm)
    assert telescopic_limit_mag(eye, 0.8, 21.5) == pytest.approx(rule, abs=0.02)


@pytest.mark.parametrize(("power", "rule"), [(50.0, 12.70), (107.0, 13.53)])
def test_telescopic_limit_agrees_with_bowen(power: float, rule: float) -> None:
    """5.5 + 2.5 log D_cm + 2.5 log M (Great Soviet Encyclopedia, after Bowen 1947).

    Published limits for six inches spread over 0.9 mag (12.7..13.6); 0.3 is asked here.
    """
    assert telescopic_limit_mag(SIX_INCH, 152.4 / power, 21.5) == pytest.approx(rule, abs=0.3)


def test_telescopic_limit_derived_from_the_stated_equation() -> None:
    """Checks the implementation: eq 68 at 21.5, x30, x50, x71 and x107."""
    powers = np.array([30.0, 50.0, 71.0, 107.0])
    found = telescopic_limit_mag(SIX_INCH, 152.4 / powers, 21.5)
    assert found == pytest.approx([12.47, 12.95, 13.29, 13.61], abs=0.01)


def test_telescopic_limit_agrees_with_crumey2014_eq69() -> None:
    """The linear form, off by up to 0.05 mag, where 21 < mu_eyepiece < 25."""
    d = np.array([6.0, 4.0, 3.0, 2.0])
    linear = (
        0.426 * 21.5 - 2.365 + 5.0 * np.log10(152.4 / 7.0) - 2.131 * np.log10(d / 7.0)
        - 1.435 * np.log10(1.33) - 2.5 * np.log10(2.0 * np.sqrt(2.0))
    )  # fmt: skip
    assert telescopic_limit_mag(SIX_INCH, d, 21.5) == pytest.approx(linear, abs=0.05)


def test_black_exit_pupil_is_where_stars_stop_gaining() -> None:
    """Eq 70: there the field has 1e-5 cd/m^2, and smaller exit pupils show the same."""
    d0 = black_exit_pupil_mm(SIX_INCH, 21.5)
    assert eyepiece_background_cd_m2(SIX_INCH, d0, 21.5) == pytest.approx(1e-5, rel=1e-9)
    limits = telescopic_limit_mag(SIX_INCH, np.array([1.2, 1.0, 0.5]) * d0, 21.5)
    assert limits[0] < limits[1] == pytest.approx(limits[2], abs=1e-9)


def test_light_loss_counts_only_what_enters_the_eye() -> None:
    """A quarter obstruction costs 1/16 of the light; behind a 7 mm pupil at 14 mm, 1/4."""
    eye = EyeAtTelescope(200.0, 50.0, 0.8, 7.0, 2.0)
    assert light_loss_factor(eye, [7.0, 2.0]) == pytest.approx(1.0 / (0.8 * 15.0 / 16.0), rel=1e-12)
    assert light_loss_factor(eye, 14.0) == pytest.approx(1.0 / (0.8 * 0.75), rel=1e-12)


def test_field_factor_returns_the_observers_limit() -> None:
    factor = field_factor_from_limit([6.0, 6.6], 21.3)
    assert naked_eye_limit_mag(21.3, factor) == pytest.approx([6.0, 6.6], abs=1e-9)
    assert factor[1] < factor[0]


def test_red_stars_are_seen_less_far() -> None:
    blue, typical, red = (telescopic_limit_mag(SIX_INCH, 2.0, 21.0, c) for c in (0.0, None, 1.6))
    assert red < typical < blue


@settings(deadline=None, max_examples=60)
@given(SKIES, UNITS, UNITS, UNITS, st.floats(0.5, 12.0))
def test_better_conditions_never_cost_stars(
    mu: float, aperture: float, glass: float, shadow: float, exit_pupil: float
) -> None:
    """Darker sky, more power, cleaner mirrors, less shadow, keener eye, more aperture."""
    eye = EyeAtTelescope(60.0 + 400.0 * aperture, 10.0 + 20.0 * shadow, 0.4 + 0.5 * glass, 6.5, 2.0)
    base = float(telescopic_limit_mag(eye, exit_pupil, mu)) - ROUNDING
    larger = replace(eye, aperture_mm=1.1 * eye.aperture_mm)
    power = eye.aperture_mm / exit_pupil
    assert telescopic_limit_mag(eye, exit_pupil, mu + 0.3) >= base
    assert telescopic_limit_mag(eye, 0.9 * exit_pupil, mu) >= base
    assert telescopic_limit_mag(replace(eye, transmission=0.95), exit_pupil, mu) >= base
    assert telescopic_limit_mag(replace(eye, obstruction_mm=0.0), exit_pupil, mu) >= base
    assert telescopic_limit_mag(replace(eye, field_factor=1.4), exit_pupil, mu) >= base
    assert telescopic_limit_mag(larger, exit_pupil, mu) >= base
    assert telescopic_limit_mag(larger, larger.aperture_mm / power, mu) >= base


@settings(deadline=None, max_examples=60)
@given(st.floats(0.0, 24.0), st.floats(0.0, 24.0))
def test_naked_eye_limit_never_falls_in_a_darker_sky(one: float, other: float) -> None:
    bright, dark = sorted((one, other))
    assert naked_eye_limit_mag(dark) >= naked_eye_limit_mag(bright) - ROUNDING


def test_limits_broadcast_and_keep_unknown_skies_unknown() -> None:
    found = telescopic_limit_mag(SIX_INCH, np.array([[5.0], [1.0]]), np.array([21.0, np.nan, 19.0]))
    assert found.shape == (2, 3)
    assert np.isnan(found[:, 1]).all()
    assert found[1, 2] == telescopic_limit_mag(SIX_INCH, 1.0, 19.0)


@pytest.mark.parametrize(
    ("name", "values"),
    [
        ("aperture", (0.0, 0.0, 0.8, 7.0, 2.0)),
        ("obstruction", (100.0, 100.0, 0.8, 7.0, 2.0)),
        ("transmission", (100.0, 20.0, 1.2, 7.0, 2.0)),
        ("eye pupil", (100.0, 20.0, 0.8, 70.0, 2.0)),
        ("field factor", (100.0, 20.0, 0.8, 7.0, 0.0)),
    ],
)
def test_eye_at_telescope_rejects_impossible_values(
    name: str, values: tuple[float, float, float, float, float]
) -> None:
    with pytest.raises(ModelRangeError, match=name):
        EyeAtTelescope(*values)


@pytest.mark.parametrize(
    "values",
    [
        (100.0, 0.0, 1.0, 1.0, 0.1),
        (100.0, 99.99, 1e-3, 10.0, 30.0),
    ],
)
def test_eye_at_telescope_takes_the_ends_of_its_ranges(
    values: tuple[float, float, float, float, float],
) -> None:
    """Eye pupil 1 to 10 mm, field factor 0.1 to 30, transmission to 1: as documented."""
    assert EyeAtTelescope(*values).aperture_mm == 100.0


@pytest.mark.parametrize(
    ("name", "values"),
    [
        ("obstruction", (100.0, -0.1, 0.8, 7.0, 2.0)),
        ("transmission", (100.0, 0.0, 0.0, 7.0, 2.0)),
        ("transmission", (100.0, 0.0, 1.01, 7.0, 2.0)),
        ("eye pupil", (100.0, 0.0, 0.8, 0.99, 2.0)),
        ("eye pupil", (100.0, 0.0, 0.8, 10.01, 2.0)),
        ("field factor", (100.0, 0.0, 0.8, 7.0, 0.099)),
        ("field factor", (100.0, 0.0, 0.8, 7.0, 30.1)),
    ],
)
def test_eye_at_telescope_rejects_what_is_just_beyond(
    name: str, values: tuple[float, float, float, float, float]
) -> None:
    with pytest.raises(ModelRangeError, match=name):
        EyeAtTelescope(*values)
