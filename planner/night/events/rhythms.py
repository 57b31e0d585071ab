"""What keeps its own time: two shadows at once on Jupiter, and Algol's eclipses."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

import numpy as np

from planner.constants import J2000_JD
from planner.ephemeris.algol import (
    ALGOL_DEC_DEG,
    ALGOL_HOURS,
    ALGOL_RA_DEG,
    ALGOL_UNCERTAIN_HOURS,
    algol_minima,
)
from planner.ephemeris.track import track
from planner.night.events.event import Event, EventKind

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.night.events.sky_hours import SkyHours

    Bools = NDArray[np.bool_]
    Floats = NDArray[np.float64]

ALGOL_REACH_HOURS = 1.5  # from its minimum within which the star is plainly faint; own judgement
NIGHT_SUN_DEG = -8.0  # the Sun's altitude from which Algol's neighbours show; own judgement


def double_shadows(hours: SkyHours) -> list[Event]:
    """Two or more shadows at once on Jupiter, with Jupiter up and the Sun down for some of it."""
    from planner.ephemeris.jupiter_events import Happening, jupiter_events
    from planner.ephemeris.jupiter_paths import MOON_NAMES

    tt = np.asarray(hours.grid.times.tt) - J2000_JD
    events = jupiter_events(float(tt[0]), float(tt[-1]))
    shadow = events.happening == Happening.SHADOW
    open_since: dict[int, float] = {}
    spans: list[tuple[float, float, tuple[str, str]]] = []
    columns = (events.day[shadow], events.moon[shadow], events.begins[shadow])
    for day, moon, begins in zip(*columns, strict=True):
        if begins:
            open_since[int(moon)] = float(day)
            continue
        since = open_since.pop(int(moon), None)
        for other, other_since in open_since.items():
            if since is not None:
                names = MOON_NAMES[min(moon, other)], MOON_NAMES[max(moon, other)]
                spans.append((max(since, other_since), float(day), names))
    up = hours.up("Jupiter")
    return [event for span in spans if (event := _double(hours, tt, up, span))]


def _double(
    hours: SkyHours, tt: Floats, up: Bools, span: tuple[float, float, tuple[str, str]]
) -> Event | None:
    first, last, names = span
    fine = np.linspace(first, last, 31)
    index = np.interp(fine, tt, np.arange(len(tt)))
    seen = np.flatnonzero(up[np.round(index).astype(np.intp)])
    if not seen.size:
        return None
    middle = int(seen[len(seen) // 2])
    row, at = hours.row("Jupiter"), int(round(index[middle]))
    return Event(
        kind=EventKind.DOUBLE_SHADOW,
        bodies=("Jupiter", *names),
        time=hours.instant(float(np.interp((first + last) / 2.0, tt, np.arange(len(tt))))),
        seen=True,
        start=hours.instant(float(index[0])),
        end=hours.instant(float(index[-1])),
        best_time=hours.instant(float(index[middle])),
        altitude_deg=float(hours.altitude_deg[row, at]),
        azimuth_deg=float(hours.azimuth_deg[row, at]),
        good_to_min=1.0,
    )


def algol(hours: SkyHours, epoch_hjd: float) -> list[Event]:
    """Minima of Algol that fall into darkness here with the star up; good to half an hour."""
    offset = float(hours.grid.times.tt[0]) - _julian(hours.grid.instant(hours.grid.seconds[0]))
    jd = np.asarray(hours.grid.times.tt) - offset  # UTC
    way = track(hours.site, hours.grid, [ALGOL_RA_DEG], [ALGOL_DEC_DEG])
    dark = hours.altitude_deg[hours.row("Sun")] < NIGHT_SUN_DEG
    good = dark & (way.altitude_deg[0] >= hours.least_altitude_deg)
    found = []
    for minimum in algol_minima(float(jd[0]), float(jd[-1]), epoch_hjd):
        near = np.flatnonzero(good & (np.abs(jd - minimum) * 24.0 <= ALGOL_REACH_HOURS))
        if not near.size:
            continue
        best = int(near[np.argmin(np.abs(jd[near] - minimum))])
        time = hours.instant(float(np.interp(minimum, jd, np.arange(len(jd)))))
        half = dt.timedelta(hours=ALGOL_HOURS / 2.0)
        found.append(
            Event(
                kind=EventKind.ALGOL,
                bodies=("Algol",),
                time=time,
                seen=True,
                start=_moved(time, -half),
                end=_moved(time, half),
                best_time=time
                if good[round(float(np.interp(minimum, jd, np.arange(len(jd)))))]
                else hours.instant(best),
                altitude_deg=float(way.altitude_deg[0, best]),
                azimuth_deg=float(way.azimuth_deg[0, best]),
                good_to_min=60.0 * ALGOL_UNCERTAIN_HOURS,
            )
        )
    return found


def _moved(time: dt.datetime, by: dt.timedelta) -> dt.datetime:
    """A time moved by real hours, whatever the clocks do."""
    return (time.astimezone(dt.UTC) + by).astimezone(time.tzinfo)


def _julian(time: dt.datetime) -> float:
    seconds = (time - dt.datetime(2000, 1, 1, 12, tzinfo=dt.UTC)).total_seconds()
    return J2000_JD + seconds / 86400.0
