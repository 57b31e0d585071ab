"""The problem as the solver counts with it: sorted by id, breaks and the start made plain rows."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from planner.order.problem import FORBIDDEN

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.order.problem import Problem

    Bools = NDArray[np.bool_]
    Ints = NDArray[np.int32]

NOT = FORBIDDEN  # no order leads here; sums with it are cut off at it again
POSSIBLE = NOT // 2  # anything above is a score


@dataclass(frozen=True, slots=True)
class Stretch:
    """An unbroken run of minutes ``first`` to ``last`` of one regime."""

    first: int
    last: int
    regime: int


@dataclass(frozen=True, slots=True, eq=False)
class Terms:
    """N candidates, sorted by id; row N of ``hop``, ``cost`` and ``posture`` is the start.

    value (N, T + 1), ``NOT`` where the look cannot start; minutes (N,); hop and cost (R, N + 1, N)
    with 0 and -``NOT`` where there is no way; posture (N + 1, T + 1) of 0 to Q - 1, the last class
    being "none", which costs nothing; posture_cost (Q, Q); awake (T + 1,); regime (T + 1,) and the
    same as ``stretches``; must (N,).
    """

    ids: tuple[str, ...]
    value: Ints
    minutes: Ints
    hop: Ints
    cost: Ints
    posture: Ints
    posture_cost: Ints
    awake: Ints
    regime: Ints
    stretches: tuple[Stretch, ...]
    must: Bools

    def __len__(self) -> int:
        return len(self.ids)

    @property
    def session_minutes(self) -> int:
        """The length T of the session."""
        return int(self.value.shape[1]) - 1


def terms_of(problem: Problem) -> Terms:
    """The terms of a problem."""
    n, t = len(problem), problem.session_minutes
    rows = np.array(sorted(range(n), key=lambda row: problem.ids[row]), dtype=np.intp)
    rest, minutes = problem.rest[rows], problem.minutes[rows]
    value = np.full((n, t + 1), NOT, dtype=np.int32)
    value[:, :t] = problem.value[rows]
    value[np.arange(t + 1)[None, :] + minutes[:, None] > t] = NOT
    source = np.append(np.where(rest, n, rows), problem.start_row)
    hop = problem.hop[:, source][:, :, rows].astype(np.int32)
    cost = np.repeat(problem.change[source][:, rows].astype(np.int32)[None], len(hop), axis=0)
    hop[:, :, rest] = 0
    cost[:, :, rest] = 0
    no_way = (hop > t) | np.eye(n + 1, n, dtype=bool)
    hop[no_way], cost[no_way] = 0, -NOT
    classes = len(problem.posture_cost)
    posture = np.full((n + 1, t + 1), classes, dtype=np.int32)
    posture[:n] = np.where(rest[:, None], classes, problem.posture[rows])
    posture[n] = problem.here_posture if problem.here_posture >= 0 else classes
    posture_cost = np.zeros((classes + 1, classes + 1), dtype=np.int32)
    posture_cost[:classes, :classes] = problem.posture_cost
    return Terms(
        ids=tuple(problem.ids[row] for row in rows.tolist()),
        value=value,
        minutes=minutes.astype(np.int32),
        hop=hop,
        cost=cost,
        posture=posture,
        posture_cost=posture_cost,
        awake=problem.awake.astype(np.int32),
        regime=np.append(problem.regime, problem.regime[-1]).astype(np.int32),
        stretches=_stretches(problem.regime),
        must=problem.must[rows],
    )


def some_of(terms: Terms, keep: NDArray[np.intp]) -> Terms:
    """The terms of some candidates only, given by their rows in rising order."""
    rows = np.append(keep, len(terms))
    return replace(
        terms,
        ids=tuple(terms.ids[row] for row in keep.tolist()),
        value=terms.value[keep],
        minutes=terms.minutes[keep],
        hop=terms.hop[:, rows][:, :, keep],
        cost=terms.cost[:, rows][:, :, keep],
        posture=terms.posture[rows],
        must=terms.must[keep],
    )


def _stretches(regime: NDArray[np.integer]) -> tuple[Stretch, ...]:
    firsts = np.flatnonzero(np.diff(regime, prepend=-1)).tolist()
    lasts = [first - 1 for first in firsts[1:]] + [len(regime) - 1]
    return tuple(
        Stretch(first, last, int(regime[first])) for first, last in zip(firsts, lasts, strict=True)
    )
