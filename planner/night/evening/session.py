"""The minutes of an evening: which there are, which are clouded, what it costs to stay awake."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.ephemeris.clock_hours import within_hours
from planner.errors import UsageError
from planner.night.conditions import STEP_MIN

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.night.conditions import Conditions

    Bools = NDArray[np.bool_]
    Floats = NDArray[np.float64]
    Ints = NDArray[np.int64]

AWAKE_COST = 30  # hundredths of a point for each minute awake; own judgement
TWILIGHT_SUN_DEG = -12.0  # with the Sun higher only bright stars lead the way; common practice


@dataclass(frozen=True, slots=True)
class Gap:
    """Clock times at the site between which nothing is looked at: a cloud, a meal."""

    start: dt.time
    end: dt.time


@dataclass(frozen=True, slots=True, eq=False)
class Session:
    """The T minutes from the first to the last moment at which anything may be looked at.

    ``first`` is the minute of the night's grid at which it begins, ``day`` the time from which
    that night's clock is counted; ``clear`` (T,) marks minutes
    without cloud, ``twilight`` (T,) those at which only bright stars lead the way.
    """

    begin: dt.datetime
    first: int
    clear: Bools
    twilight: Bools
    day: dt.datetime

    def __len__(self) -> int:
        """Number of minutes."""
        return len(self.clear)

    @property
    def awake(self) -> Ints:
        """Hundredths of a point for being awake until each minute, (T + 1,)."""
        return np.arange(len(self) + 1, dtype=np.int64) * AWAKE_COST

    def clock(self, minute: int) -> dt.datetime:
        """The time of a minute of the session, in the site's zone."""
        then = self.begin.astimezone(dt.UTC) + dt.timedelta(minutes=minute)
        return then.astimezone(self.begin.tzinfo)

    def minute(self, time: dt.datetime) -> int:
        """The minute of the session at an aware time, outside it too."""
        return round((time.astimezone(dt.UTC) - self.begin.astimezone(dt.UTC)).total_seconds() / 60)

    def within(self, gap: Gap) -> Bools:
        """Which minutes (T,) lie between the clock times of a gap."""
        minutes = tuple(self.clock(minute) for minute in range(len(self)))
        return within_hours(minutes, self.day, gap.start, gap.end)

    def moment(self, minute: int) -> int:
        """The moment of the night's grid nearest to a minute of the session."""
        return round((self.first + minute) / STEP_MIN)

    def of_night(self, values: Floats) -> Floats:
        """Values (..., moments of the grid) at the session's minutes, in between straight."""
        minutes = self.first + np.arange(len(self))
        low = np.minimum(minutes // STEP_MIN, values.shape[-1] - 2)
        share = minutes / STEP_MIN - low
        with np.errstate(invalid="ignore"):
            return np.asarray(values[..., low] * (1.0 - share) + values[..., low + 1] * share)

    def flags_of_night(self, flags: Bools) -> Bools:
        """Flags (..., moments) at the session's minutes: true where both neighbours are."""
        return np.asarray(self.of_night(flags.astype(float)) > 1.0 - 1e-9)


def evening_session(conditions: Conditions, clouds: tuple[Gap, ...] = ()) -> Session:
    """The session of a night: from the first to the last moment with the Sun down.

    Within the hours asked for.

    Raises:
        UsageError: these hours hold less than two moments of night.
    """
    open_moments = np.flatnonzero(conditions.sun_down)
    if len(open_moments) < 2:
        raise UsageError(
            "the hours asked for hold no night to plan: the Sun is up; ask for other hours"
        )
    first, last = int(open_moments[0]), int(open_moments[-1])
    begin = conditions.instants[first]
    count = (last - first) * STEP_MIN + 1
    day = conditions.night.start
    whole = Session(begin, first * STEP_MIN, np.ones(count, bool), np.zeros(count, bool), day)
    clear = np.ones(count, dtype=bool)
    for gap in clouds:
        clear &= ~whole.within(gap)
    sun = whole.of_night(conditions.sun.altitude_deg)
    return Session(begin, whole.first, clear, sun > TWILIGHT_SUN_DEG, day)
