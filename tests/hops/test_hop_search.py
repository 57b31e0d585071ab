"""The way to a target, checked with astropy's own spherical geometry."""

from __future__ import annotations

from dataclasses import replace

import astropy.units as u
import numpy as np
import pytest
from astropy.coordinates import SkyCoord

from planner.angles import unit_vectors
from planner.ephemeris.site import Site
from planner.hops.clock import clock_hour, right_and_up
from planner.hops.hop import Hop, Means
from planner.hops.landmarks import load_landmarks
from planner.hops.line import best_line
from planner.hops.search import Aim, Guide, HopSky, find_hop
from planner.optics.turn import IMAGE_TURNS

GUIDE = Guide(Means.FINDER, "8x50", 6.0, 9.5, IMAGE_TURNS["inverted"], 1.5)
SIGHT = Guide(Means.POINTER, "ring sight", 4.0, 4.5, IMAGE_TURNS["upright"], 0.4)
# name, right ascension and declination (J2000, degrees; any handbook), sidereal time in degrees
TARGETS = [
    ("M 57", 283.396, 33.029, 280.0, 48.0),
    ("NGC 7662", 351.474, 42.535, 330.0, 56.0),
    ("M 31", 10.685, 41.269, 350.0, 45.0),
    ("NGC 253", 11.888, -25.288, 20.0, -30.0),
    ("omega Cen", 201.697, -47.479, 190.0, -30.0),
    ("47 Tuc", 6.024, -72.081, 20.0, -30.0),
]


def sky(
    latitude_deg: float,
    sidereal_deg: float,
    limit_mag: float = 4.5,
    horizon: tuple[tuple[float, float], ...] = (),
) -> HopSky:
    site = Site("Lindenhof", latitude_deg, 8.2, 870.0, "Europe/Berlin", 915.0, 10.0, horizon)
    zenith = unit_vectors(sidereal_deg, latitude_deg)
    north = unit_vectors(sidereal_deg, latitude_deg + 90.0)
    east = unit_vectors(sidereal_deg + 90.0, 0.0)
    return HopSky(site, zenith, north, east, limit_mag)


def hop_to(row: tuple[str, float, float, float, float], guide: Guide = GUIDE) -> Hop:
    _, ra, dec, sidereal, latitude = row
    return find_hop(sky(latitude, sidereal), guide, Aim(ra, dec), load_landmarks())


@pytest.mark.parametrize("row", TARGETS, ids=[row[0] for row in TARGETS])
def test_a_hop_agrees_with_astropy_leg_by_leg(row: tuple[str, float, float, float, float]) -> None:
    hop = hop_to(row)
    assert hop.start is not None and 1 <= len(hop.legs) <= 4
    zenith = SkyCoord(row[3] * u.deg, row[4] * u.deg)
    here = SkyCoord(hop.start.ra_deg * u.deg, hop.start.dec_deg * u.deg)
    for leg in hop.legs:
        there = SkyCoord(leg.to.ra_deg * u.deg, leg.to.dec_deg * u.deg)
        apart = here.separation(there)
        assert leg.length_deg == pytest.approx(apart.deg, abs=1e-5)
        assert leg.length_deg <= 0.8 * GUIDE.field_deg + 1e-9
        middle = here.directional_offset_by(here.position_angle(there), apart / 2)
        # position angles run against the clock in the sky, so hours are their difference turned
        turn = (middle.position_angle(zenith) - middle.position_angle(there)).deg
        away = (leg.sky_hour * 30.0 - turn + 180.0) % 360.0 - 180.0
        assert abs(away) < 1e-3
        assert leg.image_hour == pytest.approx((leg.sky_hour + 6.0) % 12.0, abs=1e-9)
        here = there
    assert hop.sweep == (hop.legs[-1].length_deg > GUIDE.field_deg / 4.0)
    assert (hop.legs[-1].to.ra_deg, hop.legs[-1].to.dec_deg) == row[1:3]


# A leg from the middle of the south (north) sky to the east or north of it, by hand: facing south
# east is left (9), facing north east is right (3); the celestial pole is up (12) both times.
HANDS = [
    (48.0, "E", 9.0), (48.0, "S", 6.0), (48.0, "W", 3.0), (48.0, "N", 12.0),
    (-30.0, "E", 3.0), (-30.0, "S", 12.0), (-30.0, "W", 9.0), (-30.0, "N", 6.0),
]  # fmt: skip


@pytest.mark.parametrize(("latitude", "towards", "hour"), HANDS)
def test_clock_hours_agree_with_a_hand_table(latitude: float, towards: str, hour: float) -> None:
    """On the meridian on the equator's side of the zenith."""
    dec = 0.0
    east, north = {"E": (1, 0), "W": (-1, 0), "N": (0, 1), "S": (0, -1)}[towards]
    start, end = unit_vectors(0.0, dec), unit_vectors(0.001 * east, dec + 0.001 * north)
    right, up = right_and_up(start, end, unit_vectors(0.0, latitude))
    away = (clock_hour(right, up) - hour + 6.0) % 12.0 - 6.0
    assert abs(away) < 0.01
    mirrored = clock_hour(right, up, IMAGE_TURNS["mirrored"])
    assert abs((mirrored + hour + 6.0) % 12.0 - 6.0) < 0.01


def test_a_start_is_above_the_horizon_and_bright_enough() -> None:
    stars = load_landmarks()
    under = sky(48.0, 280.0, 3.0, horizon=((0.0, 40.0), (90.0, 70.0), (180.0, 20.0)))
    for ra in np.arange(200.0, 360.0, 10.0):
        hop = find_hop(under, GUIDE, Aim(float(ra), 30.0), stars)
        if hop.start is None:
            continue
        assert hop.start.v_mag is not None and hop.start.v_mag <= 3.0
        place = unit_vectors(hop.start.ra_deg, hop.start.dec_deg)
        azimuth = np.degrees(np.arctan2(place @ under.east, place @ under.north)) % 360.0
        altitude = np.degrees(np.arcsin(place @ under.zenith))
        points = under.site.horizon
        profile = np.interp(azimuth, [p[0] for p in points], [p[1] for p in points], period=360.0)
        assert altitude > profile


def test_a_hop_does_not_depend_on_what_was_asked_before() -> None:
    forth = [hop_to(row) for row in TARGETS]
    back = [hop_to(row) for row in reversed(TARGETS)]
    assert forth == back[::-1]


def test_a_finder_of_unknown_image_tells_no_hour() -> None:
    hop = hop_to(TARGETS[0], replace(GUIDE, turn=None))
    assert hop.legs and all(leg.image_hour is None for leg in hop.legs)


def test_a_sight_is_set_along_two_stars_or_from_one() -> None:
    """The point told on the line, by astropy, lies within a degree of the target."""
    lines = 0
    grid = [("", float(ra), 20.0, float(ra), 48.0) for ra in range(0, 360, 15)]
    for row in TARGETS + grid:
        hop = hop_to(row, SIGHT)
        assert hop.start is not None
        if hop.line_share is None:
            assert len(hop.legs) == 1
            continue
        lines += 1
        first, second = (
            SkyCoord(stop.ra_deg * u.deg, stop.dec_deg * u.deg)
            for stop in (hop.start, hop.legs[0].to)
        )
        arc = first.separation(second)
        told = first.directional_offset_by(first.position_angle(second), hop.line_share * arc)
        target = SkyCoord(row[1] * u.deg, row[2] * u.deg)
        assert told.separation(target).deg <= 1.0
        assert hop.start.v_mag is not None and hop.start.v_mag <= 4.5
        assert len(hop.legs) == 2 and hop.legs[1].to.v_mag is None
        assert hop.legs[1].length_deg == pytest.approx(second.separation(target).deg, abs=1e-5)
    assert lines >= 5


def test_andromeda_is_sighted_from_mirach_past_mu() -> None:
    """As far again beyond mu as mu is from beta: common practice, no source."""
    hop = hop_to(TARGETS[2], SIGHT)
    assert hop.start is not None and hop.start.name == "Mirach (beta And)"
    assert hop.legs[0].to.name == "mu And" and hop.line_share == 2.0 and not hop.sweep


def test_no_line_through_stars_that_do_not_point_there() -> None:
    """Two stars far from every line to the target, and one star alone."""
    target = unit_vectors(0.0, 0.0)
    aside = unit_vectors(np.array([3.0, 3.0]), np.array([3.0, 8.0]))
    assert best_line(aside, np.zeros(2), target) is None
    assert best_line(aside[:1], np.zeros(1), target) is None
    before = unit_vectors(np.array([8.0, 4.0]), np.array([0.0, 0.0]))
    line = best_line(before, np.zeros(2), target)
    assert line is not None and (line.first, line.second, line.share) == (0, 1, 2.0)
    assert best_line(before, np.array([0.0, np.inf]), target) is None


def test_nothing_to_look_through_leaves_height_and_direction() -> None:
    hop = hop_to(TARGETS[0], Guide(Means.NOTHING, "", 0.0, 4.5, None, 0.0))
    assert hop.start is None and not hop.legs and 60.0 < hop.altitude_deg < 80.0
