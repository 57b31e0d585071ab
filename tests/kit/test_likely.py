"""What people mean by a zone that does not exist."""

from __future__ import annotations

import zoneinfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.kit.likely import CITY_ZONES, MOST_NAMES, zones_meant

ZONES = zoneinfo.available_timezones()


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("Africa/Cape_Town", "Africa/Johannesburg"),
        ("Africa/Johanesburg", "Africa/Johannesburg"),
        ("Europe/Munich", "Europe/Berlin"),
        ("Europe/Berln", "Europe/Berlin"),
        ("Europa/Berlin", "Europe/Berlin"),
        ("berlin", "Europe/Berlin"),
        ("Europe/Sao_Paulo", "America/Sao_Paulo"),
        ("America/SanFrancisco", "America/Los_Angeles"),
        ("America/New York", "America/New_York"),
        ("Pacific/Aukland", "Pacific/Auckland"),
        ("Asia/Dehli", "Asia/Kolkata"),
        ("Zürich", "Europe/Zurich"),
    ],
)
def test_zones_meant_names_the_zone_of_the_city(written: str, meant: str) -> None:
    """Facts of the IANA time zone database (from memory)."""
    assert zones_meant(written)[0] == meant


@pytest.mark.parametrize("written", ["", "Mars/Base", "MEZ", "Atlantis/Poseidon", "x" * 200, "///"])
def test_zones_meant_is_silent_where_nothing_is_near(written: str) -> None:
    """A wrong hint is worse than none."""
    assert zones_meant(written) == ()


def test_zones_of_cities_exist_and_the_cities_have_none() -> None:
    """No entry is needless or misspelt."""
    own = {zone.rsplit("/", 1)[-1].casefold().replace("_", " ") for zone in ZONES}
    for zone, cities in CITY_ZONES.items():
        assert zone in ZONES
        assert not own & set(cities)


@settings(deadline=None, max_examples=60)
@given(st.text(max_size=30) | st.sampled_from(sorted(ZONES)).map(lambda zone: zone[:-1]))
def test_zones_meant_gives_few_zones_that_exist(written: str) -> None:
    """Whatever is written; never a zone with its sign turned round."""
    found = zones_meant(written)
    assert len(found) <= MOST_NAMES and set(found) <= ZONES
    assert not any(zone.startswith("Etc/") for zone in found)
