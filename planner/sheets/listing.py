"""In which order the chosen targets are printed."""

from __future__ import annotations

from enum import StrEnum
from math import inf
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from planner.night.plan import Plan, PlannedTarget


class Order(StrEnum):
    """In which order chosen targets are printed; which are chosen is a matter of worth alone."""

    WORTH = "worth"
    TIME = "time"


def listing(plan: Plan, order: Order) -> tuple[tuple[int, PlannedTarget], ...]:
    """The plan's targets in an order, each with its rank by worth, from 1.

    By time: of two that are best at the same moment, the one that is lost first comes first.
    Targets not usable tonight come last.
    """
    ranked = tuple(enumerate(plan.targets, start=1))
    if order is Order.WORTH:
        return ranked
    return tuple(sorted(ranked, key=_time_key))


def _time_key(entry: tuple[int, PlannedTarget]) -> tuple[float, float, int]:
    """Real time, which runs on where the clock is set back."""
    rank, target = entry
    best, last = (
        inf if moment is None else moment.timestamp()
        for moment in (target.best_time, target.window_end)
    )
    return best, last, rank
