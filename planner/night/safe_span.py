"""From when to when the sky beside the Sun is safe tonight, to the second."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.ephemeris.body_position import SUN, body_position
from planner.ephemeris.crossings import crossings
from planner.ephemeris.sun_safety import STOP_MIN, safe_sun_deg

if TYPE_CHECKING:
    import datetime as dt

    from planner.night.conditions import Conditions


def safe_span(conditions: Conditions) -> tuple[dt.datetime | None, dt.datetime | None]:
    """When the Sun is far enough down, and a quarter of an hour before it comes back to that.

    None for an end that the night does not have.
    """
    grid = conditions.grid
    if len(grid.seconds) < 4:
        return None, None
    safe = safe_sun_deg(conditions.request.site.elevation_m)
    depth = body_position(grid, SUN).altitude_deg - safe
    found = crossings(grid.seconds, depth)
    down = [float(at) for at, rising in zip(found.at, found.rising, strict=True) if not rising]
    back = [float(at) for at, rising in zip(found.at, found.rising, strict=True) if rising]
    first = grid.instant(down[0]) if down else None
    last = grid.instant(back[-1] - 60.0 * STOP_MIN) if back else None
    return first, last
