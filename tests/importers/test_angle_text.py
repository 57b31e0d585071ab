"""Angles as people type them: their value, and how finely they are given."""

from __future__ import annotations

import numpy as np
import pytest
from astropy import units
from astropy.coordinates import Angle
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.importers.angle_text import degrees, last_digits_arcsec

MICROARCSEC_DEG = 3e-10


@settings(deadline=None, max_examples=60)
@given(
    value=st.floats(-89.99, 89.99),
    separator=st.sampled_from([":", " ", "dms"]),
)
def test_sexagesimal_text_agrees_with_astropy(value: float, separator: str) -> None:
    text = Angle(value, units.deg).to_string(sep=separator, precision=6, pad=True)
    found, bad = degrees([text], in_hours=False)
    assert not bad[0]
    assert found[0] == pytest.approx(Angle(text, units.deg).deg, abs=MICROARCSEC_DEG)


@pytest.mark.parametrize(
    ("text", "in_hours", "arcsec"),
    [
        ("14 45 00", True, 15.0),
        ("14:45:00.1", True, 1.5),
        ("14h45.0m", True, 90.0),
        ("14 45", True, 900.0),
        ("+27 04", False, 60.0),
        ("-27:04:27", False, 1.0),
        ("\N{MINUS SIGN}27 04 27.25", False, 0.01),
        ("221.25", True, 36.0),
        ("-0.0001", False, 0.36),
        ("150", True, 3600.0),
        ("2.2125e2", True, 0.0),
        ("", True, np.nan),
    ],
)
def test_last_digits_are_worth_what_they_say(text: str, in_hours: bool, arcsec: float) -> None:
    assert last_digits_arcsec([text], in_hours) == pytest.approx([arcsec], nan_ok=True)


def test_last_digits_of_decimal_hours() -> None:
    assert last_digits_arcsec(["14.75"], True, decimal_hours=True) == pytest.approx([540.0])
