"""How far a list is done: what is seen, when the rest stands best, and what is out of reach."""

from __future__ import annotations

import datetime as dt
import math
from dataclasses import dataclass, replace
from enum import Enum, auto
from typing import TYPE_CHECKING

from planner.ephemeris.track import highest_altitude_deg
from planner.night.chances import MOST_INSIDE, target_nights
from planner.night.many_nights import many_nights
from planner.targets.kind import Kind
from planner.verdict.steps import Step

if TYPE_CHECKING:
    from planner.night.chances import Chance, TargetNights
    from planner.night.plan import Identity
    from planner.night.request import Request

STEP_MIN = 30
NEW_MOONS = 13  # one for each month of a year, and the next
# Mean new moon of 6 January 2000, and the mean month; Meeus 1998, Astronomical Algorithms,
# eq. 49.1 (from memory). Within 14 hours of the true one, and the Moon is thin for days.
FIRST_NEW_MOON = dt.datetime(2000, 1, 6, 14, 20, tzinfo=dt.UTC)
LUNATION = dt.timedelta(days=29.530588861)
AS_GOOD_INSIDE, AS_HIGH_DEG = 0.3, 10.0  # of the best; own judgement


class Hindrance(Enum):
    """Why a target is shown in no moonless night of a year."""

    TOO_LOW = auto()  # never above the least altitude
    HIDDEN = auto()  # behind the horizon or up by day, in the hours looked at
    UNKNOWN_BRIGHTNESS = auto()
    TOO_FAINT = auto()
    NOT_SPLIT = auto()


@dataclass(frozen=True, slots=True)
class Coming:
    """A target that is still to be seen.

    ``best`` is its best moment in a moonless night of the coming year, None where none shows it;
    then ``why`` says what hinders, ``highest_deg`` how high it comes at all, and ``margin`` what it
    has at its best (magnitudes, of a double arcseconds of seeing), None where that is unknown.
    """

    target: Identity
    best: dt.datetime | None
    why: Hindrance | None
    highest_deg: float
    margin: float | None


@dataclass(frozen=True, slots=True)
class Progress:
    """A list and the log: ids seen and tried in vain, and the targets still to come by id.

    ``absent`` are ids of the list that nothing in the catalogs can be judged by.
    """

    name: str
    members: tuple[str, ...]
    seen: tuple[str, ...]
    missed: tuple[str, ...]
    coming: tuple[Coming, ...]
    absent: tuple[str, ...]
    least_altitude_deg: float
    seeing_arcsec: float


def list_progress(request: Request, name: str, members: tuple[str, ...]) -> Progress:
    """The progress of a list's members (ids), for a year from the request's date on.

    Raises:
        DateOutsideEphemerisError: the year is beyond the ephemeris.
    """
    had = {member: request.seen[member] for member in members if member in request.seen}
    seen = tuple(member for member, found in had.items() if found.showed)
    left = frozenset(members) - set(seen)
    coming = _coming(request, left) if left else ()
    known = {one.target.id for one in coming}
    return Progress(
        name=name,
        members=members,
        seen=seen,
        missed=tuple(member for member, found in had.items() if not found.showed),
        coming=coming,
        absent=tuple(sorted(left - known)),
        least_altitude_deg=request.least_altitude_deg,
        seeing_arcsec=request.seeing_arcsec,
    )


def new_moon_dates(start: dt.date, count: int) -> tuple[dt.date, ...]:
    """Evenings of the ``count`` mean new moons from a date on."""
    begin = dt.datetime.combine(start, dt.time(), dt.UTC)
    first = math.ceil((begin - FIRST_NEW_MOON) / LUNATION)
    return tuple((FIRST_NEW_MOON + (first + n) * LUNATION).date() for n in range(count))


def _coming(request: Request, left: frozenset[str]) -> tuple[Coming, ...]:
    wanted = replace(request, only=left, without=frozenset(), include_all=True, limit=None)
    dates = new_moon_dates(request.date, NEW_MOONS)
    found = target_nights(many_nights(wanted, dates, STEP_MIN))
    return tuple(_one(request, target) for target in found)


def _one(request: Request, nights: TargetNights) -> Coming:
    target = nights.target
    chances = [chance for chance in nights.chances if chance is not None]
    best = _best_shown(nights.chances)
    highest = float(highest_altitude_deg(request.site, target.dec_deg))
    if best is not None:
        return Coming(target, best.moment, None, highest, None)
    if not chances:
        low = highest < request.least_altitude_deg
        why = Hindrance.TOO_LOW if low else Hindrance.HIDDEN
        return Coming(target, None, why, highest, None)
    last = max(chances, key=_goodness)
    if target.kind is Kind.DOUBLE:
        why = Hindrance.NOT_SPLIT
    else:
        unknown = last.step is Step.UNKNOWN or last.margin is None
        why = Hindrance.UNKNOWN_BRIGHTNESS if unknown else Hindrance.TOO_FAINT
    return Coming(target, None, why, highest, last.margin)


def _best_shown(chances: tuple[Chance | None, ...]) -> Chance | None:
    """The middle of the season: of the longest run of nights about as good as the best.

    The last night stands beside the first, a year on. None where no night shows it.
    """
    shown = {n: chance for n, chance in enumerate(chances) if chance is not None and chance.shown}
    if not shown:
        return None
    inside = max(_goodness(chance)[0] for chance in shown.values())
    even = {n: c for n, c in shown.items() if _goodness(c)[0] >= inside - AS_GOOD_INSIDE}
    top = max(chance.altitude_deg for chance in even.values())
    near = [n for n, chance in even.items() if chance.altitude_deg >= top - AS_HIGH_DEG]
    runs = [[near[0]]]
    for number in near[1:]:
        if number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    if len(runs) > 1 and near[0] == 0 and near[-1] == len(chances) - 1:
        runs[0] = runs.pop() + runs[0]
    longest = max(runs, key=len)
    return shown[longest[(len(longest) - 1) // 2]]


def _goodness(chance: Chance) -> tuple[float, float]:
    """How good a chance is: how far inside, as far as anybody can tell, then how high."""
    inside = min(chance.inside, MOST_INSIDE) if math.isfinite(chance.inside) else -MOST_INSIDE
    return round(inside, 1), chance.altitude_deg
