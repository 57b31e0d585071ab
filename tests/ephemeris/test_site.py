"""Sites: the horizon's profile, the air's pressure, the time zone."""

import numpy as np
import pytest

from planner.ephemeris.site import Site, horizon_altitude_deg, site_zone, standard_pressure_hpa
from planner.errors import KitError

PLAIN = Site("Lindenhof", 48.1, 8.2, 870.0, "Europe/Berlin", 915.0, 10.0)


@pytest.mark.parametrize(
    ("elevation_m", "expected_hpa"),
    [(0.0, 1013.25), (1000.0, 898.75), (2000.0, 794.95), (3000.0, 701.09)],
)
def test_standard_pressure_reproduces_iso2533_table(elevation_m, expected_hpa):
    # ISO 2533:1975 / U.S. Standard Atmosphere 1976 tables (from memory), geopotential metres
    last_digit_hpa = 0.05
    assert standard_pressure_hpa(elevation_m) == pytest.approx(expected_hpa, abs=last_digit_hpa)


def test_horizon_is_flat_without_a_profile():
    assert np.all(horizon_altitude_deg(PLAIN, [0.0, 123.0, 359.9]) == 0.0)


def test_horizon_joins_its_points_by_straight_lines_across_north():
    hills = Site(
        "valley", 48.1, 8.2, 0.0, "UTC", 1010.0, 10.0, ((350.0, 10.0), (90.0, 0.0), (10.0, 20.0))
    )
    assert horizon_altitude_deg(hills, [350.0, 0.0, 10.0, 50.0]) == pytest.approx(
        [10.0, 15.0, 20.0, 10.0]
    )


@pytest.mark.parametrize("name", ["Europe/Lindenhof", "", "../secret"])
def test_site_zone_rejects_an_unknown_name(name):
    site = Site("here", 48.1, 8.2, 0.0, name, 1010.0, 10.0)
    with pytest.raises(KitError, match="timezone of site 'here'.*IANA name"):
        site_zone(site)
