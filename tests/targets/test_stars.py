"""Field stars around a place, against looking at every star."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.targets.stars import StarField, stars_near


def _sky(count: int = 4000) -> StarField:
    rng = np.random.default_rng(7)
    dec = np.sort(np.degrees(np.arcsin(rng.uniform(-1.0, 1.0, count))))
    return StarField(
        ra_deg=rng.uniform(0.0, 360.0, count),
        dec_deg=dec,
        v_mag=rng.uniform(0.0, 10.0, count),
        bv=np.full(count, 0.5),
        hip=np.arange(1, count + 1),
    )


SKY = _sky()


def _by_hand(ra: float, dec: float, radius: float, faintest: float) -> list[int]:
    """Haversine distance of every star: another formula than the module's."""
    lat1, lat2 = np.radians(SKY.dec_deg), np.radians(dec)
    half = np.radians(SKY.ra_deg - ra) / 2.0
    h = np.sin((lat1 - lat2) / 2.0) ** 2 + np.cos(lat1) * np.cos(lat2) * np.sin(half) ** 2
    apart = np.degrees(2.0 * np.arcsin(np.sqrt(np.clip(h, 0.0, 1.0))))
    return list(SKY.hip[(apart <= radius) & (SKY.v_mag <= faintest)])


@settings(deadline=None, max_examples=60)
@given(st.floats(0.0, 360.0), st.floats(-90.0, 90.0), st.floats(0.5, 60.0), st.floats(2.0, 10.0))
def test_stars_near_finds_what_looking_at_every_star_finds(
    ra: float, dec: float, radius: float, faintest: float
) -> None:
    assert list(stars_near(SKY, ra, dec, radius, faintest).hip) == _by_hand(
        ra, dec, radius, faintest
    )


@pytest.mark.parametrize("place", [(0.0, 5.0), (359.9, -40.0), (123.0, 89.0), (10.0, -89.9)])
def test_stars_near_works_across_zero_hours_and_poles(place: tuple[float, float]) -> None:
    found = list(stars_near(SKY, *place, 8.0).hip)
    assert found == _by_hand(*place, 8.0, 99.0)
    assert found


def test_stars_near_keeps_order_of_declination_and_cannot_be_written() -> None:
    found = stars_near(SKY, 180.0, 20.0, 30.0)
    assert np.all(np.diff(found.dec_deg) >= 0.0)
    with pytest.raises(ValueError, match="read-only"):
        found.v_mag[0] = 1.0
