"""Clusters, nebulae and galaxies: the table and its mean surface brightness."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]
    Texts = NDArray[np.object_]

SQUARE_ARCSEC_IN_ROUND_ARCMIN = 8.63  # 2.5 log10(3600 pi / 4): the ellipse of axes 1' and 1'


@dataclass(frozen=True, slots=True)
class DeepSky:
    """N deep-sky objects, one array of length N for each column of ``deepsky.csv.gz``.

    Positions in degrees (J2000), axes in arcminutes, position angle of the major axis in
    degrees. ``kind`` holds ``Kind`` members; ``names`` further designations and
    ``common_name`` the names in words, several joined by ``|``. NaN: not known. ``v_source``
    says where the magnitude comes from.
    """

    id: Texts
    names: Texts
    common_name: Texts
    kind: Texts
    nebula_type: Texts
    constellation: Texts
    ra_deg: Floats
    dec_deg: Floats
    v_mag: Floats
    v_source: Texts
    major_arcmin: Floats
    minor_arcmin: Floats
    position_angle_deg: Floats
    hubble_type: Texts

    def __len__(self) -> int:
        """Number of objects."""
        return len(self.ra_deg)


def mean_surface_brightness(
    v_mag: ArrayLike, major_arcmin: ArrayLike, minor_arcmin: ArrayLike
) -> Floats:
    """Mean surface brightness in V magnitudes per square arcsecond.

    ``V + 2.5 log10(a b) + 8.63`` with full axes a, b in arcminutes (> 0): the light spread
    evenly over the ellipse. Scalars or arrays, broadcast; NaN gives NaN. Limit: real objects
    are brighter in the middle, and catalog sizes follow no common isophote, so 0.5 mag is a
    good figure and large nebulae can be wrong by 2. Source: geometry; common practice.
    """
    area = np.asarray(major_arcmin, dtype=float) * np.asarray(minor_arcmin, dtype=float)
    with np.errstate(divide="ignore", invalid="ignore"):
        spread = 2.5 * np.log10(area) + SQUARE_ARCSEC_IN_ROUND_ARCMIN
    return np.asarray(np.asarray(v_mag, dtype=float) + np.where(area > 0.0, spread, np.nan))


def surface_brightness(objects: DeepSky) -> Floats:
    """Mean surface brightness of each object (N,), magnitudes per square arcsecond.

    A missing minor axis means a round object. NaN where magnitude or size is not known.
    """
    minor = np.where(np.isnan(objects.minor_arcmin), objects.major_arcmin, objects.minor_arcmin)
    return mean_surface_brightness(objects.v_mag, objects.major_arcmin, minor)
