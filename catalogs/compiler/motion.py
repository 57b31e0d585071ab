"""Bound or not, where Hipparcos measured both stars of a pair."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    import pandas as pd
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

KM_PER_S_PER_AU_YR = 4.74047  # 1 au/yr in km/s, definition of the au and the Julian year
ESCAPE_KM_PER_S = 42.12  # escape velocity 1 au from one solar mass
PAIR_MASS = 4.0  # solar masses; generous for two stars of the main sequence
FLOOR_MAS_YR = 3.0  # inner orbits and field-to-field errors of the proper motions
PARALLAX_FLOOR = 0.1  # fraction by which the parallaxes of one pair are found to differ
BAD_PARALLAX_MAS = 8.0  # an entry less certain than this decides nothing


def physical(pairs: pd.DataFrame, stars: pd.DataFrame, hipparcos: pd.DataFrame) -> NDArray[Any]:
    """ "yes", "no" or "" (not known) for each pair.

    Yes: parallaxes agree, the motions differ by less than escape velocity at the projected
    separation, and the agreement is telling (a parallax of 5 sigma or a common motion of five
    times the margin). No: parallaxes differ by over 5 sigma and a quarter, or motions by over
    three times the margin. Else unknown, as for every pair without two Hipparcos numbers.

    Source: two-body escape velocity; limits chosen here, no published calibration.
    """
    numbers = stars["hip"].to_numpy()
    entries = hipparcos.set_index("hip")
    one, two = (_entries(entries, numbers, pairs[c].to_numpy()) for c in ("star1", "star2"))
    separation = pairs["separation_arcsec"].to_numpy(float)
    difference, error = np.abs(one["plx"] - two["plx"]), np.hypot(one["sp"], two["sp"])
    parallax = np.where(one["sp"] <= two["sp"], one["plx"], two["plx"])
    relative = difference / np.maximum(np.abs(parallax), 1e-3)
    far = (difference > 5.0 * error) & (relative > 0.25)
    near = (difference < 3.0 * error) | (relative < PARALLAX_FLOOR)
    step = np.hypot(one["east"] - two["east"], one["north"] - two["north"])
    margin = _escape_mas_yr(separation, parallax) + FLOOR_MAS_YR
    margin += 3.0 * np.hypot(one["sm"], two["sm"])
    common = np.hypot(one["east"] + two["east"], one["north"] + two["north"]) / 2.0
    telling = (parallax > 5.0 * np.minimum(one["sp"], two["sp"])) | (common > 5.0 * margin)
    usable = np.maximum(one["sp"], two["sp"]) < BAD_PARALLAX_MAS
    yes = usable & near & (step < margin) & telling
    no = usable & (far | (step > 3.0 * margin))
    return np.where(yes, "yes", np.where(no, "no", "")).astype(object)


def _escape_mas_yr(separation_arcsec: Floats, parallax_mas: Floats) -> Floats:
    """Escape velocity at the projected separation, as proper motion."""
    parallax = np.maximum(np.nan_to_num(parallax_mas), 0.5)
    au = np.maximum(separation_arcsec * 1000.0 / parallax, 1.0)
    speed = ESCAPE_KM_PER_S * np.sqrt(PAIR_MASS / au)
    return np.asarray(speed / KM_PER_S_PER_AU_YR * parallax)


def _entries(
    entries: pd.DataFrame, numbers: NDArray[np.int64], rows: NDArray[np.int64]
) -> dict[str, Floats]:
    """Parallax, motion and errors of the stars in ``rows`` (-1: none), NaN without an entry."""
    hip = np.where(rows >= 0, numbers[rows], -1)
    found = entries.reindex(np.where(hip > 0, hip, -1))
    return {
        "plx": found["plx"].to_numpy(float),
        "sp": found["plx_error"].to_numpy(float),
        "east": found["pmra"].to_numpy(float),
        "north": found["pmdec"].to_numpy(float),
        "sm": np.hypot(found["pmra_error"].to_numpy(float), found["pmdec_error"].to_numpy(float)),
    }
