"""How long a log of 20,000 records takes to load, and what it adds to a night's list.

``python tests/bench/log.py``; a few seconds.
"""

from __future__ import annotations

import datetime as dt
import statistics
import sys
import tempfile
import time
from pathlib import Path
from typing import TYPE_CHECKING

from measuring import REPEATS, median_seconds, print_table

if TYPE_CHECKING:
    from collections.abc import Callable

ROOT = Path(__file__).parents[2]
RECORDS = 20_000


def _processor_seconds(work: Callable[[], object]) -> float:
    """Median processor time, which other work on the machine disturbs less."""
    taken = []
    for _ in range(REPEATS):
        begun = time.process_time()
        work()
        taken.append(time.process_time() - begun)
    return statistics.median(taken)


def main() -> None:
    """Print the times."""
    sys.path.insert(0, str(ROOT / "tests" / "log"))
    from log_samples import look

    from planner.log.history import standing
    from planner.log.reading import read_journal
    from planner.log.seen import read_seen
    from planner.log.writing import append, log_file
    from planner.night.log_worth import log_points

    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        path = log_file(folder, "bench")
        append(path, [look(number) for number in range(RECORDS)])
        mib = path.stat().st_size / 2**20
        begun = time.perf_counter()
        append(path, [look(RECORDS)])
        added = time.perf_counter() - begun
        records, seen = read_journal(folder).records, read_seen(folder)
        ids = [f"P{number:05d}" for number in range(RECORDS)]
        today = dt.date(2026, 12, 8)
        works: list[tuple[str, Callable[[], object], str]] = [
            ("read every record", lambda: read_journal(folder), "0.5 s"),
            ("fold corrections", lambda: standing(records), ""),
            ("what a night's list reads", lambda: read_seen(folder), "0.2 s, with the next"),
            ("points for 20,000 targets", lambda: log_points(ids, seen, today), ""),
        ]
        rows = [
            [what, f"{median_seconds(work):.3f} s", f"{_processor_seconds(work):.3f} s", aim]
            for what, work, aim in works
        ]
        rows.append(["add one record", f"{added:.3f} s", "", ""])
    print_table(
        f"A log of {RECORDS} records, {mib:.0f} MiB", rows, ["what", "median", "processor", "aim"]
    )


if __name__ == "__main__":
    main()
