"""Makes an evening ready for ordering: its session, its pool, and the problem to solve."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from planner.night.conditions import night_conditions
from planner.night.evening.changes import change_costs
from planner.night.evening.hop_minutes import hop_minutes
from planner.night.evening.leading import leading
from planner.night.evening.minute_worth import look_values
from planner.night.evening.pool import evening_pool
from planner.night.evening.posture import POSTURE_COST
from planner.night.evening.reach import reach_of
from planner.night.evening.reasons import LeftOut
from planner.night.evening.request import MOST_CANDIDATES
from planner.night.evening.session import evening_session
from planner.night.judging import judged_groups
from planner.night.planned import identity
from planner.night.ranking import ranked
from planner.optics.telescope import Mount
from planner.order.problem import FORBIDDEN, Problem
from planner.targets.catalog import load_stars

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.night.conditions import Conditions
    from planner.night.evening.pool import Pool
    from planner.night.evening.reach import Reach
    from planner.night.evening.request import EveningRequest
    from planner.night.evening.session import Gap, Session
    from planner.night.judging import Judged
    from planner.night.ranking import Entry

    Bools = NDArray[np.bool_]
    Ints = NDArray[np.int64]

BREAK_SLACK_MIN = 10  # a break may begin so much sooner or later than asked; own judgement


@dataclass(frozen=True, slots=True)
class Omitted:
    """A target that is not in the order, and why."""

    id: str
    name: str
    why: LeftOut


@dataclass(frozen=True, slots=True, eq=False)
class Prepared:
    """An evening ready for ordering; rows of ``problem`` are those of the pool, then the breaks.

    ``asked`` has what of an earlier order is over among the done. ``open`` (K, T) marks the
    minutes at which each target may be looked at, ``omitted`` holds those that the observer leaves
    out, or asks for in vain.
    """

    asked: EveningRequest
    conditions: Conditions
    groups: list[Judged]
    session: Session
    pool: Pool
    reach: Reach
    open: Bools
    problem: Problem
    omitted: tuple[Omitted, ...]


def prepared(asked: EveningRequest) -> Prepared:
    """Judge the night and set up the problem.

    Raises:
        DateOutsideEphemerisError: the date is beyond the ephemeris.
        UsageError: the hours asked for hold no night.
    """
    conditions = night_conditions(replace(asked.night, include_all=False))
    session = evening_session(conditions, asked.clouds)
    asked = asked.from_time(session.begin)
    groups = judged_groups(conditions)
    entries, omitted = _candidates(groups, asked)
    pool = evening_pool(conditions, groups, entries)
    request = conditions.request
    reach = reach_of(
        request.telescope, request.observer, asked.companions, session, pool.altitude_deg
    )
    usable = session.flags_of_night(pool.usable) & session.clear & reach.reached
    seen = [name in asked.done + asked.skip for name in pool.ids]
    usable[np.array(seen, dtype=bool)] = False
    problem = _problem(conditions, asked, (session, pool, reach), usable)
    return Prepared(asked, conditions, groups, session, pool, reach, usable, problem, omitted)


def _candidates(
    groups: list[Judged], asked: EveningRequest
) -> tuple[tuple[Entry, ...], tuple[Omitted, ...]]:
    """The worthiest shown, must-sees among them, and what the observer leaves out himself."""
    must, gone = set(asked.must), dict.fromkeys(asked.done, LeftOut.DONE)
    gone |= dict.fromkeys(asked.skip, LeftOut.SKIPPED)
    most = min(asked.most or MOST_CANDIDATES, MOST_CANDIDATES)
    chosen: list[Entry] = []
    omitted: list[Omitted] = []
    for entry in ranked(groups, include_all=bool(must)):
        group = groups[entry.group]
        name, shown = str(group.ids[entry.number]), bool(group.shown[entry.number])
        if name in gone:
            omitted.append(Omitted(name, identity(group, entry.number).name, gone[name]))
            if name == asked.here and shown:
                chosen.append(entry)  # never to be looked at again: the way leads from it
        elif name in must and not shown:
            told = identity(group, entry.number).name
            omitted.append(Omitted(name, told, LeftOut.NOT_SHOWN))
        elif shown and (len(chosen) < most or name in must):
            chosen.append(entry)
    met = {str(groups[entry.group].ids[entry.number]) for entry in chosen}
    met |= {item.id for item in omitted}
    strangers = [name for name in asked.must if name not in met]
    omitted += [Omitted(name, name, LeftOut.NOT_SHOWN) for name in strangers]
    return tuple(chosen), tuple(omitted)


def _problem(
    conditions: Conditions,
    asked: EveningRequest,
    parts: tuple[Session, Pool, Reach],
    usable: Bools,
) -> Problem:
    """The pool, and the breaks after it, as the solver wants them."""
    session, pool, reach = parts
    by_hand = conditions.request.telescope.mount is Mount.HAND_MOVED
    value = look_values(pool, session, usable, by_hand)
    rests, rest_value, rest_minutes = _rests(asked.breaks, session)
    hop = _with_rests(hop_minutes(pool, leading(conditions), load_stars()), len(rests))
    change = _with_rests(change_costs(pool), len(rests))
    if asked.here in pool.ids:
        row = pool.ids.index(asked.here)
        hop = np.concatenate([hop, hop[:, row : row + 1]], axis=1)
        change = np.concatenate([change, change[row : row + 1]])
    posture = np.vstack([reach.posture, np.zeros((len(rests), len(session)), dtype=np.int64)])
    must = [name in asked.must for name in pool.ids] + [True] * len(rests)
    return Problem(
        ids=pool.ids + rests,
        value=np.vstack([value, rest_value]),
        minutes=np.concatenate([pool.minutes, rest_minutes]).astype(np.int64),
        hop=hop,
        regime=session.twilight.astype(np.int64),
        change=change,
        posture=np.hstack([posture, posture[:, -1:]]),
        posture_cost=POSTURE_COST,
        awake=session.awake,
        must=np.array(must, dtype=bool),
        rest=np.array([False] * len(pool) + [True] * len(rests)),
    )


def _rests(breaks: tuple[Gap, ...], session: Session) -> tuple[tuple[str, ...], Ints, Ints]:
    """Names, values (B, T) and minutes (B,) of breaks; they may begin a little off the hour."""
    names, values, minutes = [], [], []
    for number, gap in enumerate(breaks, start=1):
        inside = np.flatnonzero(session.within(gap))
        value = np.full(len(session), FORBIDDEN, dtype=np.int64)
        if inside.size:
            first = int(inside[0])
            length = int(inside[-1]) - first or 1
            latest = len(session) - length
            value[max(first - BREAK_SLACK_MIN, 0) : min(first + BREAK_SLACK_MIN, latest) + 1] = 0
            names.append(f"break {number}")
            values.append(value)
            minutes.append(length)
    stacked = np.array(values, dtype=np.int64).reshape(len(names), len(session))
    return tuple(names), stacked, np.array(minutes, dtype=np.int64)


def _with_rests(table: Ints, rests: int) -> Ints:
    """A table (..., K + 1, K) with rows and columns of 0 for the breaks before its last row."""
    *lead, rows, columns = table.shape
    whole = np.zeros((*lead, rows + rests, columns + rests), dtype=np.int64)
    whole[..., : rows - 1, :columns] = table[..., :-1, :]
    whole[..., -1, :columns] = table[..., -1, :]
    return whole
