"""The value to go: the best walk from any leaving to the end, when each look has its price.

A walk may come back to a candidate, though not at once; each visit pays the candidate's price. That
takes the memory out of the problem, and a pass of dynamic programming backwards over the minutes
solves it exactly.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.order.terms import NOT, POSSIBLE

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.order.terms import Stretch, Terms

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

    A candidate that some row has no way to, other than itself, has the dearest cost -``NOT``.
    """

    hop: NDArray[np.intp]
    cost: Ints
    shortest: Ints
    longest: Ints
    cheapest: Ints
    dearest: Ints
    farthest: int


def value_to_go(terms: Terms, price: Ints) -> ValueToGo:
    """One pass backwards over the minutes; ``price`` is (N,), taken at each visit."""
    n, t, classes = len(terms), terms.session_minutes, len(terms.posture_cost)
    worth = np.where(terms.value > POSSIBLE, terms.value - price[:, None], NOT)
    to_go = ValueToGo(
        terms=terms,
        price=price,
        leaving=np.full((n + 1, t + 1), NOT, dtype=np.int32),
        starting=np.full((t + 2, classes, n), NOT, dtype=np.int32),
        best_start=np.full((t + 2, classes, n), t + 1, dtype=np.int32),
    )
    starters, leavers = _starters(terms), _leavers(terms)
    to_go.leaving[leavers[t], t] = -terms.awake[t]
    reaches = {stretch.regime: _reach(terms, stretch.regime) for stretch in terms.stretches}
    for stretch in reversed(terms.stretches):
        reach = reaches[stretch.regime]
        waiting = _waiting(to_go, stretch)
        for minute in range(stretch.last, stretch.first - 1, -1):
            _start(to_go, worth, starters[minute], minute, minute < stretch.last)
            rows = leavers[minute]
            if rows.size:
                best = _near(to_go, reach, stretch, minute, rows)
                for later, constant in waiting:
                    far = minute + int(terms.hop[later.regime].max()) <= later.first
                    onward = (
                        constant[terms.posture[rows, minute], rows]
                        if far
                        else _later(to_go, later, minute, rows, terms.posture[rows, minute]).max(
                            axis=1, initial=NOT
                        )
                    )
                    best = np.maximum(best, onward)
                to_go.leaving[rows, minute] = np.maximum(best, -terms.awake[minute])
    return to_go


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
        hop=hop,
        cost=cost,
        shortest=np.where(way, hop, longest).min(axis=0, initial=int(longest.max(initial=0))),
        longest=longest,
        cheapest=cost.min(axis=0, initial=-NOT),
        dearest=np.where(others, cost, 0).max(axis=0, initial=0),
        farthest=int(longest.max(initial=0)),
    )


def _starters(terms: Terms) -> list[Rows]:
    possible = terms.value > POSSIBLE
    return [np.flatnonzero(possible[:, minute]) for minute in range(possible.shape[1])]


def _leavers(terms: Terms) -> list[Rows]:
    """Rows that can be left at each minute; the start is one at minute 0."""
    n, minutes = terms.value.shape
    leaves = np.zeros((n + 1, minutes), dtype=bool)
    row, start = np.nonzero(terms.value > POSSIBLE)
    leaves[row, start + terms.minutes[row]] = True
    leaves[n, 0] = True
    return [np.flatnonzero(leaves[:, minute]) for minute in range(minutes)]


def _start(to_go: ValueToGo, worth: Ints, rows: Rows, minute: int, goes_on: bool) -> None:
    """Fill ``starting`` at a minute: start now, or later in the stretch if it goes on."""
    terms = to_go.terms
    if goes_on:
        to_go.starting[minute] = to_go.starting[minute + 1]
        to_go.best_start[minute] = to_go.best_start[minute + 1]
    if rows.size:
        now = worth[rows, minute] + to_go.leaving[rows, minute + terms.minutes[rows]]
        now = now - terms.posture_cost[:, terms.posture[rows, minute]]
        later = to_go.starting[minute][:, rows]
        to_go.starting[minute][:, rows] = np.maximum(now, later)
        to_go.best_start[minute][:, rows] = np.where(
            now >= later, minute, to_go.best_start[minute][:, rows]
        )


def _near(to_go: ValueToGo, reach: _Reach, stretch: Stretch, minute: int, rows: Rows) -> Ints:
    """The best onward within the stretch of the minute itself, (L,)."""
    terms = to_go.terms
    posture = terms.posture[rows, minute]
    if minute + reach.farthest > stretch.last:
        return np.asarray(_later(to_go, stretch, minute, rows, posture).max(axis=1, initial=NOT))
    _, classes, n = to_go.starting.shape
    columns = _worthy(to_go, reach, minute)
    places = rows[:, None] * n + columns
    place = reach.hop.take(places) * (classes * n) + columns
    place += ((minute * classes + posture) * n)[:, None]
    value = to_go.starting.reshape(-1).take(place) - reach.cost.take(places)
    return np.asarray(value.max(axis=1, initial=NOT))


def _worthy(to_go: ValueToGo, reach: _Reach, minute: int) -> Rows:
    """The candidates that can be the best onward of any row, in rising order.

    One whose greatest gain over all rows is below the least gain of two others never is; of the
    two, one is another than the row itself.
    """
    every = np.arange(to_go.starting.shape[2])
    soon = to_go.starting[minute + reach.shortest, :, every].max(axis=1) - reach.cheapest
    late = to_go.starting[minute + reach.longest, :, every].min(axis=1) - reach.dearest
    second = np.partition(late, -2)[-2] if len(late) > 1 else NOT
    return np.flatnonzero(soon >= max(int(second), POSSIBLE))


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
