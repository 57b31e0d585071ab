"""The course of one target through the night: height, sky and margin at every moment."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import datetime as dt

    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Course:
    """One target at T moments; arrays are (T,).

    ``margin`` is in ``margin_unit``, positive where the target is shown; NaN below the horizon
    or where the brightness is unknown. ``usable`` marks moments high and dark enough.
    """

    instants: tuple[dt.datetime, ...]
    altitude_deg: Floats
    azimuth_deg: Floats
    sky_mu: Floats
    margin: Floats
    margin_unit: str
    usable: NDArray[np.bool_]
