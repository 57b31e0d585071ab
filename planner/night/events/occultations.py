"""Bright stars and planets that the Moon covers, seen from this very site."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.angles import unit_vectors
from planner.constants import AU_KM
from planner.ephemeris.body_position import MOON_RADIUS_KM
from planner.night.events.event import Contact, Event, EventKind
from planner.night.events.sky_hours import NUMBERS, PLANET_NAMES, lowest_points, sky_at
from planner.targets.catalog import load_designations, load_stars

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

    from planner.night.events.sky_hours import SkyHours

    Floats = NDArray[np.float64]

FAINTEST_MAG = 4.5  # a fainter star is lost beside a bright Moon; own judgement
MOON_REACH_DEG = 1.2  # hourly distance within which a closer look is worth it
COVERED_DEG = 0.45  # and the least one: the Moon's radius and what a parabola may miss
HOUR_SLACK_DEG = 10.0  # more than any body rises or sets in half an hour
SKY_DARK_DEG = -4.0  # the Sun's altitude from which a star shows by the Moon; own judgement
_HALF_SPAN_MIN = 100.0
_STEP_MIN = 1.0


def occultations(hours: SkyHours) -> list[Event]:
    """Stars to magnitude 4.5 and planets covered by the Moon at this site, with both contacts.

    Limits: the Moon is a smooth circle; its mountains shift a contact by seconds, at a grazing
    limb by minutes.
    """
    moon = hours.vector[hours.row("Moon")]
    found = []
    stars = load_stars()
    bright = np.flatnonzero(stars.v_mag <= FAINTEST_MAG)
    places = unit_vectors(stars.ra_deg[bright], stars.dec_deg[bright])
    cosine = places @ moon
    near = np.flatnonzero(cosine.max(axis=1) > np.cos(np.radians(MOON_REACH_DEG)))
    for number in near:
        name = _star_name(int(stars.hip[bright[number]]))
        place = places[number]
        apart = np.degrees(np.arccos(np.clip(cosine[number], -1.0, 1.0)))
        for low in _close_hours(hours, apart, name):
            found += _covered(hours, low, name, _fixed(place))
    for name in PLANET_NAMES:
        for low in _close_hours(hours, hours.separation_deg(name, "Moon"), name):
            found += _covered(hours, low, name, _moving(name))
    return found


def _close_hours(hours: SkyHours, apart_deg: Floats, name: str) -> list[int]:
    """Hours at which the Moon may cover something that the site may see: worth minutes."""
    square = apart_deg**2
    darkest = 0.0 if name in NUMBERS else SKY_DARK_DEG
    moon, sun = (hours.altitude_deg[hours.row(body)] for body in ("Moon", "Sun"))
    seen = (moon > hours.least_altitude_deg - HOUR_SLACK_DEG) & (sun < darkest + HOUR_SLACK_DEG)
    found = []
    for low in lowest_points(square)[0].tolist():
        before, here, after = square[low - 1 : low + 2]
        least = here - (before - after) ** 2 / (8.0 * (before - 2.0 * here + after))
        near = apart_deg[low] < MOON_REACH_DEG and least < COVERED_DEG**2
        if near and seen[max(low - 2, 0) : low + 3].any():
            found.append(int(low))
    return found


def _fixed(place: Floats) -> Callable[[SkyHours], Floats]:
    return lambda sky: np.repeat(place[:, None], len(sky.grid.seconds), axis=1)


def _moving(name: str) -> Callable[[SkyHours], Floats]:
    return lambda sky: sky.vector[sky.row(name)]


def _covered(
    hours: SkyHours, low: int, name: str, place: Callable[[SkyHours], Floats]
) -> list[Event]:
    """The occultation near an hour, none where the Moon passes by or the site sees neither end."""
    minutes = np.arange(-_HALF_SPAN_MIN, _HALF_SPAN_MIN + _STEP_MIN, _STEP_MIN)
    bodies = ("Sun", "Moon", name) if name in NUMBERS else ("Sun", "Moon")
    sky = sky_at(hours.site, hours.instant(low), minutes * 60.0, hours.least_altitude_deg, bodies)
    row = sky.row("Moon")
    radius = np.arcsin(MOON_RADIUS_KM / (sky.distance_au[row] * AU_KM))
    apart = 2.0 * np.arcsin(np.linalg.norm(sky.vector[row] - place(sky), axis=0) / 2.0)
    depth = radius - apart
    inside = np.flatnonzero(depth > 0.0)
    if not inside.size or inside[0] == 0 or inside[-1] == len(depth) - 1:
        return []
    dark = sky.altitude_deg[sky.row("Sun")] < SKY_DARK_DEG
    seen = sky.up("Moon") & (dark if name not in NUMBERS else True)
    contacts = []
    for word, before in (("covered", inside[0] - 1), ("free again", inside[-1])):
        share = depth[before] / (depth[before] - depth[before + 1])
        at = int(round(before + share))
        contacts.append(
            Contact(word, sky.instant(before + share), float(sky.altitude_deg[row, at]),
                    bool(seen[at]))
        )  # fmt: skip
    first_seen = next((contact for contact in contacts if contact.seen), None)
    if first_seen is None:
        return []
    middle = contacts[0].time + (contacts[1].time - contacts[0].time) / 2.0
    return [
        Event(
            kind=EventKind.OCCULTATION,
            bodies=(name, "Moon"),
            time=middle,
            seen=True,
            start=contacts[0].time,
            end=contacts[1].time,
            best_time=first_seen.time,
            altitude_deg=first_seen.altitude_deg,
            azimuth_deg=float(sky.azimuth_deg[row, int(inside[0])]),
            good_to_min=1.0,
            contacts=tuple(contacts),
        )
    ]


def _star_name(hip: int) -> str:
    """A star's proper name, else its letter or number and constellation."""
    stars = load_designations()
    try:
        row = stars.hip.index(hip)
    except ValueError:
        return f"HIP {hip}"
    if stars.proper_name[row]:
        return stars.proper_name[row]
    letter = stars.bayer[row] or stars.flamsteed[row]
    return f"{letter} {stars.constellation[row]}" if letter else f"HIP {hip}"
