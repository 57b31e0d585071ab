"""Clusters, nebulae and galaxies: the table."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Texts = NDArray[np.object_]


@dataclass(frozen=True, slots=True)
class DeepSky:
    """N deep-sky objects, one array of length N for each column of ``deepsky.csv.gz``.

    Positions in degrees (J2000), axes in arcminutes, position angle of the major axis in
    degrees. ``kind`` holds ``Kind`` members; ``names`` further designations and
    ``common_name`` the names in words, several joined by ``|``. NaN: not known. ``v_source``
    says where the magnitude comes from; ``v_of`` whose light it is: empty for the object's own,
    ``stars`` where it belongs to the stars in a nebula and the nebula's light is unknown.
    ``hb_v_mag`` is the V of the horizontal branch of a globular cluster; ``member_v_mag`` that of
    the third of the brightest members of an open cluster, or of the stars inside a nebula, by
    a count in the star list, and NaN where they are fainter than the list.

    The columns ``bright_...`` describe the bright part of a nebula, which an eye sees first: full
    axes in arcminutes, total V, mean surface brightness in V (mag/arcsec2), its light in
    H beta and the two lines of O III together (rayleigh, as it arrives here), and the nature
    of the light: ``emission``, ``reflection``, ``remnant``, ``mixed`` or ``planetary``. NaN and
    empty where the hand table ``nebulae_typed.csv`` has no row. Limits: nearly all of them are
    estimates, the surface brightness good to 0.5 mag, the lines to a factor of 2.
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
    v_of: Texts
    major_arcmin: Floats
    minor_arcmin: Floats
    position_angle_deg: Floats
    hubble_type: Texts
    hb_v_mag: Floats
    member_v_mag: Floats
    bright_major_arcmin: Floats
    bright_minor_arcmin: Floats
    bright_v_mag: Floats
    bright_surface_mag: Floats
    bright_lines_rayleigh: Floats
    bright_light: Texts

    def __len__(self) -> int:
        """Number of objects."""
        return len(self.ra_deg)
