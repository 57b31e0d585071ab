"""Coordinates beside their time zone."""

from __future__ import annotations

import zoneinfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.ephemeris.site import Site
from planner.kit.zones import likely_coordinates, zone_cities

# towns and observatories: latitude, east longitude, zone; an atlas's values (from memory)
PLACES = [
    (48.14, 11.58, "Europe/Berlin"),  # Munich
    (47.61, 7.66, "Europe/Berlin"),  # Loerrach, its south-west corner
    (69.65, 18.96, "Europe/Oslo"),  # Tromso
    (39.89, 4.27, "Europe/Madrid"),  # Menorca, east of a city west of Greenwich
    (48.39, -4.49, "Europe/Paris"),  # Brest, the other way round
    (28.76, -17.88, "Atlantic/Canary"),  # La Palma
    (27.67, -8.15, "Africa/Algiers"),  # Tindouf
    (43.83, 87.62, "Asia/Shanghai"),  # Urumqi, 3300 km from Shanghai
    (1.49, 124.84, "Asia/Makassar"),  # Manado, across the equator from its zone's city
    (-17.96, 122.24, "Australia/Perth"),  # Broome
    (-33.87, 151.21, "Australia/Sydney"),
    (-36.85, 174.76, "Pacific/Auckland"),
    (-43.95, -176.56, "Pacific/Chatham"),  # Chatham Islands, beyond the date line
    (-13.83, -171.75, "Pacific/Apia"),
    (19.82, -155.47, "Pacific/Honolulu"),  # Mauna Kea
    (61.22, -149.90, "America/Anchorage"),
    (32.22, -110.97, "America/Phoenix"),  # Tucson
    (25.76, -80.19, "America/New_York"),  # Miami
    (30.67, -104.02, "America/Chicago"),  # McDonald Observatory
    (-24.63, -70.40, "America/Santiago"),  # Paranal
    (-90.0, 0.0, "Antarctica/McMurdo"),  # South Pole
]


def site_at(latitude: float, longitude: float, zone: str) -> Site:
    """A site with nothing else to it."""
    return Site("there", latitude, longitude, 0.0, zone, 1013.0, 10.0)


def test_zone_cities_lie_where_an_atlas_has_them() -> None:
    """Berlin 52.5 N 13.4 E, New York 40.7 N 74.0 W, Sydney 33.9 S 151.2 E (from memory)."""
    cities = zone_cities()
    tenth = 0.06  # half of the last digit, and minutes cut off
    assert cities["Europe/Berlin"] == pytest.approx((52.5, 13.4), abs=tenth)
    assert cities["America/New_York"] == pytest.approx((40.7, -74.0), abs=tenth)
    assert cities["Australia/Sydney"] == pytest.approx((-33.9, 151.2), abs=tenth)
    assert set(cities) <= zoneinfo.available_timezones()
    assert all(abs(lat) <= 90 and abs(lon) <= 180 for lat, lon in cities.values())


@pytest.mark.parametrize("place", PLACES, ids=lambda p: p[2])
def test_likely_coordinates_is_silent_for_real_places(place: tuple[float, float, str]) -> None:
    """Also in wide zones and next to the meridian."""
    assert likely_coordinates(site_at(*place)) is None


NEAR_THE_MERIDIAN = {"Europe/Madrid", "Europe/Paris", "Africa/Algiers"}
FROM_AFAR = {"Asia/Shanghai", "Asia/Makassar", "Antarctica/McMurdo", "Europe/Oslo"}


@pytest.mark.parametrize(
    "place", [p for p in PLACES if p[2] not in NEAR_THE_MERIDIAN | FROM_AFAR], ids=lambda p: p[2]
)
def test_likely_coordinates_finds_turned_signs_and_swaps(place: tuple[float, float, str]) -> None:
    """The right values come back."""
    latitude, longitude, zone = place
    assert likely_coordinates(site_at(-latitude, longitude, zone)) == (latitude, longitude)
    assert likely_coordinates(site_at(-latitude, -longitude, zone)) == (latitude, longitude)
    if abs(longitude) < 170.0:  # beyond, a turned sign moves the site little
        assert likely_coordinates(site_at(latitude, -longitude, zone)) == (latitude, longitude)
    if abs(longitude) <= 90.0:
        assert likely_coordinates(site_at(longitude, latitude, zone)) == (latitude, longitude)


@pytest.mark.parametrize("zone", ["UTC", "Etc/GMT+5", "CET"])
def test_likely_coordinates_is_silent_for_zones_without_a_city(zone: str) -> None:
    """Nothing to compare with."""
    assert likely_coordinates(site_at(48.1, -8.2, zone)) is None


@settings(deadline=None, max_examples=60)
@given(st.sampled_from(sorted(zone_cities())), st.floats(-4.0, 4.0), st.floats(-4.0, 4.0))
def test_likely_coordinates_is_silent_near_the_city(zone: str, north: float, east: float) -> None:
    """Within 4 degrees each way, at most 630 km."""
    latitude, longitude = zone_cities()[zone]
    site = site_at(max(-90.0, min(90.0, latitude + north)), longitude + east, zone)
    assert likely_coordinates(site) is None
