"""The order of four whole nights: its share of the bound, against simpler ways, and its time.

Run with ``python tests/bench/order.py``. It measures and does not judge.
"""

from __future__ import annotations

import datetime as dt
import sys
import time
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
from measuring import print_table

sys.path[:0] = [str(Path(__file__).resolve().parents[1] / "order")]

from order_score import score_of  # noqa: E402

from planner.cli.night_request import ChoiceOptions, NightOptions, request_for  # noqa: E402
from planner.night.evening.preparing import prepared  # noqa: E402
from planner.night.evening.request import EveningRequest  # noqa: E402
from planner.order.checker import faults  # noqa: E402
from planner.order.problem import FORBIDDEN  # noqa: E402
from planner.order.solve import resolve, solve  # noqa: E402

if TYPE_CHECKING:
    from collections.abc import Callable

    from planner.order.problem import Problem

    Choice = tuple[int, int, float]

NIGHTS = ("2026-12-08", "2027-03-10", "2027-06-20", "2026-09-10")


def problem_of(date: str) -> Problem:
    """The three hundred worthiest targets of a night from dusk to dawn, with the example kit."""
    day = dt.datetime.fromisoformat(date)
    options = NightOptions(None, None, None, day, None, None, None, None, None, True, 15.0)
    request = request_for(options, ChoiceOptions(for_reading=False))
    return prepared(EveningRequest(replace(request, limit=None))).problem


def by_setting(problem: Problem) -> int:
    """The score of one who takes, of what can be begun within ten minutes, what sets first."""
    shown = np.where(problem.value > FORBIDDEN, np.arange(problem.session_minutes), -1)
    sets = shown.max(axis=1)

    def first(choices: list[Choice]) -> Choice:
        soonest = min(start for start, *_ in choices)
        return min((c for c in choices if c[0] <= soonest + 10), key=lambda c: (sets[c[1]], c[1]))

    return _followed(problem, first)


def by_points(problem: Problem) -> int:
    """The score of one who always takes what brings most points a minute from here on."""
    return _followed(problem, lambda choices: max(choices, key=lambda c: (c[2], -c[1])))


def _followed(problem: Problem, chosen: Callable[[list[Choice]], Choice]) -> int:
    """The score of one who chooses from (start, row, points a minute) until nothing is left."""
    entries: list[tuple[str, int]] = []
    last, now, free = problem.start_row, 0, set(range(len(problem)))
    while choices := [c for row in free if (c := _choice(problem, last, row, now)) is not None]:
        start, last, _ = chosen(choices)
        now = start + int(problem.minutes[last])
        free.remove(last)
        entries.append((problem.ids[last], start))
    return score_of(problem, entries)


def _choice(problem: Problem, last: int, row: int, now: int) -> Choice | None:
    """The soonest look at a row after another one."""
    start = _start(problem, last, row, now)
    if start is None:
        return None
    gain = float(problem.value[row, start] - problem.change[last, row])
    return start, row, gain / float(start + problem.minutes[row] - now)


def _start(problem: Problem, last: int, row: int, now: int) -> int | None:
    minute = np.flatnonzero(problem.value[row] > FORBIDDEN)
    minute = minute[minute - problem.hop[problem.regime[minute], last, row] >= now]
    return int(minute[0]) if minute.size else None


def main() -> None:
    """Measure the nights."""
    rows = []
    for date in NIGHTS:
        problem = problem_of(date)
        begun = time.process_time()
        order = solve(problem)
        took = time.process_time() - begun
        begun = time.process_time()
        again = resolve(problem, order)
        anew = time.process_time() - begun
        assert not faults(problem, order.entries) and not faults(problem, again.entries)
        simple = by_setting(problem), by_points(problem)
        rows.append([
            date, len(problem), problem.session_minutes, len(order.ids), order.score // 100,
            order.bound // 100, f"{100 * order.score / order.bound:.1f} %",
            *(f"{score // 100} (+{100 * (order.score / score - 1):.0f} %)" for score in simple),
            f"{took:.2f}", f"{anew:.2f}",
        ])  # fmt: skip
    print_table("whole nights of three hundred targets", rows,
        ["night", "targets", "minutes", "looks", "score", "bound", "held", "by setting time",
         "by points a minute", "CPU s", "anew, CPU s"],
    )  # fmt: skip


if __name__ == "__main__":
    main()
