"""Lengths with units."""

from __future__ import annotations

import pytest
from astropy import units as u
from astropy.units import imperial
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.kit.lengths import UNIT_KG, length_mm, mass_kg

UNITS = {"mm": u.mm, "cm": u.cm, "m": u.m, "km": u.km, "in": imperial.inch, "ft": imperial.foot}
ROUNDING = 1e-12  # relative, of a few floating-point steps


@pytest.mark.parametrize(
    ("text", "millimetres"),
    [
        ("6 in", 152.4),
        ("1.25 in", 31.75),
        ("2inch", 50.8),
        ("2 inches", 50.8),
        ("1 ft", 304.8),
        ("2 feet", 609.6),
        ("152 mm", 152.0),
        ("152MM", 152.0),
        (" 15.2 cm ", 152.0),
        ("1.04 m", 1040.0),
        (".5 mm", 0.5),
        ("-3 m", -3000.0),
        ("+3 m", 3000.0),
    ],
)
def test_length_mm_follows_the_definitions(text: str, millimetres: float) -> None:
    """1 in = 25.4 mm, 1 ft = 304.8 mm: international yard and pound agreement, 1959."""
    assert length_mm(text) == pytest.approx(millimetres, rel=ROUNDING)


@settings(deadline=None, max_examples=60)
@given(st.decimals(-9999, 9999, places=4), st.sampled_from(sorted(UNITS)))
def test_length_mm_agrees_with_astropy(number: object, unit: str) -> None:
    """The same number with astropy's unit."""
    expected = (float(str(number)) * UNITS[unit]).to_value(u.mm)
    assert length_mm(f"{number:f} {unit}") == pytest.approx(expected, rel=ROUNDING)


@settings(deadline=None, max_examples=60)
@given(st.floats(0.001, 1e6))
def test_length_mm_round_trips(millimetres: float) -> None:
    """A length written out in millimetres or inches comes back."""
    decimals = 1e-8  # the digits written
    assert length_mm(f"{millimetres:.9f} mm") == pytest.approx(millimetres, abs=decimals)
    assert length_mm(f"{millimetres / 25.4:.12f} in") == pytest.approx(millimetres, abs=decimals)


@pytest.mark.parametrize(
    "text",
    ["", "mm", "6", "6 parsec", "6 in 3", "six in", "1e3 mm", "nan mm", "inf mm", '6"', "6 \u00b5m",
     "\u0666 mm", "1 1/4 in", "--5 mm", "6.5.1 mm", "0x10 mm"],
)  # fmt: skip
def test_length_mm_rejects_what_is_no_length(text: str) -> None:
    """The remedy names the units."""
    with pytest.raises(ValueError, match="write a number and one of mm, cm, m, km, in, ft"):
        length_mm(text)


def test_length_mm_rejects_a_decimal_comma() -> None:
    """Said as such: it is the likeliest slip."""
    with pytest.raises(ValueError, match="decimal point, no commas"):
        length_mm("31,75 mm")


MASS_UNITS = {"kg": u.kg, "g": u.g, "lb": imperial.lb, "lbs": imperial.lb, "oz": imperial.oz}


@given(st.sampled_from(sorted(UNIT_KG)), st.floats(0.001, 1000.0))
def test_mass_kg_agrees_with_astropy(unit: str, number: float) -> None:
    text = f"{number:.6f} {unit}"
    expected = (float(text.split()[0]) * MASS_UNITS[unit]).to_value(u.kg)
    assert mass_kg(text) == pytest.approx(expected, rel=ROUNDING)


@pytest.mark.parametrize("text", ["250", "250 mm", "0,25 kg", "kg", "a g"])
def test_mass_kg_rejects_what_is_no_mass(text: str) -> None:
    with pytest.raises(ValueError, match="write a"):
        mass_kg(text)
