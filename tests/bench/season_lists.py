"""How many of the first 25 targets are the season's showpieces, for all 150 sets.

Run with ``python tests/bench/season_lists.py``: five evenings, five latitudes, three apertures,
without and with the Moon; about four minutes. Prints each count, and those under 18 by name.
"""

from __future__ import annotations

import sys
from pathlib import Path

TESTS = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(TESTS), str(TESTS / "night")]

from season_lists import EXPECTED_OF_FIRST, expected_on, first_of  # noqa: E402
from showpieces import EVENINGS, LATITUDES_DEG  # noqa: E402

APERTURES_MM = (100.0, 150.0, 300.0)


def main() -> None:
    """Print a line for each evening, aperture and Moon: one count for each latitude."""
    short = []
    print("evening   mm  Moon  " + "  ".join(LATITUDES_DEG))
    for evening in EVENINGS:
        for aperture_mm in APERTURES_MM:
            for moonlit in (False, True):
                counts = []
                for latitude in LATITUDES_DEG:
                    found = first_of(evening, latitude, aperture_mm, moonlit)
                    others = [name for name in found if name not in expected_on(evening, latitude)]
                    counts.append(len(found) - len(others))
                    if counts[-1] < EXPECTED_OF_FIRST:
                        short.append((evening, latitude, aperture_mm, moonlit, others))
                told = "  ".join(f"{count:3d}" for count in counts)
                print(f"{evening:8} {aperture_mm:3.0f}  {'yes' if moonlit else 'no':4}  {told}")
    print(f"{150 - len(short)} of 150 sets have {EXPECTED_OF_FIRST} or more of the first 25")
    for row in short:
        print(*row)


if __name__ == "__main__":
    main()
