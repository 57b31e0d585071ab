"""A year of nights for one target and for many.

Run with ``python tests/bench/nights.py``. Aims on two cores: a year for one target under 1 s, for
500 under 10 s, both after imports.
"""

from __future__ import annotations

import sys
from pathlib import Path

TESTS = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(TESTS)]

from measuring import seconds  # noqa: E402
from sample_nights import request  # noqa: E402

from planner.night.nights import rank_nights  # noqa: E402
from planner.targets.standing import finest_ids  # noqa: E402

NIGHTS = 365


def main() -> None:
    """Print seconds for a galaxy, a double, a planet, and everything in two best-of lists."""
    for name in ("NGC 5194", "hip72105-AB", "Saturn", "Moon"):
        asked = request(date="2026-11-26", only=frozenset({name}), limit=None)
        rank_nights(asked, 3)
        print(f"{name:12} {seconds(lambda asked=asked: rank_nights(asked, NIGHTS)):6.2f} s")
    many = frozenset(finest_ids(2))
    asked = request(date="2026-11-26", only=many, limit=None)
    print(f"{len(many)} targets  {seconds(lambda: rank_nights(asked, NIGHTS)):6.2f} s")


if __name__ == "__main__":
    main()
