"""Time of the worst seeing of many pairs against imaging each pair directly.

Run with ``python tests/bench/doubles.py``. It measures and does not judge. The direct way is the
oracle of ``tests/verdict``: the picture of each pair in each view, seeing found by halving.
"""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
from measuring import median_seconds, print_table, seconds

from planner.verdict.pairs.lookup import SplitConditions, StudyPairs, limiting_seeing
from planner.verdict.pairs.tables import build_split_tables

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "verdict"))
import test_split_oracle as oracle  # noqa: E402 - found only now
from split_telescope import POWERS, telescope  # noqa: E402

PAIRS = 160_000
SAMPLE = 2_000  # pairs looked up one by one; the rest is scaled
IMAGED = 10  # pairs imaged directly, in every view


def imaged(separation_arcsec: float, difference_mag: float) -> None:
    """The worst seeing of one pair for each class in every view, from its picture."""
    ratio = 10.0 ** (-0.4 * difference_mag)
    for power in POWERS:
        pair = oracle.Direct(separation_arcsec / oracle.UNIT, ratio, 1.0, power)
        for dip, contrast in oracle.CLASSES.values():
            pair.worst(dip, contrast)


def main() -> None:
    """Print the table."""
    rng = np.random.default_rng(1)
    separation = 10.0 ** rng.uniform(-0.3, 1.6, PAIRS)  # 0.5 to 40 arcsec
    v1 = rng.uniform(2.0, 9.0, PAIRS)
    difference = rng.uniform(0.0, 6.0, PAIRS)
    pairs = StudyPairs(separation, v1, v1 + difference)
    sky = SplitConditions(rng.uniform(1.0, 3.0, PAIRS), 0.2, np.full(len(POWERS), 13.5))
    six_inch = telescope()
    exit_pupils = [six_inch.clear_aperture_mm / power for power in POWERS]
    build = median_seconds(lambda: build_split_tables(six_inch, POWERS, exit_pupils))
    tables = build_split_tables(six_inch, POWERS, exit_pupils)
    whole = median_seconds(lambda: limiting_seeing(tables, pairs, sky))

    def one_by_one() -> None:
        for row in range(SAMPLE):
            one = slice(row, row + 1)
            limiting_seeing(
                tables,
                StudyPairs(pairs.separation_arcsec[one], pairs.v1[one], pairs.v2[one]),
                SplitConditions(sky.airmass[one], sky.extinction_mag, sky.limiting_mag),
            )

    def directly() -> None:
        for row in range(IMAGED):
            imaged(separation[row], difference[row])

    directly()  # its table of waves is made once
    direct = seconds(directly) * PAIRS / IMAGED
    loop = seconds(one_by_one) * PAIRS / SAMPLE
    print_table(
        f"Worst seeing of {PAIRS} pairs, {len(POWERS)} views, every class "
        "(aims: tables under 2 s, pairs under 1 s)",
        [
            ["tables, built once", f"{build:.2f}", "-"],
            ["all pairs at once", f"{whole:.2f}", "1"],
            [f"looked up pair by pair ({SAMPLE} scaled)", f"{loop:.0f}", f"{loop / whole:.0f}"],
            [f"imaged pair by pair ({IMAGED} scaled)", f"{direct:.0f}", f"{direct / whole:.0f}"],
        ],
        ["way", "s", "ratio"],
    )


if __name__ == "__main__":
    main()
