"""The motion of a companion from its primary, between Hipparcos and Gaia."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from planner.angles import position_angle_deg, separation_deg
from planner.targets.measure import Measures, Motions, drift

if TYPE_CHECKING:
    import pandas as pd
    from numpy.typing import NDArray

    Bools = NDArray[np.bool_]
    Floats = NDArray[np.float64]
    Integers = NDArray[np.int64]

HIPPARCOS_YR, GAIA_YR = 1991.25, 2016.0
# Limits of trust, own judgement after the scatter of the 737 pairs with two Hipparcos numbers.
WORST_MAS_YR = 8.0  # error of the difference of two proper motions: beyond it proves nothing
FLOOR_MAS_YR = 3.0  # inner orbits, which 3.3 years of Hipparcos see as motion
SIGMAS = 2.0
SINGLE = 10  # solution types below it (van Leeuwen 2007) are those of stars measured alone


def relative_motion(pairs: pd.DataFrame, stars: pd.DataFrame, hipparcos: pd.DataFrame) -> Motions:
    """Motion of each companion from its primary, mas a year; NaN where it is not to be trusted.

    The difference of the two stars' places at 2016.0 (Gaia) and at 1991.25 (Hipparcos) over 24.75
    years, good to about 0.1 mas a year. It is trusted where the difference of the proper motions
    of Hipparcos has an error under 8 mas a year and agrees with it to 3 mas a year and twice that
    error; or, whether it agrees or not, where Hipparcos measured each star alone (an inner orbit
    spoils a motion over 3 years, not one over 25). Else an entry may hold the light of both stars
    or be a grid step off. Source: difference of catalogued places; limits chosen here.
    """
    entries = hipparcos.set_index("hip")
    rows = [pairs[column].to_numpy() for column in ("star1", "star2")]
    one, two = (_entries(entries, stars, row) for row in rows)
    gaia = stars["gaia"].to_numpy(bool)
    usable = np.all([np.where(row >= 0, gaia[row], False) for row in rows], axis=0)
    places = [_places(stars, row) for row in rows]
    found = drift(
        _measures(_old(one), _old(two), HIPPARCOS_YR), _measures(places[0], places[1], GAIA_YR)
    )
    off = np.hypot(
        two["pmra"] - one["pmra"] - found.east_mas_yr,
        two["pmdec"] - one["pmdec"] - found.north_mas_yr,
    )
    error = np.sqrt(sum(e[c] ** 2 for e in (one, two) for c in ("pmra_error", "pmdec_error")))
    agree = off <= SIGMAS * error + FLOOR_MAS_YR
    alone = (one["solution"] < SINGLE) & (two["solution"] < SINGLE)
    trusted = usable & (error <= WORST_MAS_YR) & (agree | alone)
    return Motions(
        np.where(trusted, found.east_mas_yr, np.nan), np.where(trusted, found.north_mas_yr, np.nan)
    )


def _entries(entries: pd.DataFrame, stars: pd.DataFrame, rows: Integers) -> dict[str, Any]:
    """Columns of the Hipparcos entries of the stars in ``rows`` (-1: none), NaN without one."""
    numbers = stars["hip"].to_numpy()
    hip = np.where(rows >= 0, numbers[rows], -1)
    found = entries.reindex(np.where(hip > 0, hip, -1))
    columns = ("ra_rad", "dec_rad", "pmra", "pmdec", "pmra_error", "pmdec_error", "solution")
    return {column: found[column].to_numpy(float) for column in columns}


def _old(entry: dict[str, Any]) -> tuple[Floats, Floats]:
    return np.degrees(entry["ra_rad"]), np.degrees(entry["dec_rad"])


def _places(stars: pd.DataFrame, rows: Integers) -> tuple[Floats, Floats]:
    ra, dec = stars["ra_deg"].to_numpy(float), stars["dec_deg"].to_numpy(float)
    return np.where(rows >= 0, ra[rows], np.nan), np.where(rows >= 0, dec[rows], np.nan)


def _measures(one: tuple[Floats, Floats], two: tuple[Floats, Floats], epoch_yr: float) -> Measures:
    """The measures that two lists of places (ra_deg, dec_deg) are."""
    separation = 3600.0 * separation_deg(*one, *two)
    unknown = np.full(len(separation), np.nan)
    epoch = np.full(len(separation), epoch_yr)
    return Measures(separation, position_angle_deg(*one, *two), epoch, unknown)
