"""The problem: what each look is worth at each minute, and what each change costs.

An orienteering problem with time windows, time-dependent values and sequence-dependent costs.
Everything is an integer: minutes, and points in hundredths.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.errors import ModelRangeError

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Bools = NDArray[np.bool_]
    Ints = NDArray[np.int64]

HUNDREDTHS = 100  # units of a point
FORBIDDEN = -1_000_000_000  # the value of a look that may not start at this minute
NEVER = 1_000_000  # the minutes of a hop that cannot be made
MOST_MINUTES = 2880  # two days; a session is one night
MOST_VALUE = 1_000_000  # hundredths of a point: 10,000 points for one look


@dataclass(frozen=True, slots=True, eq=False)
class Problem:
    """N candidates and a session of T minutes; minute 0 is its start, minute T its end.

    The look at candidate i that starts at minute t holds the minutes t to t + ``minutes[i]`` - 1
    and is left at t + ``minutes[i]``; that must not be after T. From a look left at s the next
    one, j, starts at t if s + hop <= t, with the hop of the regime of minute t; what is over is
    waiting. The score of an order is the sum of its values, less the changes, the postures and
    the price of being awake until the last look is left.

    ids: (N,) names, all different. Their order decides ties; the order of the rows never matters.
    value: (N, T) hundredths of a point if the look starts at that minute, -10^6 to 10^6, or
        ``FORBIDDEN``. A window is where it is not forbidden, and must be judged over the whole
        look; windows may have gaps.
    minutes: (N,) at the eyepiece, at least 1.
    hop: (R, N + 1, N) or (R, N + 2, N) whole minutes, 0 or more, from row to column, ``NEVER``
        where there is no way. Row N is from nowhere; row N + 1, if given, is where the observer
        stands at minute 0 (the start is from nowhere otherwise).
    regime: (T,) which of the R tables of hops holds for a look that starts at that minute.
    change: (N + 1, N) or (N + 2, N) hundredths of a point, 0 or more, rows as in ``hop``.
    posture: (N, T + 1) the observer's posture class at the eyepiece, 0 to P - 1, at that minute.
    posture_cost: (P, P) hundredths of a point from the class on leaving to that on starting.
    awake: (T + 1,) hundredths of a point of being awake until that minute; begins with 0 and
        never falls.
    must: (N,) the must-sees. Of all orders those with the most of them win, whatever the score.
    rest: (N,) the breaks: no hop to them, no cost, and the place is forgotten (the next look comes
        from nowhere). Their rows in ``hop``, ``change`` and ``posture`` are not read. Commonly
        also in ``must``.
    here_posture: the posture class at minute 0, or -1 for none.
    """

    ids: tuple[str, ...]
    value: Ints
    minutes: Ints
    hop: Ints
    regime: Ints
    change: Ints
    posture: Ints
    posture_cost: Ints
    awake: Ints
    must: Bools
    rest: Bools
    here_posture: int = -1

    def __post_init__(self) -> None:
        """Check shapes and ranges.

        Raises:
            ModelRangeError: an array has another shape, or a number lies outside its range; the
                message names the array and, where it is one candidate's, the candidate.
        """
        repeated = [name for name, count in Counter(self.ids).items() if count > 1]
        if repeated:
            raise ModelRangeError(f"candidate {repeated[0]} stands twice; give each id once")
        _check_shapes(self)
        _check_ranges(self)

    def __len__(self) -> int:
        return len(self.ids)

    @property
    def session_minutes(self) -> int:
        """The length T of the session."""
        return int(self.value.shape[1])

    @property
    def start_row(self) -> int:
        """The row of ``hop`` and ``change`` that holds for the first look."""
        return int(self.hop.shape[1]) - 1


def _check_shapes(problem: Problem) -> None:
    n = len(problem)
    if problem.value.ndim != 2 or problem.value.shape[0] != n:
        raise ModelRangeError(f"value has the shape {problem.value.shape}; it must be ({n}, T)")
    t = problem.value.shape[1]
    if not 1 <= t <= MOST_MINUTES:
        raise ModelRangeError(f"the session has {t} minutes; it must have 1 to {MOST_MINUTES}")
    if problem.hop.ndim != 3 or problem.hop.shape[1] not in (n + 1, n + 2):
        raise ModelRangeError(
            f"hop has the shape {problem.hop.shape}; it must be (R, {n + 1} or {n + 2}, {n})"
        )
    regimes, rows, _ = problem.hop.shape
    classes = problem.posture_cost.shape[0]
    wanted = {
        "minutes": (n,),
        "hop": (max(regimes, 1), rows, n),
        "regime": (t,),
        "change": (rows, n),
        "posture": (n, t + 1),
        "posture_cost": (max(classes, 1), classes),
        "awake": (t + 1,),
        "must": (n,),
        "rest": (n,),
    }
    for name, shape in wanted.items():
        found = getattr(problem, name)
        if found.shape != shape:
            raise ModelRangeError(f"{name} has the shape {found.shape}; it must be {shape}")
        kinds = "b" if name in ("must", "rest") else "iu"
        if found.dtype.kind not in kinds:
            raise ModelRangeError(f"{name} must hold {'flags' if kinds == 'b' else 'integers'}")
    if problem.value.dtype.kind not in "iu":
        raise ModelRangeError("value must hold integers: hundredths of a point")


def _check_ranges(problem: Problem) -> None:
    regimes, classes = problem.hop.shape[0], problem.posture_cost.shape[0]
    used = problem.value[problem.value > FORBIDDEN]
    _within("value", used, -MOST_VALUE, MOST_VALUE)
    _within("hop", problem.hop, 0, NEVER)
    _within("change", problem.change, 0, MOST_VALUE)
    _within("regime", problem.regime, 0, regimes - 1)
    _within("posture", problem.posture[~problem.rest], 0, classes - 1)
    _within("posture_cost", problem.posture_cost, 0, MOST_VALUE)
    _within("here_posture", np.array([problem.here_posture]), -1, classes - 1)
    _within("awake", problem.awake, 0, MOST_VALUE)
    short = np.flatnonzero(problem.minutes < 1)
    if short.size:
        name = problem.ids[int(short[0])]
        raise ModelRangeError(f"the look at {name} takes no time; give at least one minute")
    if problem.awake[0] != 0 or (np.diff(problem.awake) < 0).any():
        raise ModelRangeError("awake must begin with 0 and never fall")


def _within(name: str, numbers: NDArray[np.integer], least: int, most: int) -> None:
    if numbers.size and not (least <= numbers.min() and numbers.max() <= most):
        odd = numbers.min() if numbers.min() < least else numbers.max()
        raise ModelRangeError(f"{name} holds {odd}; it must lie within {least} and {most}")
