"""Rows of an outside file that are not taken, grouped by the reason."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    Bools = NDArray[np.bool_]
    Integers = NDArray[np.int64]

LINES_NAMED = 5  # of each reason; enough to look up, few enough to read


@dataclass(frozen=True, slots=True)
class RejectedRows:
    """Why some rows were refused, how many, and the line numbers of the first few."""

    reason: str
    count: int
    first_lines: tuple[int, ...]


def judged(
    lines: Integers, checks: Sequence[tuple[str, Bools]]
) -> tuple[Bools, tuple[RejectedRows, ...]]:
    """Which rows pass every check, and the refusals.

    ``lines`` (N,) are line numbers counted from 1; each check is a reason and the rows (N,) it
    refuses. A row counts under the first reason that fits it. Refusals come in the order of the
    checks, without the reasons that refuse nothing.
    """
    keep = np.ones(len(lines), dtype=bool)
    refusals = []
    for reason, refused in checks:
        fresh = keep & refused
        keep &= ~refused
        if fresh.any():
            refusals.append(rejected(reason, lines[fresh]))
    return keep, tuple(refusals)


def rejected(reason: str, lines: Integers) -> RejectedRows:
    """The refusal of the given lines (at least one)."""
    first = tuple(int(line) for line in lines[:LINES_NAMED])
    return RejectedRows(reason, len(lines), first)
