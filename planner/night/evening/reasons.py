"""Why a look stands where it stands in an order, and why another target is not in it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto
from typing import TYPE_CHECKING

import numpy as np

from planner.angles import separation_deg
from planner.night.evening.hop_minutes import NEAR_DEG

if TYPE_CHECKING:
    import datetime as dt

    from numpy.typing import NDArray

    from planner.night.conditions import Conditions
    from planner.night.evening.pool import Pool
    from planner.night.evening.preparing import Prepared
    from planner.night.evening.session import Session

    Bools = NDArray[np.bool_]

LEAVING_MINUTES = 45  # a target that goes so soon is taken before it goes; own judgement
ARRIVING_MINUTES = 20
MOON_MINUTES = 60
MOON_SHY_MAG = 3.0  # a target with more in hand does not wait for the Moon to go
TOP_DEG = 2.0  # so near to its greatest height a target stands at its highest
MOST_REASONS = 2


class Why(Enum):
    """What speaks for a place in the order."""

    WANTED = auto()
    GOES_AT = auto()
    LIGHT_FROM = auto()
    REACHED_FROM = auto()
    DARK_FROM = auto()
    MOON_DOWN_FROM = auto()
    HIGHEST = auto()
    NEXT_DOOR = auto()
    SAME_EYEPIECE = auto()
    BEST_USE = auto()


@dataclass(frozen=True, slots=True)
class Reason:
    """One reason, and the time that belongs to it (None for most)."""

    why: Why
    time: dt.datetime | None = None


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
        light = bool(session.twilight[gone])
        found.append(Reason(Why.LIGHT_FROM if light else Why.GOES_AT, session.clock(gone)))
    elif first > 0 and start - first <= ARRIVING_MINUTES:
        light = bool(session.twilight[first - 1])
        found.append(Reason(Why.DARK_FROM if light else Why.REACHED_FROM, session.clock(first)))
    moonset = _moonset(parts.conditions, session, start)
    if moonset is not None and pool.margin_mag[row] < MOON_SHY_MAG:
        found.append(Reason(Why.MOON_DOWN_FROM, session.clock(moonset)))
    altitude = session.of_night(pool.altitude_deg[row])
    now = altitude[min((start + end) // 2, len(session) - 1)]
    leaving = any(reason.why in (Why.GOES_AT, Why.LIGHT_FROM) for reason in found)
    if not leaving and now >= altitude[parts.open[row]].max(initial=-90.0) - TOP_DEG:
        found.append(Reason(Why.HIGHEST))
    if last is not None:
        found += [Reason(Why.NEXT_DOOR)] if _near(pool, row, last) else []
        found += [Reason(Why.SAME_EYEPIECE)] if pool.view[row] == pool.view[last] else []
    return tuple(found) or (Reason(Why.BEST_USE),)


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
