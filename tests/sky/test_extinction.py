"""Extinction: published table, molecules alone, order of the states of the air."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.errors import ModelRangeError
from planner.sky.extinction import (
    Aerosol,
    extinction_mag_per_airmass,
    rayleigh_mag_per_airmass,
)

LAST_DIGIT_MAG = 0.005


@pytest.mark.parametrize(
    ("elevation_m", "mag"), [(0.0, 0.28), (500.0, 0.24), (1000.0, 0.21), (2000.0, 0.16)]
)
def test_extinction_reproduces_green1992_table(elevation_m: float, mag: float) -> None:
    """Green 1992, ICQ 14, 55: average air at 0, 0.5, 1 and 2 km."""
    assert extinction_mag_per_airmass(elevation_m) == pytest.approx(mag, abs=LAST_DIGIT_MAG)


def test_rayleigh_reproduces_hayes_latham1975() -> None:
    """Hayes & Latham 1975, ApJ 197, 593: 0.1066 at 0.55 um, sea level; 0.1451 at 0.51 um."""
    assert rayleigh_mag_per_airmass([0.55, 0.51]) == pytest.approx([0.1066, 0.1451], abs=1e-4)


@pytest.mark.parametrize(("air", "mag"), [(Aerosol.CLEAR, 0.05), (Aerosol.HAZY, 0.30)])
def test_haze_thins_with_hayes_latham1975_scale_height(air: Aerosol, mag: float) -> None:
    """Beyond average air's 0.12 (Green 1992), at the sea and e times less 1500 m higher.

    0.05 and 0.30 are the figures asked for clear and hazy air (common practice, no source).
    """
    sea, high = (
        float(extinction_mag_per_airmass(h, air) - extinction_mag_per_airmass(h))
        for h in (0.0, 1500.0)
    )
    assert sea == pytest.approx(mag - 0.12, abs=1e-9)
    assert sea / high == pytest.approx(np.e, rel=1e-9)


def test_air_molecules_thin_with_hayes_latham1975_scale_height() -> None:
    """Hayes & Latham 1975: 1/e at 7.996 km; pressure at 5.5 km is near half that of the sea."""
    low, high = rayleigh_mag_per_airmass(0.55, [0.0, 5542.0])
    assert high / low == pytest.approx(0.5, abs=0.001)


@settings(deadline=None, max_examples=60)
@given(st.floats(-400.0, 5900.0), st.floats(0.0, 5900.0))
def test_extinction_falls_with_height_and_rises_with_haze(one: float, other: float) -> None:
    low, high = sorted((one, other))
    for air in Aerosol:
        assert extinction_mag_per_airmass(high, air) <= extinction_mag_per_airmass(low, air)
    clear, average, hazy = (extinction_mag_per_airmass(low, air) for air in Aerosol)
    assert clear < average < hazy


def test_extinction_takes_arrays_and_the_names_of_the_air() -> None:
    heights = np.array([[0.0, 870.0]])
    both = extinction_mag_per_airmass(heights, Aerosol("hazy"))
    assert both.shape == (1, 2)
    assert both[0, 1] == extinction_mag_per_airmass(870.0, Aerosol.HAZY)


def test_extinction_takes_the_dead_sea_shore_and_the_highest_dwellings() -> None:
    """430 m below the sea and 6000 m above it, the documented ends."""
    low, high = extinction_mag_per_airmass([-430.0, 6000.0])
    assert low > high > 0.0


@pytest.mark.parametrize("elevation_m", [-1000.0, -431.0, 6001.0, [0.0, 8848.0]])
def test_extinction_rejects_impossible_heights(elevation_m: float | list[float]) -> None:
    with pytest.raises(ModelRangeError, match="height above the sea"):
        extinction_mag_per_airmass(elevation_m)
