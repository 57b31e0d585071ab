"""The field stars: what stands around a target, down to the catalog's limit."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.angles import separation_deg
from planner.targets.columns import rows_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Integers = NDArray[np.int64]

FAINTEST_STAR_MAG = 10.6  # where the shipped star catalog ends


@dataclass(frozen=True, slots=True)
class StarField:
    """N stars in order of declination: position in degrees, V, B-V (NaN unknown), HIP (0 none)."""

    ra_deg: Floats
    dec_deg: Floats
    v_mag: Floats
    bv: Floats
    hip: Integers

    def __len__(self) -> int:
        """Number of stars."""
        return len(self.ra_deg)


def stars_near(
    stars: StarField, ra_deg: float, dec_deg: float, radius_deg: float, faintest: float = np.inf
) -> StarField:
    """The stars within a circle on the sky, in order of declination.

    Centre in degrees (the catalog's own equinox), ``radius_deg`` 0..180, ``faintest`` the
    faintest V kept. A band of declination is cut out by bisection first, so the cost follows
    the field and not the catalog. Works across 0 h and over the poles.
    """
    low = np.searchsorted(stars.dec_deg, dec_deg - radius_deg, side="left")
    high = np.searchsorted(stars.dec_deg, dec_deg + radius_deg, side="right")
    band = slice(int(low), int(high))
    across = np.abs((stars.ra_deg[band] - ra_deg + 180.0) % 360.0 - 180.0)
    likely = (across <= _half_width_deg(dec_deg, radius_deg)) & (stars.v_mag[band] <= faintest)
    rows = np.flatnonzero(likely) + band.start
    apart = separation_deg(stars.ra_deg[rows], stars.dec_deg[rows], ra_deg, dec_deg)
    return rows_of(stars, rows[apart <= radius_deg])


def _half_width_deg(dec_deg: float, radius_deg: float) -> float:
    """Widest difference in right ascension inside a circle: asin(sin r / cos dec), or all."""
    if abs(dec_deg) + radius_deg >= 90.0:
        return 180.0
    ratio = np.sin(np.radians(radius_deg)) / np.cos(np.radians(dec_deg))
    return float(np.degrees(np.arcsin(min(ratio, 1.0)))) + 1e-9
