"""Glare: the veil that a bright star lays over its neighbourhood inside the eye."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

LEAST_ANGLE_DEG = 0.1  # the law's own limit; CIE 135/1-1999
BROWN_EYES = 0.5  # pigment factor p: 0 very dark, 0.5 brown, 1.2 very light eyes; CIE 135/1-1999


def glare_per_sr(
    angle_deg: ArrayLike, age_years: float, pigment: float = BROWN_EYES
) -> NDArray[np.float64]:
    """Veiling luminance over the illuminance of the glaring point at the eye, cd/m2 per lux.

    ``10/t^3 + (5/t^2 + 0.1 p/t) (1 + (age/62.5)^4) + 0.0025 p``, t in degrees 0.1..100, any
    shape; below 0.1 degrees the value at 0.1 is given. ``age_years`` 20..80.
    Source: CIE 135/1-1999, total glare equation; Vos 2003, Clin. Exp. Optom. 86, 363. The
    law is a mean: healthy eyes differ by a factor of about 2, cataract by far more.
    """
    t = np.maximum(np.asarray(angle_deg, dtype=float), LEAST_ANGLE_DEG)
    ageing = 1.0 + (age_years / 62.5) ** 4
    near = 10.0 / t**3 + (5.0 / t**2 + 0.1 * pigment / t) * ageing
    return np.asarray(near + 0.0025 * pigment)
