"""Time and memory of a night with a whole Washington summary imported.

Run with ``python tests/bench/own_catalogs.py``. It measures and does not judge. The summary is
invented, of the published size; everything lies in a temporary folder. The direct way images
each pair in every view, as in ``doubles.py``: scaled from a few.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import numpy as np
from doubles import imaged
from measuring import print_table, seconds

from planner.importers.library import load_all_pairs

LINES = 157_000
DATE = "2026-12-08"
WARM_RUNS = 3
IMAGED = 10  # pairs imaged directly, in every view
NARROWEST_ARCSEC, WIDEST_ARCSEC = 0.5, 40.0  # of the pairs imaged
AIM_S, AIM_GIB = 6.0, 1.5
PROGRAM = "from planner.cli.root import main; main()"
MAKE = """
import sys
from pathlib import Path
sys.path.insert(0, sys.argv[1])
from wds_maker import summary_file
Path(sys.argv[2]).write_bytes(summary_file(int(sys.argv[3])))
"""
MAKER_FOLDER = Path(__file__).resolve().parents[1] / "importers"
BYTES_PER_UNIT = 1 if sys.platform == "darwin" else 1024  # of ru_maxrss


def run(program: str, arguments: list[str], home: Path) -> tuple[float, float]:
    """Wall seconds and peak GiB of one fresh process with its own data and cache.

    The peak is the child's own (wait4), not the largest of all so far. It is never below what
    this process holds, since a child begins as its copy: so the summary is made in a child too.
    """
    own = {"XDG_CACHE_HOME": str(home / "cache"), "XDG_DATA_HOME": str(home / "data")}
    environment = {**os.environ, **own}
    environment.pop("PLANNER_KIT", None)
    start = time.perf_counter()
    child = subprocess.Popen(
        [sys.executable, "-c", program, *arguments],
        env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE,
    )  # fmt: skip
    assert child.stderr is not None
    said = child.stderr.read().decode()
    _, status, usage = os.wait4(child.pid, 0)
    took = time.perf_counter() - start
    child.returncode = os.waitstatus_to_exitcode(status)
    if child.returncode:
        raise SystemExit(f"{arguments} ended with {child.returncode}: {said}")
    return took, usage.ru_maxrss * BYTES_PER_UNIT / 2**30


def directly(pairs_folder: Path) -> tuple[int, float]:
    """How many pairs there are, and seconds to image them all, scaled from a sample."""
    pairs = load_all_pairs(pairs_folder)
    rows = np.linspace(0, len(pairs) - 1, IMAGED).astype(int)
    separation = np.clip(pairs.separation_arcsec[rows], NARROWEST_ARCSEC, WIDEST_ARCSEC)
    difference = np.nan_to_num(np.abs(pairs.v2 - pairs.v1)[rows])
    imaged(WIDEST_ARCSEC, 0.0)  # its table of waves is made once

    def sample() -> None:
        for wide, step in zip(separation.tolist(), difference.tolist(), strict=True):
            imaged(wide, step)

    return len(pairs), seconds(sample) * len(pairs) / IMAGED


def main() -> None:
    """Print the table."""
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder)
        summary = home / "summary.txt"
        run(MAKE, [str(MAKER_FOLDER), str(summary), str(LINES)], home)
        imported = run(PROGRAM, ["catalog", "import", str(summary)], home)
        tonight = ["tonight", "--date", DATE]
        cold = run(PROGRAM, tonight, home)  # nothing is in the cache yet
        warm = [run(PROGRAM, tonight, home) for _ in range(WARM_RUNS)]
        (store,) = (home / "data").rglob("catalogs")
        count, direct_s = directly(store)
    warm_s = statistics.median(took for took, _ in warm)
    warm_gib = max(peak for _, peak in warm)
    rows = [
        ["catalog import", f"{imported[0]:.1f}", f"{imported[1]:.2f}", "-"],
        ["tonight, empty cache", f"{cold[0]:.1f}", f"{cold[1]:.2f}", f"{cold[0] / warm_s:.1f}"],
        ["tonight, tables kept", f"{warm_s:.1f}", f"{warm_gib:.2f}", "1"],
        [f"imaged pair by pair ({IMAGED} scaled)", f"{direct_s:.0f}", "-",
         f"{direct_s / warm_s:.0f}"],
    ]  # fmt: skip
    print_table(
        f"A summary of {LINES} lines imported, {count} pairs in all "
        f"(aims for tonight: under {AIM_S:g} s and {AIM_GIB:g} GiB)",
        rows,
        ["way", "s", "peak GiB", "ratio"],
    )


if __name__ == "__main__":
    main()
