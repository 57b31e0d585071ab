"""The value to go: the best walk from any leaving to the end, when each look has its price.

A walk may come back to a candidate, though not at once; each visit pays the candidate's price. That
takes the memory out of the problem, and a pass of dynamic programming backwards over the minutes
solves it exactly.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from planner.order.terms import NOT, POSSIBLE

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.order.terms import Stretch, Terms

    Bools = NDArray[np.bool_]
    Ints = NDArray[np.int32]
    Rows = NDArray[np.intp]


@dataclass(frozen=True, slots=True, eq=False)
class ValueToGo:
    """For N candidates, T minutes and Q posture classes, in hundredths of a point.

    leaving (N + 1, T + 1): the best from leaving a row at a minute on, ``NOT`` where it cannot be
    left. starting (T + 2, Q, N): the best from starting a candidate at a minute or later in the
    same stretch of one regime, after a posture; ``best_start``, of the same shape, is that minute,
    the earliest of equals.
    """

    terms: Terms
    price: Ints
    leaving: Ints
    starting: Ints
    best_start: Ints

    @property
    def of_the_night(self) -> int:
        """The value of the best walk from the start of the session."""
        return int(self.leaving[-1, 0])


@dataclass(frozen=True, slots=True, eq=False)
class _Reach:
    """The hops and costs of one regime, and their extremes (N,) over the rows that have a way.

    ``place`` (N + 1, N) is where ``starting``, laid flat, has each hop's end, from a minute on.
    A candidate that some row has no way to, other than itself, has the dearest cost -``NOT``.
    """

    place: NDArray[np.intp]
    cost: Ints
    shortest: Ints
    longest: Ints
    cheapest: Ints
    dearest: Ints
    farthest: int


def value_to_go(terms: Terms, price: Ints) -> ValueToGo:
    """One pass backwards over the minutes; ``price`` is (N,), taken at each visit.

    No look ends within the minutes of the shortest one, so as many minutes are taken at once.
    """
    n, t, classes = len(terms), terms.session_minutes, len(terms.posture_cost)
    worth = np.where(terms.value > POSSIBLE, terms.value - price[:, None], NOT)
    to_go = ValueToGo(
        terms=terms,
        price=price,
        leaving=np.full((n + 1, t + 1), NOT, dtype=np.int32),
        starting=np.full((t + 2, classes, n), NOT, dtype=np.int32),
        best_start=np.empty(0, dtype=np.int32),
    )
    cost = terms.posture_cost.T[terms.posture[:-1].T].transpose(0, 2, 1)
    now = np.ascontiguousarray(
        np.where((worth > POSSIBLE).T[:, None], worth.T[:, None] - cost, NOT)
    )
    ends = np.minimum(np.arange(t + 1)[:, None] + terms.minutes, t) + np.arange(n) * (t + 1)
    leaves = _leavable(terms)
    to_go.leaving[leaves[:, t], t] = -terms.awake[t]
    reaches = {stretch.regime: _reach(terms, stretch.regime) for stretch in terms.stretches}
    chunk = int(terms.minutes.min(initial=t))
    for stretch in reversed(terms.stretches):
        reach, waiting = reaches[stretch.regime], _waiting(to_go, stretch)
        last = stretch.last
        while last >= stretch.first:
            first = max(stretch.first, last - chunk + 1)
            _start(to_go, now, ends, (first, last), last < stretch.last)
            whole = last + reach.farthest <= stretch.last
            for minutes in [np.arange(first, last + 1)] if whole else range(last, first - 1, -1):
                _leave(to_go, reach, stretch, np.atleast_1d(minutes), leaves, waiting)
            last = first - 1
    return replace(to_go, best_start=_best_starts(to_go, now))


def onward(to_go: ValueToGo, minute: int, rows: Rows) -> tuple[Ints, Ints]:
    """The best through each next candidate for L rows left at a minute: (L, N), and its start.

    The values are with prices and with the change, as in ``leaving``; starts count only where the
    value is possible.
    """
    terms = to_go.terms
    posture = terms.posture[rows, minute]
    best = np.full((len(rows), len(terms)), NOT, dtype=np.int32)
    start = np.full_like(best, terms.session_minutes + 1)
    for stretch in terms.stretches:
        if stretch.last < minute:
            continue
        ready = np.maximum(minute + terms.hop[stretch.regime][rows], stretch.first)
        ready = np.where(ready > stretch.last, terms.session_minutes + 1, ready)
        place = (ready, posture[:, None], np.arange(len(terms))[None, :])
        value = to_go.starting[place] - terms.cost[stretch.regime][rows]
        better = value > best
        best = np.where(better, value, best)
        start = np.where(better, to_go.best_start[place], start)
    return best, start


def best_walk(to_go: ValueToGo) -> list[tuple[int, int]]:
    """The best walk, as rows and start minutes; ties go to the first candidate."""
    terms = to_go.terms
    row, minute, walk = len(terms), 0, []
    while len(terms):
        best, start = onward(to_go, minute, np.array([row]))
        chosen = int(best[0].argmax())
        if best[0, chosen] <= -int(terms.awake[minute]) or best[0, chosen] <= POSSIBLE:
            break
        row = chosen
        walk.append((row, int(start[0, chosen])))
        minute = walk[-1][1] + int(terms.minutes[row])
    return walk


def _reach(terms: Terms, regime: int) -> _Reach:
    n = len(terms)
    hop, cost = terms.hop[regime].astype(np.intp), terms.cost[regime]
    way = cost < -POSSIBLE
    others = ~np.eye(n + 1, n, dtype=bool)
    longest = hop.max(axis=0, initial=0)
    return _Reach(
        place=hop * (len(terms.posture_cost) * n) + np.arange(n),
        cost=cost,
        shortest=np.where(way, hop, longest).min(axis=0, initial=int(longest.max(initial=0))),
        longest=longest,
        cheapest=cost.min(axis=0, initial=-NOT),
        dearest=np.where(others, cost, 0).max(axis=0, initial=0),
        farthest=int(longest.max(initial=0)),
    )


def _leavable(terms: Terms) -> Bools:
    """Which rows can be left at which minutes, (N + 1, T + 1); the start is one at minute 0."""
    n, minutes = terms.value.shape
    leaves = np.zeros((n + 1, minutes), dtype=bool)
    row, start = np.nonzero(terms.value > POSSIBLE)
    leaves[row, start + terms.minutes[row]] = True
    leaves[n, 0] = True
    return leaves


def _start(to_go: ValueToGo, now: Ints, ends: Rows, span: tuple[int, int], goes_on: bool) -> None:
    """Fill ``starting`` for the minutes of a span: start then, or later if the stretch goes on.

    ``now`` (T + 1, Q, N) has what starting at each minute brings until the look ends.
    """
    first, last = span
    leaving = to_go.leaving.reshape(-1).take(ends[first : last + 1])
    possible = (leaving > POSSIBLE) & (now[first : last + 1, 0] > POSSIBLE)
    here = now[first : last + 1]
    here += leaving[:, None]
    here[~np.broadcast_to(possible[:, None], here.shape)] = NOT
    filled = to_go.starting[first : last + 1]
    np.maximum.accumulate(here[::-1], axis=0, out=filled[::-1])
    if goes_on:
        np.maximum(filled, to_go.starting[last + 1], out=filled)


def _best_starts(to_go: ValueToGo, now: Ints) -> Ints:
    """The earliest minute (T + 2, Q, N) at which each value of ``starting`` is had."""
    t = to_go.terms.session_minutes
    found = np.full(to_go.starting.shape, t + 1, dtype=np.int32)
    had = (now == to_go.starting[:-1]) & (now > POSSIBLE)
    minute = np.where(had, np.arange(t + 1, dtype=np.int32)[:, None, None], np.int32(t + 1))
    found[:-1] = np.minimum.accumulate(minute[::-1], axis=0)[::-1]
    return found


def _leave(
    to_go: ValueToGo,
    reach: _Reach,
    stretch: Stretch,
    minutes: Rows,
    leaves: Bools,
    waiting: list[tuple[Stretch, Ints]],
) -> None:
    """Fill ``leaving`` for some minutes of a stretch, where the rows can be left."""
    terms = to_go.terms
    rows = np.flatnonzero(leaves[:, minutes].any(axis=1))
    if not rows.size:
        return
    posture = terms.posture[rows[:, None], minutes].T
    best = np.asarray(np.broadcast_to(-terms.awake[minutes][:, None], posture.shape))
    if minutes[-1] + reach.farthest <= stretch.last:
        best = np.maximum(best, _near(to_go, reach, minutes, rows, posture))
    else:
        onward = _later(to_go, stretch, int(minutes[0]), rows, posture[0])
        best = np.maximum(best, onward.max(axis=1, initial=NOT))
    for later, constant in waiting:
        if minutes[-1] + int(terms.hop[later.regime].max()) <= later.first:
            best = np.maximum(best, constant[posture, rows])
        else:
            each = [
                _later(to_go, later, minute, rows, posture[place]).max(axis=1, initial=NOT)
                for place, minute in enumerate(minutes.tolist())
            ]
            best = np.maximum(best, each)
    to_go.leaving[rows[:, None], minutes] = np.where(leaves[rows[:, None], minutes], best.T, NOT)


def _near(to_go: ValueToGo, reach: _Reach, minutes: Rows, rows: Rows, posture: Ints) -> Ints:
    """The best onward within the stretch of the minutes themselves, (minutes, L)."""
    _, classes, n = to_go.starting.shape
    columns = _worthy(to_go, reach, minutes)
    if not columns.size:
        return np.full(posture.shape, NOT, dtype=np.int32)
    place = reach.place[rows[:, None], columns]
    place = place + ((minutes[:, None] * classes + posture) * n)[:, :, None]
    value = to_go.starting.reshape(-1).take(place)
    value -= reach.cost[rows[:, None], columns]
    return np.asarray(value.max(axis=2))


def _worthy(to_go: ValueToGo, reach: _Reach, minutes: Rows) -> Rows:
    """The candidates that can be the best onward of any row, in rising order.

    One whose greatest gain over all rows is below the least gain of two others never is; of the
    two, one is another than the row itself.
    """
    minutes = minutes[:, None]
    every = np.arange(to_go.starting.shape[2])
    soon = to_go.starting[minutes + reach.shortest, :, every].max(axis=2) - reach.cheapest
    late = to_go.starting[minutes + reach.longest, :, every].min(axis=2) - reach.dearest
    second = np.partition(late, -2, axis=1)[:, -2] if len(every) > 1 else np.full(len(soon), NOT)
    return np.flatnonzero((soon >= np.maximum(second, POSSIBLE)[:, None]).any(axis=0))


def _later(to_go: ValueToGo, stretch: Stretch, minute: int, rows: Rows, posture: Ints) -> Ints:
    """The best onward through each candidate in a later stretch, (L, N)."""
    terms = to_go.terms
    ready = np.maximum(minute + terms.hop[stretch.regime][rows], stretch.first)
    ready = np.where(ready > stretch.last, terms.session_minutes + 1, ready)
    value = to_go.starting[ready, posture[:, None], np.arange(len(terms))[None, :]]
    return np.asarray(value - terms.cost[stretch.regime][rows])


def _waiting(to_go: ValueToGo, stretch: Stretch) -> list[tuple[Stretch, Ints]]:
    """For each later stretch the best onward (Q, N + 1) of one who waits for its first minute."""
    terms = to_go.terms
    found = []
    for later in terms.stretches:
        if later.first > stretch.last:
            start = to_go.starting[later.first]
            cost = terms.cost[later.regime]
            best = [(row[None, :] - cost).max(axis=1, initial=NOT) for row in start]
            found.append((later, np.array(best)))
    return found
