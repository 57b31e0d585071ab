"""Why a look stands where it stands in an order, and why another target is not in it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto
from typing import TYPE_CHECKING

import numpy as np

from planner.angles import separation_deg
from planner.ephemeris.track import highest_altitude_deg
from planner.night.evening.hop_minutes import NEAR_DEG

if TYPE_CHECKING:
    import datetime as dt

    from numpy.typing import NDArray

    from planner.night.conditions import Conditions
    from planner.night.evening.pool import Pool
    from planner.night.evening.preparing import Prepared
    from planner.night.evening.session import Session

    Bools = NDArray[np.bool_]
    Floats = NDArray[np.float64]

LEAVING_MINUTES = 45  # a target that goes so soon is taken before it goes; own judgement
ARRIVING_MINUTES = 20
MOON_MINUTES = 60
MOON_SHY_MAG = 3.0  # a target with more in hand does not wait for the Moon to go
TOP_DEG = 2.0  # so near to its greatest height a target stands at its highest
STEEP_DEG = 60.0  # what is lost or won above it is so by its height; own judgement
ANY_TIME_SHARE = 0.95  # of the best view: no hour is worth waiting for; own judgement
MOST_REASONS = 2


class Why(Enum):
    """What speaks for a place in the order."""

    WANTED = auto()
    SOON_OVER = auto()  # its time is up soon, by the edge told
    JUST_OPEN = auto()  # its time has just begun, by the edge told
    MOON_DOWN_FROM = auto()
    HIGHEST = auto()  # it culminates
    SINKING = auto()  # it was higher by day or before these hours, and is never so high again
    HIGHEST_OF_HOURS = auto()  # it still rises when the hours end
    NEXT_DOOR = auto()
    SAME_EYEPIECE = auto()
    ANY_TIME = auto()  # as good now as at any minute
    BEST_USE = auto()


class Edge(Enum):
    """What ends or begins the time in which a target may be looked at."""

    CLOUD = auto()
    LIGHT = auto()
    EYEPIECE = auto()  # it stands too high for somebody
    STEEP = auto()  # higher than the mount points
    LOW = auto()  # the horizon, or the least altitude
    SHOWN = auto()  # the Moon, mostly


@dataclass(frozen=True, slots=True)
class Reason:
    """One reason, and the time and the edge that belong to it (None for most)."""

    why: Why
    time: dt.datetime | None = None
    edge: Edge | None = None


class LeftOut(Enum):
    """Why a target is not in the order."""

    NO_ROOM = auto()  # others are worth more, or lie better on the way
    TOO_SHORT = auto()  # no stretch is as long as a look
    CLOUDED = auto()  # but for the clouds given there would be one
    OUT_OF_REACH = auto()  # the eyepiece stands too high for somebody whenever it could be seen
    DONE = auto()
    SKIPPED = auto()
    NOT_SHOWN = auto()
    CROSSED = auto()  # a must-see that does not fit beside the other must-sees
    NO_TIME = auto()  # a break that does not fit into the hours


def reasons_for(parts: Prepared, look: tuple[int, int], last: int | None) -> tuple[Reason, ...]:
    """The reasons for a look (row, start minute) after that at row ``last``, the weightiest first.

    At least one.
    """
    row, start = look
    session, pool = parts.session, parts.pool
    end = start + int(pool.minutes[row])
    first, gone = _window(parts.open[row], start)
    found = []
    if gone < len(session) and gone - end <= LEAVING_MINUTES:
        edge = _edge(parts, row, gone, gone - 1)
        found.append(Reason(Why.SOON_OVER, session.clock(gone), edge))
    elif first > 0 and start - first <= ARRIVING_MINUTES:
        edge = _edge(parts, row, first - 1, first)
        found.append(Reason(Why.JUST_OPEN, session.clock(first), edge))
    moonset = _moonset(parts.conditions, session, start)
    if moonset is not None and pool.margin_mag[row] < MOON_SHY_MAG:
        found.append(Reason(Why.MOON_DOWN_FROM, session.clock(moonset)))
    if not any(reason.why is Why.SOON_OVER for reason in found):
        found += _height(parts, row, (start + end) // 2)
    if last is not None:
        found += [Reason(Why.NEXT_DOOR)] if _near(pool, row, last) else []
        found += [Reason(Why.SAME_EYEPIECE)] if pool.view[row] == pool.view[last] else []
    if found:
        return tuple(found)
    quality = session.of_night(pool.quality[row])
    anytime = quality[start] >= ANY_TIME_SHARE
    return (Reason(Why.ANY_TIME if anytime else Why.BEST_USE),)


def _edge(parts: Prepared, row: int, shut: int, opened: int) -> Edge:
    """What keeps a target from being looked at in the minute ``shut`` beside ``opened``."""
    session = parts.session
    altitude = session.of_night(parts.pool.altitude_deg[row])
    if not session.clear[shut]:
        return Edge.CLOUD
    if not parts.reach.reached[row, shut]:
        return Edge.EYEPIECE
    if altitude[shut] > altitude[opened] and altitude[shut] > STEEP_DEG:
        return Edge.STEEP
    if session.twilight[shut]:
        return Edge.LIGHT
    return Edge.LOW if altitude[shut] < altitude[opened] else Edge.SHOWN


def _height(parts: Prepared, row: int, minute: int) -> list[Reason]:
    """What is to be said of a target's height at a minute, if anything."""
    altitude = parts.session.of_night(parts.pool.altitude_deg[row])
    minute = min(minute, len(altitude) - 1)
    now, top = altitude[minute], altitude[parts.open[row]].max(initial=-90.0)
    site = parts.conditions.request.site
    culminates = float(highest_altitude_deg(site, parts.pool.dec_deg[row : row + 1])[0])
    if now >= culminates - TOP_DEG:
        return [Reason(Why.HIGHEST)]
    if now < top - TOP_DEG:
        return []
    falls = altitude[min(minute + 1, len(altitude) - 1)] < altitude[max(minute - 1, 0)]
    return [Reason(Why.SINKING if falls else Why.HIGHEST_OF_HOURS)]


def _window(usable: Bools, minute: int) -> tuple[int, int]:
    """First minute of the usable stretch (T,) around a minute, and the first one after it."""
    shut = np.flatnonzero(~usable)
    before, after = shut[shut < minute], shut[shut > minute]
    first = int(before[-1]) + 1 if before.size else 0
    return first, int(after[0]) if after.size else len(usable)


def _near(pool: Pool, row: int, last: int) -> bool:
    apart = separation_deg(
        pool.ra_deg[row], pool.dec_deg[row], pool.ra_deg[last], pool.dec_deg[last]
    )
    return bool(apart <= NEAR_DEG)


def _moonset(conditions: Conditions, session: Session, start: int) -> int | None:
    """The minute at which the Moon has set within the hour before a look, or None."""
    up = session.of_night(conditions.moon.altitude_deg) > 0.0
    sets = np.flatnonzero(up[:-1] & ~up[1:]) + 1
    recent = sets[(sets <= start) & (sets > start - MOON_MINUTES)]
    return int(recent[-1]) if recent.size else None
