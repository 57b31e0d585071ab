"""Where targets stand and what sky lies behind them: all that a judge hears of the night."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from planner.sky.airmass import airmass

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Sightlines:
    """N targets at one moment each, (N,), or through T moments, (N, T); one shape for all.

    ``altitude_deg`` is apparent; ``sky_mag`` the brightness of the sky behind, mag per square
    arcsecond, ``moon_share`` and ``twilight_share`` their shares of its light, 0..1.
    """

    altitude_deg: Floats
    sky_mag: Floats
    moon_share: Floats
    twilight_share: Floats

    @property
    def airmass(self) -> Floats:
        """Air in the way, 1 overhead; NaN below the horizon."""
        return airmass(self.altitude_deg)

    @property
    def flat(self) -> Sightlines:
        """All moments in one row, target by target: (N T,) from (N, T)."""
        return Sightlines(
            self.altitude_deg.ravel(),
            self.sky_mag.ravel(),
            self.moon_share.ravel(),
            self.twilight_share.ravel(),
        )
