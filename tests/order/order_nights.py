"""Small nights to put in order: half invented, half cut from a real one."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

import numpy as np
from sample_nights import request

from planner.night.evening.preparing import prepared
from planner.night.evening.request import EveningRequest
from planner.optics.eyepiece import Finder
from planner.order.problem import FORBIDDEN, NEVER, Problem

FINDERS = (Finder("8x50", 8.0, 6.0, "inverted"),)


@cache
def real_night() -> Problem:
    """The candidates of an autumn evening, twilight with them, as the planner judges them."""
    asked = EveningRequest(
        night=request("Lindenhof", "2026-11-10", limit=None, finders=FINDERS), most=60
    )
    return prepared(asked).problem


def cut_night(seed: int) -> Problem:
    """Some candidates and an hour or so of the real night."""
    random, whole = np.random.default_rng(seed), real_night()
    rows = np.sort(random.choice(len(whole), int(random.integers(4, 13)), replace=False))
    length = int(random.integers(35, 75))
    # every third in twilight, where the ways are longer and change their table on the way
    latest = 60 if seed % 3 == 0 else whole.session_minutes - length
    first = int(random.integers(0, latest))
    return part_of(whole, rows, first, length)


def part_of(whole: Problem, rows: Any, first: int, length: int) -> Problem:
    """Some candidates of a problem and some of its minutes."""
    after, source = first + length, np.append(rows, len(whole))
    value = whole.value[rows, first:after].copy()
    over = np.arange(length)[None, :] + whole.minutes[rows][:, None] > length
    value[over] = FORBIDDEN
    return Problem(
        ids=tuple(whole.ids[row] for row in rows),
        value=value,
        minutes=whole.minutes[rows],
        hop=whole.hop[:, source][:, :, rows],
        regime=whole.regime[first:after],
        change=whole.change[source][:, rows],
        posture=whole.posture[rows, first : after + 1],
        posture_cost=whole.posture_cost,
        awake=whole.awake[: length + 1],
        must=whole.must[rows],
        rest=whole.rest[rows],
    )


def invented_night(seed: int, musts: int = 0, rests: int = 0) -> Problem:
    """Values that rise and fall, gaps, two regimes, four postures, ways that are not there."""
    random = np.random.default_rng(seed)
    n, t, classes = int(random.integers(3, 13)), int(random.integers(30, 80)), 4
    minute = np.arange(t)
    peak, middle = random.uniform(1000, 9000, n), random.uniform(-10, t + 10, n)
    width = random.uniform(20, 120, n)
    value = np.rint(peak[:, None] * np.exp(-(((minute - middle[:, None]) / width[:, None]) ** 2)))
    opens, closes = random.integers(0, t // 2, n), random.integers(t // 3, t + 20, n)
    shut = (minute < opens[:, None]) | (minute >= closes[:, None])
    cloud = int(random.integers(0, t))
    shut |= (minute >= cloud) & (minute < cloud + random.integers(0, 12))
    length = random.integers(3, 12, n)
    hop = random.integers(1, 7, (2, n + 1, n))
    hop[1] += random.integers(0, 3, (n + 1, n))
    hop[:, random.random((n + 1, n)) < 0.04] = NEVER
    return Problem(
        ids=tuple(f"t{number:02d}" for number in random.permutation(n).tolist()),
        value=np.where(shut, FORBIDDEN, value).astype(np.int64),
        minutes=length,
        hop=hop,
        regime=(minute < random.integers(0, t // 2)).astype(np.int64),
        change=random.integers(0, 500, (n + 1, n)),
        posture=np.sort(random.integers(0, classes, (n, t + 1)), axis=1),
        posture_cost=150 * np.abs(np.subtract.outer(np.arange(classes), np.arange(classes))),
        awake=30 * np.arange(t + 1),
        must=np.arange(n) < musts,
        rest=np.arange(n) >= n - rests,
    )


def shuffled(problem: Problem, seed: int) -> Problem:
    """The same problem with its rows in another order."""
    rows = np.random.default_rng(seed).permutation(len(problem))
    return part_of(problem, rows, 0, problem.session_minutes)


def shorter(problem: Problem, minutes: int) -> Problem:
    """The same problem without its last minutes."""
    return part_of(problem, np.arange(len(problem)), 0, problem.session_minutes - minutes)


def with_must(problem: Problem, rows: list[int]) -> Problem:
    """The same with some must-sees."""
    return replace(problem, must=np.isin(np.arange(len(problem)), rows))
