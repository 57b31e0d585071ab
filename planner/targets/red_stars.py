"""Red stars: carbon stars and red variables worth a look for their colour alone."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.targets.columns import objects

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Integers = NDArray[np.int64]
    Texts = NDArray[np.object_]

NO_RED_STAR = -1


@dataclass(frozen=True, slots=True)
class RedStars:
    """N red stars, one array of length N for each column of ``red_stars_typed.csv``.

    ``name`` is the letter or variable designation (``R Lep``), ``common_name`` the name in
    words, empty for most. Place in degrees (ICRS, J2000). ``v_bright_mag`` and ``v_faint_mag``
    are the limits of V; where a star stands between them is not known. ``colour_bv`` is B-V in
    mag, ``period_days`` the period, NaN where unknown or irregular; ``spectrum`` is ``carbon`` or
    ``M``. ``hip`` joins a star with the table of designations; 0 where it has no number.
    Limits: the extremes of a range are those ever seen; a Mira star rarely reaches them. B-V of the
    faintest is what Hipparcos took for their type.
    """

    name: Texts
    common_name: Texts
    hip: Integers
    ra_deg: Floats
    dec_deg: Floats
    v_bright_mag: Floats
    v_faint_mag: Floats
    colour_bv: Floats
    period_days: Floats
    spectrum: Texts
    source: Texts

    def __len__(self) -> int:
        """Number of stars."""
        return len(self.ra_deg)

    @property
    def constellation(self) -> Texts:
        """IAU abbreviations, which end the names."""
        return objects(tuple(name.rpartition(" ")[2] for name in self.name.tolist()))

    @property
    def middle_mag(self) -> Floats:
        """V in the middle of the range, (N,), which stands for what nobody knows of tonight."""
        return np.asarray((self.v_bright_mag + self.v_faint_mag) / 2.0)


def red_star_row(stars: RedStars, hip: int, name: str) -> int:
    """The row of a star by its Hipparcos number, else by its name; ``NO_RED_STAR`` if none.

    ``hip`` 0: no number; ``name`` as in the table, or a label that begins with it:
    ``SS Vir (...)``.
    """
    known = (stars.hip == hip) & (hip > 0)
    named = np.array([name == sign or name.startswith(f"{sign} (") for sign in stars.name.tolist()])
    rows = np.flatnonzero(known if known.any() else named)
    return int(rows[0]) if len(rows) else NO_RED_STAR
