"""The dark pupil: published formulas and the decline with age."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.errors import ModelRangeError
from planner.eye.pupil import dark_pupil_mm

PERSON_TO_PERSON_MM = 1.5  # spread between people of one age, and between formulas


def test_dark_pupil_reproduces_schaefer1990_eq5() -> None:
    """Schaefer 1990, PASP 102, 212, eq 5: 6.86 mm at 20 years, 5.85 at 60."""
    assert dark_pupil_mm([20.0, 60.0]) == pytest.approx([6.86, 5.85], abs=0.01)


def test_dark_pupil_agrees_with_watson_yellott2012() -> None:
    """Watson & Yellott 2012, Journal of Vision 12(10), 12, unified formula worked out by hand
    for one eye, 1e-4 cd/m^2 and a field of 60 deg.
    """
    found = dark_pupil_mm([20.0, 40.0, 60.0, 80.0])
    assert found == pytest.approx([8.16, 7.11, 6.06, 5.01], abs=PERSON_TO_PERSON_MM)


@settings(deadline=None, max_examples=60)
@given(st.floats(10.0, 95.0), st.floats(10.0, 95.0))
def test_pupil_never_opens_with_age(one: float, other: float) -> None:
    younger, older = sorted((one, other))
    assert dark_pupil_mm(older) <= dark_pupil_mm(younger)


def test_pupil_takes_the_youngest_and_the_oldest() -> None:
    """10 and 95 years by hand: 7 exp(-0.005), 7 exp(-0.45125)."""
    assert dark_pupil_mm([10.0, 95.0]) == pytest.approx([6.9651, 4.4578], abs=1e-4)


@pytest.mark.parametrize("age", [5.0, 9.9, 95.1, 99.0])
def test_pupil_rejects_ages_outside_the_data(age: float) -> None:
    with pytest.raises(ModelRangeError, match="age outside 10..95 years.*measured pupil"):
        dark_pupil_mm(age)
