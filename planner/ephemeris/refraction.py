"""Refraction: how far the air lifts a body above its true place."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from planner.errors import ModelRangeError

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]

_LOWEST_DEG = -1.0  # below this the air's lift is left out
_HIGHEST_DEG = 89.9  # above this Bennett's formula turns slightly negative
_STEP_DEG = 0.02  # linear steps of the table; 0.02" wrong at most, at the horizon
_ROUNDS = 40  # fixed-point rounds; each shrinks the error at least three times


def refracted_altitude_deg(
    true_altitude_deg: ArrayLike, pressure_hpa: float, temperature_c: float
) -> Floats:
    """Apparent altitude, degrees, of a body whose altitude without air is given.

    Solves ``h = h_true + R(h)`` by a table in steps of 0.02 degrees (0.02"), with
    ``R = (1/60) cot(h + 7.31/(h + 4.4)) 0.28 P / (T + 273)``, h in degrees, R in degrees.
    Pressure in hPa at the site (not reduced to the sea), temperature in Celsius.
    Any shape; NaN stays NaN. Altitudes below -1 degree, or above 89.9, are returned unchanged:
    there is a step of about 0.6 degrees at -1, out of sight below the horizon.
    Raises ModelRangeError for air below -100 or above 60 C, or pressure outside 0..1100 hPa.
    Source: Bennett 1982, Journal of Navigation 35, 255; pressure and temperature as in
    skyfield. Good to 0.07' above the horizon in standard air; real air near the horizon
    differs by minutes of arc.
    """
    table = _table(float(pressure_hpa), float(temperature_c))
    h = np.array(true_altitude_deg, dtype=float)
    position = np.clip(np.nan_to_num(h), _LOWEST_DEG, _HIGHEST_DEG)
    position -= _LOWEST_DEG
    position /= _STEP_DEG
    index = position.astype(np.intp)
    position -= index
    lift = table[index]
    lift += position * (table[index + 1] - lift)
    lift *= (h >= _LOWEST_DEG) & (h <= _HIGHEST_DEG)
    h += lift
    return h


def _air(pressure_hpa: float, temperature_c: float) -> float:
    if not (0.0 <= pressure_hpa <= 1100.0 and -100.0 <= temperature_c <= 60.0):
        raise ModelRangeError(
            f"refraction needs 0..1100 hPa and -100..60 C, not {pressure_hpa} hPa "
            f"and {temperature_c} C"
        )
    return 0.28 * pressure_hpa / (temperature_c + 273.0)


@lru_cache(maxsize=8)
def _table(pressure_hpa: float, temperature_c: float) -> Floats:
    """Refraction at true altitudes -1, -0.98, ... to just above 89.9 degrees."""
    air = _air(pressure_hpa, temperature_c)
    true = np.arange(_LOWEST_DEG, _HIGHEST_DEG + 2.5 * _STEP_DEG, _STEP_DEG)
    seen = true.copy()
    for _ in range(_ROUNDS):
        seen = true + air / 60.0 / np.tan(np.radians(seen + 7.31 / (seen + 4.4)))
    return np.asarray(seen - true)
