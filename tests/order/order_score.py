"""Score and waiting of an order straight from its problem; shares nothing with the solver."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from planner.order.problem import Problem

    Entries = Sequence[tuple[str, int]]


def score_of(problem: Problem, entries: Entries) -> int:
    """The score of entries without fault, in hundredths of a point; none at all score 0."""
    rows = {name: row for row, name in enumerate(problem.ids)}
    total, last, posture, left = 0, problem.start_row, problem.here_posture, 0
    for name, start in entries:
        row = rows[name]
        total += int(problem.value[row, start])
        left = start + int(problem.minutes[row])
        if problem.rest[row]:
            last, posture = len(problem), -1
            continue
        total -= int(problem.change[last, row])
        if posture >= 0:
            total -= int(problem.posture_cost[posture, problem.posture[row, start]])
        last, posture = row, int(problem.posture[row, left])
    return total - int(problem.awake[left])


def waiting_minutes(problem: Problem, entries: Entries) -> int:
    """The minutes between the first hop and the last look that are neither hop nor look."""
    rows = {name: row for row, name in enumerate(problem.ids)}
    idle, last, left = 0, problem.start_row, 0
    for name, start in entries:
        row = rows[name]
        came = len(problem) if last < len(problem) and problem.rest[last] else last
        hop = 0 if problem.rest[row] else int(problem.hop[problem.regime[start], came, row])
        idle += start - left - hop
        last, left = row, start + int(problem.minutes[row])
    return idle


def missing(problem: Problem, entries: Entries) -> list[str]:
    """The must-sees that the entries do not hold, by id."""
    there = {name for name, _ in entries}
    wanted = zip(problem.ids, problem.must.tolist(), strict=True)
    return sorted(name for name, must in wanted if must and name not in there)
