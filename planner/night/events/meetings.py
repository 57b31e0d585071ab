"""Planets close to one another and to the Moon, when this site sees them so."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from typing import TYPE_CHECKING

import numpy as np

from planner.night.events.event import Event, EventKind
from planner.night.events.sky_hours import PLANET_NAMES, lowest_points

if TYPE_CHECKING:
    from collections.abc import Sequence

    from planner.night.events.sky_hours import SkyHours
    from planner.optics.view import View

BY_MOON_DEG = 4.0  # within which a planet stands by the Moon; own judgement
MEET_HOURS = 36  # of a meeting within which the best moment is sought; own judgement
MOON_HOURS = 14
FIELD_SHARE = 0.9  # of the field that may be filled; own judgement


def meetings(hours: SkyHours, views: Sequence[View]) -> list[Event]:
    """Pairs of planets that fit the widest field, and planets within 4 degrees of the Moon.

    Each with the moment at which the site sees them closest; those it does not see are left out.
    """
    widest = max((view.true_field_deg for view in views), default=0.0)
    found = []
    for one, other in combinations(PLANET_NAMES, 2):
        found += _closest(hours, (one, other), FIELD_SHARE * widest, MEET_HOURS)
    for name in PLANET_NAMES:
        found += _closest(hours, (name, "Moon"), BY_MOON_DEG, MOON_HOURS)
    return [_with_view(event, views) for event in found]


def _closest(hours: SkyHours, pair: tuple[str, str], most: float, reach: int) -> list[Event]:
    apart = hours.separation_deg(*pair)
    both = hours.up(pair[0]) & hours.up(pair[1])
    found = []
    inner, refined = lowest_points(apart**2)
    for low, place in zip(inner, refined, strict=True):
        near = np.arange(max(low - reach, 0), min(low + reach + 1, len(apart)))
        seen = near[both[near]]
        if not seen.size:
            continue
        best = int(seen[np.argmin(apart[seen])])
        if apart[best] > most:
            continue
        row = hours.row(pair[0])
        found.append(
            Event(
                kind=EventKind.BY_THE_MOON if "Moon" in pair else EventKind.CONJUNCTION,
                bodies=pair,
                time=hours.instant(float(place)),
                seen=True,
                best_time=hours.instant(best),
                separation_deg=float(apart[best]),
                altitude_deg=float(hours.altitude_deg[row, best]),
                azimuth_deg=float(hours.azimuth_deg[row, best]),
            )
        )
    return found


def _with_view(event: Event, views: Sequence[View]) -> Event:
    """The highest power whose field holds both."""
    need = (event.separation_deg or 0.0) + (0.3 if "Moon" in event.bodies else 0.0)
    holding = [view for view in views if need <= FIELD_SHARE * view.true_field_deg]
    best = max(holding, key=lambda view: view.magnification, default=None)
    return replace(event, view=best)
