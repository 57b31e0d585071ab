"""The rough Sun against skyfield's."""

from __future__ import annotations

import datetime as dt

import numpy as np
import pytest
from sample_nights import request

from planner.ephemeris.body_position import SUN, body_position
from planner.ephemeris.moments import grid_at
from planner.ephemeris.rough_sun import rough_sun_altitude_deg

J2000 = dt.datetime(2000, 1, 1, 12, tzinfo=dt.UTC)


@pytest.mark.parametrize("site", ["Lindenhof", "Nordkapp", "Beagle", "Atoll"])
@pytest.mark.parametrize("year", [1955, 2026, 2049])
def test_the_rough_sun_agrees_with_skyfield(site: str, year: int) -> None:
    """Within 0.05 degrees over a year, in steps that meet every hour of the day."""
    where = request(site).site
    start = dt.datetime(year, 1, 1, tzinfo=dt.UTC)
    seconds = np.arange(60) * (6.1 * 86400.0 + 1500.0)
    true = body_position(grid_at(where, start, seconds), SUN).altitude_deg
    days = ((start - J2000).total_seconds() + seconds) / 86400.0
    assert rough_sun_altitude_deg(where, days) == pytest.approx(true, abs=0.05)
