"""Charts against an independent projection, and how they turn."""

from __future__ import annotations

import numpy as np
import pytest
from astropy.wcs import WCS

from planner.angles import unit_vectors
from planner.charts.projection import project
from planner.optics.turn import Turn

FIELDS = [(10.684, 41.27, 1.5), (83.82, -5.39, 40.0), (0.3, 0.2, 6.0), (200.0, 89.2, 8.0),
          (350.0, -89.5, 20.0)]  # fmt: skip


@pytest.mark.parametrize(("ra", "dec", "field"), FIELDS)
def test_places_agree_with_astropys_stereographic_projection(
    ra: float, dec: float, field: float
) -> None:
    """Ten stars within 0.5 % of the field; STG of Calabretta & Greisen 2002, A&A 395, 1077."""
    wcs = WCS(naxis=2)
    wcs.wcs.ctype = ["RA---STG", "DEC--STG"]
    wcs.wcs.crval = [ra, dec]
    wcs.wcs.crpix = [0.0, 0.0]
    wcs.wcs.cdelt = [-1.0, 1.0]
    random = np.random.default_rng(5)
    reach = 0.45 * field
    dec_of = np.clip(dec + random.uniform(-reach, reach, 10), -89.99, 89.99)
    ra_of = ra + random.uniform(-reach, reach, 10) / np.cos(np.radians(dec))
    north_up = project((ra, dec), unit_vectors(ra, dec + 90.0), Turn(0.0), field, 100.0)
    right, up = north_up.place(ra_of, dec_of).T / north_up.points_per_deg
    x, y = wcs.wcs_world2pix(np.column_stack([ra_of % 360.0, dec_of]), 0).T
    x, y = x - wcs.wcs_world2pix([[ra, dec]], 0)[0, 0], y - wcs.wcs_world2pix([[ra, dec]], 0)[0, 1]
    assert np.hypot(right - x, up - y).max() < 0.005 * field


def test_upright_the_zenith_is_up_and_east_left_of_north() -> None:
    """A target in the south, north up: east stands left, as in every atlas."""
    south = project((100.0, 0.0), unit_vectors(100.0, 48.0), Turn(0.0), 10.0, 50.0)
    (east,), (north,) = south.place(101.0, 0.0), south.place(100.0, 1.0)
    assert east[0] < 0.0 and abs(east[1]) < 0.1
    assert north[1] > 0.0 and abs(north[0]) < 0.1
