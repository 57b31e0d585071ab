"""In which constellation a place in the sky lies."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any

from skyfield.constellationlib import load_constellation_map
from skyfield.positionlib import position_of_radec

if TYPE_CHECKING:
    from collections.abc import Callable


@cache
def _map() -> Callable[[Any], str]:
    return load_constellation_map()  # type: ignore[no-any-return]


def constellation_at(ra_deg: float, dec_deg: float) -> str:
    """The IAU abbreviation, such as ``Leo``, of a place in ICRS degrees.

    Source: boundaries of Delporte 1930, in the grid of Roman 1987, PASP 99, 695, as skyfield
    carries them. Within an arcminute of a border the answer can go either way.
    """
    return str(_map()(position_of_radec(ra_deg / 15.0, dec_deg)))
