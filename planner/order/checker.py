"""The checker: every rule of an order, straight from the problem.

It shares nothing with the solver, so that either finds the faults of the other.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import TYPE_CHECKING

from planner.order.problem import FORBIDDEN, NEVER

if TYPE_CHECKING:
    from collections.abc import Sequence

    from planner.order.problem import Problem

    Entries = Sequence[tuple[str, int]]


class Rule(Enum):
    """What an order can break."""

    UNKNOWN = "no candidate has this id"
    TWICE = "the candidate has been looked at before"
    OUTSIDE_SESSION = "the look begins before the session or ends after it"
    OUTSIDE_WINDOW = "the look may not start at this minute"
    TOO_SOON = "the look starts before the last one is left and the hop made"
    NO_WAY = "there is no hop from the last one to this"


@dataclass(frozen=True, slots=True)
class Fault:
    """One breach: the rule, the entry's number from 0, its id and its start.

    ``earliest_minute`` is for ``TOO_SOON``: when it could start at the soonest, by the regime of
    the minute at which it does.
    """

    rule: Rule
    entry: int
    target_id: str
    start_minute: int
    earliest_minute: int | None = None


def faults(problem: Problem, entries: Entries) -> list[Fault]:
    """Every breach of a rule by entries (id, start minute) in the order in which they stand.

    Entries of unknown ids are named and passed over. A must-see that is missing is no fault here:
    see ``missing``.
    """
    rows = {name: row for row, name in enumerate(problem.ids)}
    found: list[Fault] = []
    seen: set[str] = set()
    last, left = problem.start_row, 0
    for number, (name, start) in enumerate(entries):
        if name not in rows:
            found.append(Fault(Rule.UNKNOWN, number, name, start))
            continue
        row = rows[name]
        if name in seen:
            found.append(Fault(Rule.TWICE, number, name, start))
        seen.add(name)
        end = start + int(problem.minutes[row])
        if start < 0 or end > problem.session_minutes:
            found.append(Fault(Rule.OUTSIDE_SESSION, number, name, start))
        elif problem.value[row, start] <= FORBIDDEN:
            found.append(Fault(Rule.OUTSIDE_WINDOW, number, name, start))
        hop = _hop_minutes(problem, last, row, start)
        if hop >= NEVER:
            found.append(Fault(Rule.NO_WAY, number, name, start))
        elif start < left + hop:
            found.append(Fault(Rule.TOO_SOON, number, name, start, left + hop))
        last, left = row, end
    return found


def _hop_minutes(problem: Problem, last: int, row: int, start: int) -> int:
    """The hop to a look from the last one; a break needs none and leads from nowhere."""
    if problem.rest[row]:
        return 0
    if last < len(problem) and problem.rest[last]:
        last = len(problem)
    minute = min(max(start, 0), problem.session_minutes - 1)
    return int(problem.hop[problem.regime[minute], last, row])
