"""Hops to 300 targets of one night.

Run with ``python tests/bench/hops.py``. Aim on two cores: 300 hops under 0.5 s after the stars
are read.
"""

from __future__ import annotations

import sys
from pathlib import Path

TESTS = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(TESTS)]

from measuring import seconds  # noqa: E402
from sample_nights import request  # noqa: E402

from planner.night.conditions import night_conditions  # noqa: E402
from planner.night.evening.leading import target_hops  # noqa: E402
from planner.night.planning import make_plan  # noqa: E402
from planner.optics.eyepiece import Finder  # noqa: E402

TARGETS = 300
FINDERS = (Finder("8x50 finder", 8.0, 6.0, "inverted", 50.0),)


def main() -> None:
    """Print the seconds for all, and how many have a way and how many legs."""
    asked = request(date="2026-12-08", limit=TARGETS, finders=FINDERS)
    targets = [t for t in make_plan(asked).targets if t.best_time is not None]
    conditions = night_conditions(asked)
    places = {instant: number for number, instant in enumerate(conditions.instants)}

    def all_hops() -> list[int]:
        moments = [places[target.best_time] for target in targets]
        return [len(hop.legs) for hop in target_hops(conditions, targets, moments)]

    legs = all_hops()
    print(f"{len(targets)} hops: {seconds(all_hops):.2f} s")
    print("legs: " + ", ".join(f"{n} in {legs.count(n)}" for n in sorted(set(legs))))


if __name__ == "__main__":
    main()
