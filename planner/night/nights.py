"""Which night: the coming ones ranked by what each would show."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from planner.night.chances import nights_worth, target_nights
from planner.night.many_nights import many_nights
from planner.targets.standing import finest_ids

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.ephemeris.site import Site
    from planner.night.chances import Chance, TargetNights
    from planner.night.request import Request

FEW_TARGETS, FEW_STEP_MIN, STEP_MIN = 20, 15, 30
LEAST_LISTS = 4  # a showpiece stands in so many best-of lists; own judgement
NEAR_HIGHEST_DEG, MOONLIT_NIGHTS = 10.0, 20
DARK_HOUR_WORTH = 0.1  # of a dark hour against how far inside targets are; own judgement


@dataclass(frozen=True, slots=True)
class Night:
    """One night: minutes of full dark without the Moon, the Moon's lit share and minutes up.

    ``minutes`` are those of the hours asked for with the Sun down; ``worth`` ranks the nights.
    """

    date: dt.date
    minutes: int
    dark_minutes: int
    moon_fraction: float
    moon_minutes: int
    worth: float


@dataclass(frozen=True, slots=True)
class Nights:
    """D nights in order of time, and each target's chance in each; ``named`` whether asked for."""

    site: Site
    start: dt.time | None
    end: dt.time | None
    nights: tuple[Night, ...]
    targets: tuple[TargetNights, ...]
    named: bool

    @property
    def ranked(self) -> tuple[int, ...]:
        """Numbers of the nights, the best first; equals in order of time."""
        order = sorted(range(len(self.nights)), key=lambda n: -round(self.nights[n].worth, 6))
        return tuple(n for n in order if self.nights[n].minutes > 0)

    def months(self, target: TargetNights) -> dict[tuple[int, int], int | None]:
        """The number of a target's best night in each month, by year and month."""
        best: dict[tuple[int, int], int | None] = {}
        for number, (night, chance) in enumerate(zip(self.nights, target.chances, strict=True)):
            month = night.date.year, night.date.month
            known = best.setdefault(month, None)
            before = None if known is None else target.chances[known]
            if chance is not None and (before is None or _better(chance, before)):
                best[month] = number
        return best

    def season(self, target: TargetNights) -> tuple[int, int] | None:
        """First and last night of the longest run in which a target stands near its highest.

        That is within 10 degrees of it, where it is shown at all; a cloud of moonlit nights, at
        most 20, does not end it. None where it is never shown.
        """
        heights = [c.altitude_deg if c and c.shown else -90.0 for c in target.chances]
        if max(heights) < 0.0:
            return None
        high = [n for n, height in enumerate(heights) if height >= max(heights) - NEAR_HIGHEST_DEG]
        runs = [[high[0]]]
        for number in high[1:]:
            if number - runs[-1][-1] <= MOONLIT_NIGHTS:
                runs[-1].append(number)
            else:
                runs.append([number])
        longest = max(runs, key=lambda run: run[-1] - run[0])
        return longest[0], longest[-1]


def rank_nights(request: Request, count: int) -> Nights:
    """``count`` nights from the request's date on, by what they show of its targets.

    Without ``only`` those are the showpieces, which stand in four best-of lists or more.

    Raises:
        DateOutsideEphemerisError: a date is beyond the ephemeris.
    """
    named = request.only is not None
    wanted = request if named else replace(request, only=frozenset(finest_ids(LEAST_LISTS)))
    dates = tuple(request.date + dt.timedelta(days=n) for n in range(count))
    few = wanted.only is not None and len(wanted.only) <= FEW_TARGETS
    many = many_nights(
        replace(wanted, include_all=True, limit=None), dates, FEW_STEP_MIN if few else STEP_MIN
    )
    targets = target_nights(many)
    dark = many.minutes(many.dark)
    up = many.minutes(many.conditions.moon.altitude_deg > 0.0)
    whole = many.minutes(np.ones(len(many.night), dtype=bool))
    fraction = _by_night(many.conditions.moon.illuminated_fraction, many.night, count)
    worth = nights_worth(targets, count) + DARK_HOUR_WORTH * dark / 60.0
    nights = tuple(
        Night(date, int(all_), int(dark_), float(lit), int(up_), float(value))
        for date, all_, dark_, lit, up_, value in zip(
            dates, whole, dark, fraction, up, worth, strict=True
        )
    )
    return Nights(request.site, request.start, request.end, nights, targets, named)


def _by_night(
    values: NDArray[np.float64], night: NDArray[np.intp], count: int
) -> NDArray[np.float64]:
    """The mean of each night's moments, (D,); 0 for a night without one."""
    total = np.bincount(night, weights=values, minlength=count)
    return np.asarray(total / np.maximum(np.bincount(night, minlength=count), 1))


def _better(one: Chance, other: Chance) -> bool:
    """Whether a chance is better; of equals the higher."""
    return (round(one.inside, 1), one.altitude_deg) > (round(other.inside, 1), other.altitude_deg)
