"""How the benchmarks take times and print them."""

from __future__ import annotations

import statistics
import time
from typing import TYPE_CHECKING

from tabulate import tabulate

if TYPE_CHECKING:
    from collections.abc import Callable

REPEATS = 5


def seconds(work: Callable[[], object]) -> float:
    """Wall time of one run."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def median_seconds(work: Callable[[], object], repeats: int = REPEATS) -> float:
    """Median wall time of some runs."""
    return statistics.median(seconds(work) for _ in range(repeats))


def print_table(title: str, rows: list[list[str]], headers: list[str]) -> None:
    """One table, with a line above it that says what was measured."""
    print(f"\n{title}")
    print(tabulate(rows, headers=headers, disable_numparse=True))
