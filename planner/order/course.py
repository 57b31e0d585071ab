"""The course of a sequence: every start minute it could have, and the best of them, exactly.

Two passes of dynamic programming over the minutes, one from each end, tell what any stretch put in
place of another would score, wherever its looks and those after it then start.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.order.terms import NOT, POSSIBLE

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from planner.order.terms import Terms

    Ints = NDArray[np.int64]
    Ints32 = NDArray[np.int32]
    Rows = NDArray[np.intp]


TURN_SLACK = 200.0  # hundredths of a point; a setting of the search
MINUTE_WORTH = 300.0  # hundredths of a point for a minute saved; a setting of the search


@dataclass(frozen=True, slots=True, eq=False)
class _Look:
    """The S minutes at which a look can start, their regimes, what it brings, and when it ends.

    posture and end_posture (S,); end_cost (Q, S) from the posture at the end to the next.
    """

    minute: Rows
    regime: Ints32
    value: Ints
    end: Rows
    posture: Ints32
    end_posture: Ints32
    end_cost: Ints32


@dataclass(frozen=True, slots=True, eq=False)
class Clock:
    """The terms with wide numbers and a bonus (N,) added to the values, which orders the search."""

    terms: Terms
    value: Ints
    cost: Ints
    looks: tuple[_Look, ...]
    usual_regime: int

    def __len__(self) -> int:
        return len(self.terms)


def clock_of(terms: Terms, bonus: Ints) -> Clock:
    """The clock of some terms."""
    value = terms.value.astype(np.int64)
    value = np.where(value > POSSIBLE, value + bonus[:, None], NOT)
    return Clock(
        terms=terms,
        value=value,
        cost=terms.cost.astype(np.int64),
        looks=tuple(_look(terms, value, row) for row in range(len(terms))),
        usual_regime=int(np.bincount(terms.regime).argmax()),
    )


def _look(terms: Terms, value: Ints, row: int) -> _Look:
    minute = np.flatnonzero(value[row] > POSSIBLE)
    end = minute + terms.minutes[row]
    return _Look(
        minute=minute,
        regime=terms.regime[minute],
        value=value[row, minute],
        end=end,
        posture=terms.posture[row, minute],
        end_posture=terms.posture[row, end],
        end_cost=np.ascontiguousarray(terms.posture_cost[terms.posture[row, end]].T),
    )


@dataclass(frozen=True, slots=True, eq=False)
class Course:
    """A sequence of M rows.

    left[k] (Q, T + 1): the best score with k looks behind one, ready at that minute or before, for
    the next look's posture. started[k] (T + 1,): the best score to come from starting look k at
    exactly that minute on; started[M] is the end, at the minute the last look is left.
    """

    rows: tuple[int, ...]
    left: tuple[Ints, ...]
    started: tuple[Ints, ...]
    score: int

    def __len__(self) -> int:
        return len(self.rows)


def course_of(clock: Clock, rows: Sequence[int], like: Course | None = None) -> Course:
    """The course of a sequence; what it shares with another course at both ends is kept."""
    rows = tuple(rows)
    old = like.rows if like else ()
    head = _shared(rows, old)
    tail = min(_shared(rows[::-1], old[::-1]), len(rows) - head, len(old) - head)
    left = [like.left[k] for k in range(head + 1)] if like else [_at_start(clock)]
    for k in range(len(left) - 1, len(rows)):
        left.append(_leave(clock, left[k], rows[k - 1] if k else len(clock), rows[k]))
    started = [like.started[len(old) - k] for k in range(tail + 1)] if like else [_at_end(clock)]
    for k in range(len(started) - 1, len(rows)):
        following = rows[-k] if k else None
        started.append(_start(clock, started[k], rows[-k - 1], following))
    started.reverse()
    score = _joined(clock, left[0], len(clock), started, rows)
    return Course(rows, tuple(left), tuple(started), score)


def possible_rows(clock: Clock, rows: Sequence[int]) -> list[int]:
    """As many of a sequence as can be had in turn, the first of them first."""
    kept: list[int] = []
    left, last = _at_start(clock), len(clock)
    for row in rows:
        after = _leave(clock, left, last, row)
        if after[-1, -1] > POSSIBLE:
            kept.append(row)
            left, last = after, row
    return kept


def start_minutes(clock: Clock, course: Course) -> list[int]:
    """The best start of each look of a possible sequence, the earliest of equals."""
    minutes = []
    last, ready, posture = len(clock), 0, int(clock.terms.posture[len(clock), 0])
    for k, row in enumerate(course.rows):
        score = _from(clock, course.started[k], last, row, posture)
        soonest = np.arange(len(score)) - clock.terms.hop[clock.terms.regime, last, row]
        score = np.where(soonest >= ready, score, NOT)
        minutes.append(int(score.argmax()))
        last, ready = row, minutes[-1] + int(clock.terms.minutes[row])
        posture = int(clock.terms.posture[row, ready])
    return minutes


def replaced(clock: Clock, course: Course, first: int, after: int, rows: Sequence[int]) -> int:
    """The score with other rows in place of the looks ``first`` to ``after`` - 1."""
    left = course.left[first]
    last = course.rows[first - 1] if first else len(clock)
    for row in rows:
        left = _leave(clock, left, last, row)
        last = row
    return _joined(clock, left, last, course.started[after:], course.rows[after:])


def hopeful(clock: Clock, course: Course, first: int, rows: Sequence[int]) -> bool:
    """Whether other turns of the looks from ``first`` on may score more, by costs and hops alone.

    A minute saved is taken at what the night brings a minute; values that rise or fall within the
    run are given ``TURN_SLACK``.
    """
    last = course.rows[first - 1] if first else len(clock)
    following = course.rows[first + len(rows) : first + len(rows) + 1]
    before = _way_cost(clock, (last, *course.rows[first : first + len(rows)], *following))
    return before - _way_cost(clock, (last, *rows, *following)) > -TURN_SLACK


def _way_cost(clock: Clock, rows: tuple[int, ...]) -> float:
    """What the ways along some rows take, in the regime of most minutes."""
    regime = clock.usual_regime
    hop, cost = clock.terms.hop[regime], clock.cost[regime]
    return sum(
        float(cost[a, b]) + MINUTE_WORTH * float(hop[a, b])
        for a, b in zip(rows[:-1], rows[1:], strict=True)
    )


def with_each(clock: Clock, course: Course, first: int, after: int, others: Rows) -> Ints:
    """The score with each of X rows in place of the looks ``first`` to ``after`` - 1: (X,)."""
    terms, left, ending = clock.terms, course.left[first], course.started[after]
    last = course.rows[first - 1] if first else len(clock)
    soonest = int((left[-1] > POSSIBLE).argmax())
    ends = np.flatnonzero(ending > POSSIBLE)
    if not ends.size or left[-1, -1] <= POSSIBLE:
        return np.full(len(others), NOT, dtype=np.int64)
    minute = np.arange(soonest, max(int(ends[-1]), soonest) + 1)
    value = clock.value[others, minute[0] : minute[-1] + 1]
    regime = terms.regime[minute]
    ready = minute - terms.hop[regime, last].T[others]
    posture = terms.posture[others, minute[0] : minute[-1] + 1]
    score = value + left[posture, np.maximum(ready, 0)] - clock.cost[regime, last].T[others]
    score[(ready < 0) | (value <= POSSIBLE)] = NOT
    end = np.minimum(minute + terms.minutes[others][:, None], terms.session_minutes)
    if after == len(course):
        return np.asarray((score + ending[end]).max(axis=1, initial=NOT))
    following = course.rows[after]
    posture = terms.posture[others[:, None], end]
    onward = np.full(score.shape, NOT, dtype=np.int64)
    for stretch in terms.stretches:
        if stretch.last < ends[0] or stretch.first > ends[-1]:
            continue
        table = _after(clock, ending, following, stretch.first, stretch.last)
        hop = terms.hop[stretch.regime, others, following][:, None]
        cost = clock.cost[stretch.regime, others, following][:, None]
        at = np.minimum(np.maximum(end + hop, stretch.first), stretch.last + 1)
        onward = np.maximum(onward, table[posture, at] - cost)
    return np.asarray((score + onward).max(axis=1, initial=NOT))


def _after(clock: Clock, started: Ints, row: int, first: int, last: int) -> Ints:
    """The best from starting a row at a minute or later up to ``last``, by posture: (Q, T + 2)."""
    terms = clock.terms
    table = np.full((len(terms.posture_cost), terms.session_minutes + 2), NOT, dtype=np.int64)
    minutes = slice(first, last + 1)
    score = started[minutes] - terms.posture_cost[:, terms.posture[row, minutes]]
    table[:, minutes] = np.maximum.accumulate(score[:, ::-1], axis=1)[:, ::-1]
    return table


def _shared(one: tuple[int, ...], other: tuple[int, ...]) -> int:
    same = 0
    for a, b in zip(one, other, strict=False):
        if a != b:
            break
        same += 1
    return same


def _at_start(clock: Clock) -> Ints:
    terms = clock.terms
    cost = terms.posture_cost[terms.posture[len(clock), 0]].astype(np.int64)
    return np.repeat(-cost[:, None], terms.session_minutes + 1, axis=1)


def _at_end(clock: Clock) -> Ints:
    return -clock.terms.awake.astype(np.int64)


def _leave(clock: Clock, left: Ints, last: int, row: int) -> Ints:
    """``left`` after one more look."""
    look, hop = clock.looks[row], clock.terms.hop[:, last, row]
    found = np.full_like(left, NOT)
    earliest = int((left[-1] > POSSIBLE).argmax()) if left[-1, -1] > POSSIBLE else left.shape[1]
    some = slice(int(np.searchsorted(look.minute, earliest)), None)
    regime = look.regime[some]
    ready = look.minute[some] - hop[regime]
    score = look.value[some] - clock.cost[:, last, row][regime]
    score += np.where(ready >= 0, left[look.posture[some], ready], NOT)
    found[:, look.end[some]] = np.maximum(score - look.end_cost[:, some], NOT)
    return np.asarray(np.maximum.accumulate(found, axis=1))


def _start(clock: Clock, started: Ints, row: int, following: int | None) -> Ints:
    """``started`` for the look before."""
    terms, look = clock.terms, clock.looks[row]
    found = np.full(started.shape, NOT, dtype=np.int64)
    if following is None:
        found[look.minute] = look.value + started[look.end]
        return found
    best = np.full(len(look.minute), NOT, dtype=np.int64)
    for stretch in terms.stretches:
        if (started[stretch.first : stretch.last + 1] > POSSIBLE).any():
            table = _after(clock, started, following, stretch.first, stretch.last)
            at = np.maximum(look.end + terms.hop[stretch.regime, row, following], stretch.first)
            value = table[look.end_posture, np.minimum(at, stretch.last + 1)]
            best = np.maximum(best, value - clock.cost[stretch.regime, row, following])
    found[look.minute] = np.maximum(look.value + best, NOT)
    return found


def _from(clock: Clock, started: Ints, last: int, row: int, posture: int) -> Ints:
    """The score to come (T + 1,) for each start of a row after another one, left in a posture."""
    terms = clock.terms
    cost = clock.cost[terms.regime, last, row]
    return np.asarray(started - cost - terms.posture_cost[posture, terms.posture[row]])


def _joined(
    clock: Clock, left: Ints, last: int, started: Sequence[Ints], rows: Sequence[int]
) -> int:
    """The best score over all minutes at which a beginning and an end meet."""
    terms = clock.terms
    if not rows:
        return int((left[-1] + _at_end(clock)).max()) if last < len(clock) else 0
    row = rows[0]
    ready = np.arange(left.shape[1]) - terms.hop[terms.regime, last, row]
    score = started[0] - clock.cost[terms.regime, last, row]
    score = score + np.where(ready >= 0, left[terms.posture[row], ready], NOT)
    return int(score.max())
