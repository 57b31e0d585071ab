"""The pupil: published formulas and the decline with age."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.errors import ModelRangeError
from planner.eye.pupil import dark_pupil_mm, lit_pupil_mm

PERSON_TO_PERSON_MM = 1.5  # spread between people of one age, and between the two formulas


def test_dark_pupil_reproduces_schaefer1990_eq5() -> None:
    """Schaefer 1990, PASP 102, 212, eq 5: 6.86 mm at 20 years, 5.85 at 60."""
    assert dark_pupil_mm([20.0, 60.0]) == pytest.approx([6.86, 5.85], abs=0.01)


def test_lit_pupil_derived_from_the_stated_equation() -> None:
    """Checks the implementation: Watson & Yellott 2012, 1e-4 cd/m^2, 60 deg field, one eye."""
    found = lit_pupil_mm(1e-4, 60.0, [20.0, 40.0, 60.0, 80.0])
    assert found == pytest.approx([8.16, 7.11, 6.06, 5.01], abs=0.01)


@pytest.mark.parametrize(("luminance", "mm_per_year"), [(9.0, -0.043), (4400.0, -0.015)])
def test_lit_pupil_agrees_with_winn1994(luminance: float, mm_per_year: float) -> None:
    """Winn et al. 1994, IOVS 35, 1132: decline with age at the lowest and highest light.

    The luminances and the 10 degree field are from memory; 0.003 is about their stated error.
    """
    young, old = lit_pupil_mm(luminance, 10.0, [20.0, 80.0])
    assert (old - young) / 60.0 == pytest.approx(mm_per_year, abs=0.003)


def test_the_two_dark_pupils_agree() -> None:
    age = np.array([20.0, 40.0, 60.0, 80.0])
    dark = lit_pupil_mm(1e-4, 60.0, age)
    assert dark == pytest.approx(dark_pupil_mm(age), abs=PERSON_TO_PERSON_MM)


@settings(deadline=None, max_examples=60)
@given(st.floats(20.0, 83.0), st.floats(0.0, 1e4), st.floats(0.0, 1e4))
def test_pupil_never_opens_with_age_or_light(age: float, one: float, other: float) -> None:
    """With age: in dim light, where it matters here."""
    dim, lit = sorted((one, other))
    assert lit_pupil_mm(lit, 20.0, age) <= lit_pupil_mm(dim, 20.0, age)
    assert lit_pupil_mm(dim, 20.0, age, eyes=2) <= lit_pupil_mm(dim, 20.0, age, eyes=1)
    assert lit_pupil_mm(1.0, 20.0, age) <= lit_pupil_mm(1.0, 20.0, 20.0)
    assert dark_pupil_mm(age) <= dark_pupil_mm(20.0)


def test_pupil_rejects_ages_and_eyes_outside_the_data() -> None:
    with pytest.raises(ModelRangeError, match="measured pupil"):
        dark_pupil_mm(5.0)
    with pytest.raises(ModelRangeError, match="age outside 20..83"):
        lit_pupil_mm(1.0, 20.0, 90.0)
    with pytest.raises(ModelRangeError, match="not 3"):
        lit_pupil_mm(1.0, 20.0, 40.0, eyes=3)
