"""The exact optimum of small problems: dynamic programming over subsets, apart from the solver.

Held and Karp 1962 (J. SIAM 10, 196; from memory), with the minute in the state: for every set of
looks behind one, every last of them and every minute at which it is left, the best score so far.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.order.problem import FORBIDDEN

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.order.problem import Problem

    Ints = NDArray[np.int64]
    Level = dict[int, tuple[Ints, Ints]]  # by last row: sets as bits (M,), scores (M, T + 1)

NONE = -(10**12)
MUST = 10**8  # outweighs every score of a small night


def exact_optimum(problem: Problem) -> tuple[int, int]:
    """The most must-sees any order holds, and the best score of the orders that hold so many."""
    n, t = len(problem), problem.session_minutes
    here = np.full((1, t + 1), NONE, dtype=np.int64)
    here[0, 0] = 0
    best, level = 0, {n: (np.zeros(1, dtype=np.int64), here)}
    while level:
        coming: dict[int, list[tuple[Ints, Ints]]] = {}
        for last, (seen, left) in level.items():
            best = max(best, int((left - problem.awake).max()))
            ready = _ready(problem, last, left)
            for row in range(n):
                new = seen >> row & 1 == 0
                found = _looked(problem, last, row, ready[:, new])
                some = (found > NONE // 2).any(axis=1)
                if some.any():
                    coming.setdefault(row, []).append((seen[new][some] | 1 << row, found[some]))
        level = {row: _merged(parts) for row, parts in coming.items()}
    held = round(best / MUST)
    return held, best - held * MUST


def _ready(problem: Problem, last: int, left: Ints) -> Ints:
    """The best (P + 1, M, T + 1) of those ready, less the posture's change; P needs none."""
    free = left[None]
    if last == len(problem) and problem.here_posture >= 0:
        scores = free - problem.posture_cost[problem.here_posture][:, None, None]
    elif last == len(problem) or problem.rest[last]:
        scores = np.repeat(free, len(problem.posture_cost), axis=0)
    else:
        scores = free - problem.posture_cost[problem.posture[last]].T[:, None]
    return np.asarray(np.maximum.accumulate(np.concatenate([scores, free]), axis=2))


def _looked(problem: Problem, last: int, row: int, ready: Ints) -> Ints:
    """The best score (M, T + 1) by the minute at which the look at a row is left."""
    minute = np.flatnonzero(problem.value[row] > FORBIDDEN)
    minute = minute[minute + problem.minutes[row] <= problem.session_minutes]
    source = problem.start_row if last == len(problem) else last
    if last < len(problem) and problem.rest[last]:
        source = len(problem)
    posture, before, lost = problem.posture[row, minute], minute, 0
    if problem.rest[row]:
        posture = np.full(len(minute), len(problem.posture_cost))
    else:
        before = minute - problem.hop[problem.regime[minute], source, row]
        lost = int(problem.change[source, row])
    fits = before >= 0
    minute, posture, before = minute[fits], posture[fits], before[fits]
    gain = problem.value[row, minute] - lost + MUST * int(problem.must[row])
    found = np.full(ready.shape[1:], NONE, dtype=np.int64)
    found[:, minute + problem.minutes[row]] = ready[posture, :, before].T + gain
    return found


def _merged(parts: list[tuple[Ints, Ints]]) -> tuple[Ints, Ints]:
    """The best score of each set."""
    seen = np.concatenate([part[0] for part in parts])
    left = np.concatenate([part[1] for part in parts])
    order = np.argsort(seen, kind="stable")
    sets, first = np.unique(seen[order], return_index=True)
    return sets, np.maximum.reduceat(left[order], first, axis=0)
