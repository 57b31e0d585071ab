"""Time and memory of what goes outside: a whole sheet and single charts.

Run with ``python tests/bench/sheets.py``. It measures and does not judge. Processor time is beside
wall time, since other work on the machine lengthens only the second.
"""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from measuring import print_table

DATE = "2026-12-08"
REPEATS = 3
AIM_MIB = 700.0
KIB_A_MIB = 1024.0  # Linux counts the largest resident set in KiB; getrusage(2)
PROGRAM = "from planner.cli.root import main; main()"
RUNS = {  # name: arguments, file, aim in seconds
    "sheet of 20 targets, 60 circles": (("sheet", "--limit", "20", "--whole-night"), "s.pdf", 12.0),
    "chart, PDF": (("chart", "NGC 7662"), "c.pdf", 1.5),
    "chart, SVG": (("chart", "NGC 7662"), "c.svg", 1.5),
    "chart of a bare place, SVG": (("chart", "05 35.3 -05 23"), "p.svg", 1.5),
}


def measured(arguments: tuple[str, ...], output: Path) -> tuple[float, float]:
    """Wall and processor seconds of one fresh process."""
    own = dict.fromkeys(("XDG_CACHE_HOME", "XDG_DATA_HOME"), str(output.parent))
    environment = {**os.environ, **own, "PLANNER_KIT": ""}
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    start = time.perf_counter()
    subprocess.run(
        [sys.executable, "-c", PROGRAM, *arguments, "--date", DATE, "-o", str(output)],
        env=environment, check=True, capture_output=True,
    )  # fmt: skip
    wall = time.perf_counter() - start
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return wall, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def main() -> None:
    """Each run some times, its best against its aim, then the most memory any of them took."""
    rows = []
    with tempfile.TemporaryDirectory() as folder:
        for name, (arguments, file, aim) in RUNS.items():
            place = Path(folder, file)
            measured(arguments, place)  # compiles, and fills the cache
            wall, processor = map(
                min, zip(*(measured(arguments, place) for _ in range(REPEATS)), strict=True)
            )
            size = place.stat().st_size / 1000.0
            rows.append([name, f"{wall:.1f}", f"{processor:.1f}", f"{aim:g}",
                         f"{processor / aim:.2f}", f"{size:.0f}"])  # fmt: skip
    heads = ["run", "wall s", "processor s", "aim s", "processor / aim", "kB"]
    print_table(f"What goes outside, best of {REPEATS}", rows, heads)
    peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / KIB_A_MIB
    print(f"\npeak memory {peak:.0f} MiB, aim {AIM_MIB:.0f}: {peak / AIM_MIB:.2f} of it")


if __name__ == "__main__":
    main()
