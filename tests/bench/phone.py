"""The phone page of twenty targets with their charts.

Run with ``python tests/bench/phone.py``. Aim on two cores: under 4 s of processor time after the
night is judged, and under 700 MiB.
"""

from __future__ import annotations

import resource
import sys
import time
from pathlib import Path

TESTS = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(TESTS)]

from sample_nights import request  # noqa: E402

from planner.night.evening.outing import listed_outing  # noqa: E402
from planner.optics.eyepiece import Finder  # noqa: E402
from planner.sheets.phone.record import phone_page  # noqa: E402
from planner.sheets.phone.writing import page_html  # noqa: E402

TARGETS = 20
FINDERS = (Finder("8x50 finder", 8.0, 6.0, "inverted", 50.0),)


def main() -> None:
    """Print the seconds for the night, its circles and the file, the size and the memory."""
    begun = time.process_time()
    outing = listed_outing(request(date="2026-12-08", limit=TARGETS, finders=FINDERS))
    judged = time.process_time()
    page = phone_page(outing)
    drawn = time.process_time()
    html = page_html(page)
    circles = sum(len(target.views) for target in page.targets)
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"the night: {judged - begun:.2f} s; {circles} circles: {drawn - judged:.2f} s")
    print(f"the file: {time.process_time() - drawn:.2f} s, {len(html) / 1024:.0f} KiB")
    print(f"memory at most: {memory:.0f} MiB")


if __name__ == "__main__":
    main()
