"""Eclipses of the Moon: their contacts, and what of them this site sees."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.ephemeris.lunar_shadow import moon_from_shadow, shadow_passages
from planner.night.events.event import Contact, Event, EventKind
from planner.night.events.sky_hours import sky_at

if TYPE_CHECKING:
    from planner.ephemeris.lunar_shadow import ShadowPassage
    from planner.night.events.sky_hours import SkyHours

FAINT_PENUMBRAL = 0.7  # magnitude below which nobody notices the half shadow; own judgement
SPAN_MIN = 240


def lunar_eclipses(hours: SkyHours) -> list[Event]:
    """Eclipses between the first and the last hour, penumbral ones from magnitude 0.7.

    Middle and sizes of the shadow from skyfield, which widens it for the Earth's air as Danjon
    did; contacts where the Moon's distance from the shadow's middle passes their sums.
    Limits: contacts of the soft edge are good to a minute.
    """
    return [
        _event(hours, passage)
        for passage in shadow_passages(hours.grid)
        if passage.umbral_magnitude > 0.0 or passage.penumbral_magnitude > FAINT_PENUMBRAL
    ]


def _event(hours: SkyHours, passage: ShadowPassage) -> Event:
    centre = hours.grid.instant(passage.seconds)
    minutes = np.arange(-SPAN_MIN, SPAN_MIN + 1.0)
    sky = sky_at(hours.site, centre, minutes * 60.0, hours.least_altitude_deg, ("Sun", "Moon"))
    apart = moon_from_shadow(sky.grid)
    up, row = sky.up("Moon"), sky.row("Moon")
    moon, umbra = passage.moon_radius, passage.umbra_radius
    edges = (
        ("half shadow begins", "half shadow ends", passage.penumbra_radius + moon),
        ("partial begins", "partial ends", umbra + moon),
        ("total begins", "total ends", umbra - moon),
    )
    contacts = []
    for begins, ends, limit in edges:
        inside = np.flatnonzero(apart < limit)
        if inside.size:
            for name, at in ((begins, inside[0]), (ends, inside[-1])):
                contacts.append(
                    Contact(name, sky.instant(int(at)), float(sky.altitude_deg[row, at]),
                            bool(up[at]))
                )  # fmt: skip
    lit = np.flatnonzero(apart < edges[1 if passage.umbral_magnitude > 0.0 else 0][2])
    seen = lit[up[lit]]
    best = int(seen[np.argmin(apart[seen])]) if seen.size else None
    contacts.append(
        Contact("middle", centre, float(sky.altitude_deg[row, SPAN_MIN]), bool(up[SPAN_MIN]))
    )
    return Event(
        kind=EventKind.LUNAR_ECLIPSE,
        bodies=("Moon",),
        time=centre,
        seen=best is not None,
        start=min(contact.time for contact in contacts),
        end=max(contact.time for contact in contacts),
        best_time=None if best is None else sky.instant(best),
        altitude_deg=None if best is None else float(sky.altitude_deg[row, best]),
        azimuth_deg=None if best is None else float(sky.azimuth_deg[row, best]),
        magnitude=passage.umbral_magnitude,
        good_to_min=1.0,
        contacts=tuple(sorted(contacts, key=lambda contact: contact.time)),
    )
